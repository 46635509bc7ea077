"""A session's end, its clock and its counts, to the figure."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from coach.session.feed import Feed
from coach.session.own_skills import daily
from coach.session.question import ask_for
from coach.session.session import Session
from coach.session.stopwatch import Stopwatch
from coach.session.summary import in_order, skill_line
from coach.session.today_plan import allowed, keep_offers, plan_rng, today, work_out_offers
from scores.record.record import Record
from scores.skill.difficulty import level, step_at
from scores.skill.memory import SkillState
from scores.skill.skill_words import skill_words
from scores.today.day_plan import REVEAL_S, Item
from scores.today.offers import KindFacts
from tests.answers import START, answer
from tests.eyes import eye_of
from tests.fake_kinds import PALETTE, FakeKind, kinds, truth
from tests.session.test_run import Hands

DAY = START.date()
FACTS = KindFacts("value", 1, "Value", 10.0, "ΔL*", (100.0, 1.0), 0.5, True)


def test_lines_stand_in_the_order_in_which_skills_come_back() -> None:
    due = {"a:red": 5, "a:blue": 2, "b:blue": 2, "a:grey": None}
    lines = {
        skill: skill_line(
            FACTS,
            SkillState(skill, due=None if d is None else DAY + timedelta(days=d)),
            1,
            1,
            DAY,
        )
        for skill, d in due.items()
    }
    assert [each.words for each in in_order(lines)] == [
        skill_words(skill, {"value": "Value"}) for skill in ("a:blue", "b:blue", "a:red", "a:grey")
    ]
    assert [each.returns_words for each in in_order(lines)] == [
        "in 2 days",
        "in 2 days",
        "in 5 days",
        "",
    ]


def test_a_stopwatch_counts_from_its_start_and_no_pause() -> None:
    now = [50.0]
    watch = Stopwatch(lambda: now[0])
    now[0] = 53.0
    assert (watch.elapsed, watch.paused) == (3.0, False)
    for _ in range(2):
        watch.pause()
        now[0] += 10.0
        assert (watch.elapsed, watch.paused) == (3.0, True)
        watch.resume()
        watch.resume()
        assert not watch.paused
    now[0] += 4.0
    assert watch.elapsed == 7.0
    for seconds in (2.0, -5.0):
        watch.leave_out(seconds)
        assert watch.elapsed == 5.0
    # A timer that falls back takes nothing away.
    now[0] = 10.0
    assert watch.elapsed == 0.0


def test_the_first_screen_counts_what_is_due_weak_new_and_met(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    made = kinds("hue", "value", "layers")
    offers = work_out_offers(PALETTE, made)
    for number, region in enumerate(("red", "blue", "green")):
        record.save(answer(number, kind="hue", region=region, steps=(20.0, 1.0), chance=0.25))
    for number in range(3, 7):
        # A range that touches nought can't be measured: weak is what points say.
        poor = {"steps": (3.0, 0.0), "step": 1.0, "score": 0.1, "right": False}
        record.save(answer(number, kind="value", region="red", **poor))
    record.save(answer(9, kind="gone", region="red"))
    shown = today(record, "f" * 64, START + timedelta(days=1), 5, offers=offers, minutes=30.0)
    assert shown is not None
    due = sum(1 for s in record.skills().values() if s.due == DAY + timedelta(days=1))
    assert (shown.met, shown.minutes, shown.standings) == (4, 30.0, ())
    assert shown.due == due
    new = [item.skill for item in shown.plan if item.reason == "new"]
    assert shown.new == len(new) == len(set(new)) > 4
    assert shown.weak == sum(item.reason == "weak" for item in shown.plan) == 1


def test_settings_that_are_not_lists_of_names_switch_nothing_off() -> None:
    offers = work_out_offers(PALETTE, kinds("hue", "value"))
    for nonsense in ("hue", 5, None, [1, None], {"hue": True}):
        assert allowed(offers, {"kinds_off": nonsense}, True) == offers  # type: ignore[dict-item]
    left = allowed(offers, {"kinds_off": ["hue", 3], "skills_off": ["value:red"]}, True)
    assert set(left.pairs) == {("value", r) for r in kinds("value")["value"].places if r != "red"}


def test_each_plan_of_a_session_is_drawn_anew_and_the_same_for_its_seed() -> None:
    draws = [plan_rng(5, turn).random() for turn in (1, 2, 3)]
    assert len(set(draws)) == 3
    assert plan_rng(5).random() == draws[0] != plan_rng(6).random()


def test_a_refused_question_is_tried_twice_then_easier_then_harder() -> None:
    steps: list[float] = []

    class Watched(FakeKind):
        def make(self, palette, region, step, rng):  # type: ignore[no-untyped-def]
            steps.append(level(self.steps, step))
            return super().make(palette, region, step, rng)

    kind = Watched("hue", refuses=frozenset({"red"}))
    place = 0.4
    step = step_at(kind.steps, place)
    assert ask_for(kind, PALETTE, "red", step, "1/1") is None  # type: ignore[arg-type]
    assert steps == [pytest.approx(place + aside) for aside in (0, 0, -0.12, 0.12)]


def items(*skills: str, seconds: float = 30.0) -> list[Item]:
    return [Item(s, *s.split(":"), "", "practice", seconds) for s in skills]  # type: ignore[arg-type]


def begin(tmp_path: Path, hands: Hands, **given: object) -> Session:
    return hands.begin(Record.open(tmp_path / "r.db"), kinds("hue", "value"), **given)


def test_a_question_comes_where_at_least_half_of_it_fits(tmp_path: Path) -> None:
    # As long as any of these drills takes, its reveal read.
    takes = kinds("hue")["hue"].seconds + REVEAL_S
    last = 120.0 - takes / 2
    for seconds, comes in ((last - 1.0, True), (last, True), (last + 1.0, False)):
        hands = Hands()
        plan = items("hue:red", "value:red", "hue:blue", seconds=takes)
        session = begin(tmp_path / str(seconds), hands, minutes=2, plan=plan)
        question = session.next()
        assert question is not None
        session.answered(question, (("x",),))
        hands.now += seconds
        assert (session.next() is not None) == comes


def test_near_the_end_a_quicker_drill_comes_instead_of_a_slow_one(tmp_path: Path) -> None:
    hands = Hands()
    slow = items("hue:red", "value:red", seconds=60.0)
    session = begin(tmp_path, hands, minutes=2, plan=slow)
    question = session.next()
    assert question is not None
    session.answered(question, (("x",),))
    hands.now += 101.0
    assert session.next() is not None
    assert session.item is not None
    # Not in the plan: the one there would have ended 41 s late.
    assert session.item.seconds == kinds("hue")["hue"].seconds + REVEAL_S


def test_the_first_question_comes_however_little_time_there_is(tmp_path: Path) -> None:
    session = begin(tmp_path, Hands(), minutes=2, plan=items("hue:red", seconds=900.0))
    assert session.next() is not None


def test_a_session_that_ends_with_its_plan_asks_nothing_beyond_it(tmp_path: Path) -> None:
    hands = Hands(seconds=1.0, reads=0.0)
    plan = items("hue:red", "hue:blue", "hue:green")
    made = kinds("hue", "value")
    record = Record.open(tmp_path / "a" / "r.db")
    feed = daily(record, PALETTE, made, plan=plan)
    ending = Feed(feed.plan, feed.sources, feed.minutes)
    asked = hands.run(
        Session(record, made, ending, hands.clock, hands.timer, 5, eye_of(record, made))
    )
    assert [q.region for q in asked] == ["red", "blue", "green"]
    hands = Hands(seconds=1.0, reads=0.0)
    assert len(hands.run(begin(tmp_path / "b", hands, plan=plan), most=9)) == 9


def test_how_long_an_answer_took_is_measured_where_it_is_not_given(tmp_path: Path) -> None:
    hands = Hands()
    session = begin(tmp_path, hands, minutes=9)
    for given, kept in ((2.5, 2.5), (None, 7.0), (float("nan"), 7.0), (-3.0, 0.0)):
        question = session.next()
        assert question is not None
        hands.now += 7.0
        done = session.answered(question, ((truth(question),),), given)
        assert done.attempt.response_s == kept
        assert session.answered(question, ((truth(question),),), 99.0) is done


def test_the_count_runs_with_the_questions_and_the_end_with_the_answers(tmp_path: Path) -> None:
    hands = Hands()
    session = begin(tmp_path, hands, minutes=9, plan=items("hue:red", "value:red", "hue:blue"))
    assert (session.number, session.item) == (0, None)
    for number, right in enumerate((True, False), start=1):
        question = session.next()
        assert question is not None
        assert session.number == number
        assert session.item is not None
        assert session.item.kind == question.kind
        hands.answer(session, question, right)
        assert session.item is None
    session.next()
    summary = session.summary()
    assert (session.number, summary.asked, summary.right) == (3, 2, 1)
    assert summary.seconds == 24.0
    assert {(each.words, each.tries, each.right) for each in summary.skills} == {
        ("Hue: red", 1, 1),
        ("Value: red", 1, 0),
    }


def test_names_of_sessions_are_told_apart_where_the_clock_says_the_same(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "r.db")
    names = []
    for _ in range(3):
        hands = Hands()
        session = hands.begin(record, kinds("hue", "value"))
        names.append(session.id)
        question = session.next()
        assert question is not None
        hands.answer(session, question)
    assert names == [names[0], f"{names[0]}-2", f"{names[0]}-3"]
    assert names[0] == "20260302T090000Z-0000000000000005"


def test_offers_kept_serve_the_pencils_they_were_made_for_alone(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "r.db")
    offers = work_out_offers(PALETTE, kinds("hue"))
    keep_offers(record, "a" * 64, offers)
    assert today(record, "b" * 64, START, 1) is None
    shown = today(record, "a" * 64, START, 1)
    assert shown is not None
    assert shown.offers == offers
    grey = today(record, "a" * 64, START, 1, colour=False)
    assert grey is not None
    assert grey.plan == ()
