"""A solved question before a new one: when it comes, what it may tell, and that it is no answer."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from coach.session.examples.solved import Examples, keep_shown
from coach.session.feed import Feed, SoFar
from coach.session.own_skills import OwnSkills, daily
from coach.session.session import Session
from coach.session.stopwatch import LEFT_AFTER_S
from coach.session.today_plan import keep_offers, today, work_out_offers
from drills.kinds import all_kinds, draw
from drills.questions.protocol import Answers, Ask, Choice, Question, Reveal
from drills.questions.worked import Worked
from scores.progress.answers import read_history
from scores.record.queries import EXAMPLE, FEWEST_GAPS, reading_seconds
from scores.record.record import Record
from scores.skill.memory import SkillState
from scores.today.day_plan import Aims, Item
from scores.today.examples import (
    HELD,
    KNOWN,
    LONG_BREAK_DAYS,
    SHARE,
    SHOWN,
    days_shown,
    example_seconds,
    with_examples,
)
from tests.answers import answer
from tests.eyes import eye_of
from tests.fake_kinds import PALETTE, FakeKind
from tests.palettes import palette_of

NOW = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
READS = 6.0


@dataclass(frozen=True)
class Sum(FakeKind):
    """One whose key is among its choices."""

    def make(self, palette: Any, region: str, step: float, rng: Any) -> Question:
        made = super().make(palette, region, step, rng)
        return replace(made, facts={**made.facts, "key": str(made.facts["a"])})

    def ask(self, question: Question, answers: Answers) -> Ask | None:
        offered = (str(question.facts["a"]), "none of them")
        return None if answers else Ask("the first?", tuple(Choice(one, one) for one in offered))


def item(kind: str, region: str = "red", part: Any = "mixed") -> Item:
    return Item(f"{kind}:{region}", kind, region, "", "new", 20.0, part=part)


def state(skill: str, tries: int = 1, right: int = 1, ago: float = 1) -> SkillState:
    return SkillState(skill, tries=tries, right=right, last_tried=NOW - timedelta(days=ago))


def marked(
    plan: list[Item], *skills: SkillState, shown: dict[str, date] | None = None, minutes: float = 10
) -> list[int]:
    """The places in the plan before which an example comes."""
    told = {one.skill: one for one in skills}
    made = with_examples(plan, told, shown or {}, NOW, minutes, READS)
    for before, after in zip(plan, made, strict=True):
        assert after.seconds == before.seconds + after.example_s
        assert after.example_s in (0.0, example_seconds(READS))
    return [at for at, one in enumerate(made) if one.example_s]


def test_a_drill_never_answered_begins_with_one_and_has_no_second() -> None:
    plan = [item("hue"), item("value", "blue"), item("hue", "blue")]
    assert marked(plan) == [0, 1]
    assert marked(plan, state("hue:green", KNOWN, KNOWN)) == [1]


def test_a_focus_on_families_never_set_side_by_side_begins_with_one() -> None:
    run = [item("value", region, "focus") for region in ("blue", "violet", "blue", "green")]
    met = state("value:blue", 3, 2)
    assert marked(run, met) == [0]
    assert marked(run, met, state("value:violet")) == []
    # Outside a focus a family never met brings none: the drill is known.
    assert marked([replace(one, part="mixed") for one in run], met) == []


def test_it_ends_with_right_answers_and_not_with_answers_or_days() -> None:
    run = [item("value", region, "focus") for region in ("blue", "violet")]
    assert marked(run, state("value:blue", 99, HELD - 1, ago=LONG_BREAK_DAYS - 1)) == [0]
    assert marked(run, state("value:blue", HELD, HELD)) == []
    assert marked(run, state("value:red", HELD, HELD - 1), state("value:blue", 1, 1)) == []


def test_after_a_long_break_it_comes_once_more() -> None:
    long_ago = state("value:red", 99, 90, ago=LONG_BREAK_DAYS)
    assert marked([item("value")], long_ago) == [0]
    assert marked([item("value")], replace(long_ago, last_tried=NOW - timedelta(days=55))) == []
    since = {"value": NOW.date() - timedelta(days=3)}
    assert marked([item("value")], long_ago, shown=since) == []
    assert marked([item("value")], long_ago, shown={"value": date(2025, 1, 1)}) == [0]


def test_none_is_shown_twice_on_a_day() -> None:
    plan = [item("hue"), item("value")]
    assert marked(plan, shown={"hue": NOW.date()}) == [1]
    assert marked(plan, shown={"hue": NOW.date() - timedelta(days=1)}) == [0, 1]


def test_they_take_a_share_of_the_time_and_one_comes_at_least() -> None:
    plan = [item(f"kind-{at}") for at in range(20)]
    assert marked(plan, minutes=2) == [0]
    assert len(marked(plan, minutes=10)) == SHARE * 600 // 21


def test_the_last_moments_are_for_a_question_alone() -> None:
    both = (example_seconds(READS) + 20.0) / 60.0
    assert marked([item("kind")], minutes=both + 0.01) == [0]
    assert marked([item("kind")], minutes=both - 0.01) == []


def test_where_not_all_have_room_the_crafts_own_come_first_and_the_rest_another_day() -> None:
    plan = [item("surround"), item("cast"), item("order-of-layers"), item("nearest-start")]
    assert marked(plan, minutes=5) == [2, 3]
    shown = {plan[at].kind: NOW.date() - timedelta(days=1) for at in (2, 3)}
    answered = [state(f"{one.kind}:blue", 1, 1) for one in plan]
    assert marked(plan, *answered, shown=shown, minutes=5) == [0, 1]
    assert marked(plan, *[state(f"{one.kind}:blue", 2, KNOWN) for one in plan], minutes=5) == []


@pytest.mark.parametrize("kept", [None, 7, ["hue"], {"hue": "yesterday"}, {"hue": None}])
def test_days_that_are_not_sound_are_none(kept: Any) -> None:
    assert days_shown(kept) == {}


# In a session


class Hands:
    def __init__(self) -> None:
        self.now = 1000.0

    def clock(self) -> datetime:
        return NOW + timedelta(seconds=self.now - 1000.0)

    def session(self, record: Record, made: dict[str, Any], feed: Feed | None = None) -> Session:
        feed = feed or daily(record, PALETTE, made, minutes=10)
        eye = eye_of(record, made)
        return Session(record, made, feed, self.clock, lambda: self.now, 5, eye)


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return Record.open(tmp_path / "record.db")


def test_looking_at_it_is_no_answer_and_takes_none_of_an_answers_time(record: Record) -> None:
    hands, made = Hands(), {"sum": Sum("sum")}
    session = hands.session(record, made)
    before = session.eye.followed
    question = session.next()
    assert question is not None
    assert session.solved is not None
    hands.now += 30
    session.example_over()
    assert session.solved is None
    assert record.count() == 0
    assert record.skills() == {}
    assert session.eye.followed is before
    assert session.elapsed == 30
    assert session.next() is question
    hands.now += 4
    attempt = session.answered(question, (("none of them",),)).attempt
    assert attempt.response_s == 4
    assert attempt.facts[EXAMPLE] == 30  # type: ignore[index,call-overload]
    assert attempt.chance == made["sum"].chance
    assert len(read_history(record).practice) == 1
    for _ in range(12):
        question = session.next()
        assert question is not None
        assert session.solved is None
        session.answered(question, (("none of them",),))
        assert session._last is not None
        assert EXAMPLE not in session._last[1].attempt.facts


def test_one_left_open_takes_four_minutes_of_the_session_at_most(record: Record) -> None:
    hands = Hands()
    session = hands.session(record, {"sum": Sum("sum")})
    question = session.next()
    hands.now += 5000
    session.example_over()
    assert session.elapsed == LEFT_AFTER_S == 240
    hands.now += 4
    assert question is not None
    attempt = session.answered(question, (("none of them",),)).attempt
    assert (attempt.response_s, session.elapsed) == (4, LEFT_AFTER_S + 4)


def test_the_next_session_of_the_day_has_none_though_nothing_was_answered(record: Record) -> None:
    hands, made = Hands(), {"sum": Sum("sum")}
    session = hands.session(record, made)
    session.next()
    session.example_over()
    again = hands.session(record, made)
    again.next()
    assert again.solved is None
    hands.now += 24 * 3600
    tomorrow = hands.session(record, made)
    tomorrow.next()
    assert tomorrow.solved is not None


def test_one_for_which_no_time_is_left_is_not_shown(record: Record) -> None:
    hands, made = Hands(), {"sum": Sum("sum")}
    plan = with_examples([item("sum")], {}, {}, NOW, 10, READS)
    feed = replace(daily(record, PALETTE, made, minutes=10), plan=plan)
    for early, comes in ((600 - plan[0].seconds, True), (601 - plan[0].seconds, False)):
        session = hands.session(record, made, feed)
        hands.now += early
        assert session.next() is not None
        assert (session.solved is not None) is comes


def test_a_session_with_examples_keeps_its_minutes(record: Record) -> None:
    hands = Hands()
    made = {name: Sum(name) for name in ("hue", "value", "mute", "order")}
    keep_offers(record, "f" * 64, work_out_offers(PALETTE, made))
    for minutes in (2, 5, 10, 20):
        day = today(record, "f" * 64, hands.clock(), 5, minutes=minutes)
        assert day is not None
        assert any(one.example_s for one in day.plan)
        planned = sum(one.seconds for one in day.plan)
        assert planned <= 60 * minutes + max(6.0, 0.1 * 60 * minutes)
        feed = daily(record, PALETTE, made, minutes=minutes, plan=day.plan)
        session = hands.session(record, made, feed)
        looked = 0
        while (question := session.next()) is not None:
            if session.solved is not None:
                hands.now += example_seconds(READS)
                session.example_over()
                looked += 1
            hands.now += 12
            session.answered(question, (("none of them",),))
            hands.now += READS
        assert looked
        assert abs(session.elapsed / 60 - minutes) <= 0.1 * minutes
        record.set_setting(SHOWN, {})
        hands.now += 70 * 24 * 3600


def test_what_follows_a_match_gone_wrong_has_no_example(record: Record) -> None:
    hands, made = Hands(), {"sum": Sum("sum")}
    feed = daily(record, PALETTE, made, minutes=10)
    wrong = replace(item("sum", part="match"), example_s=21.0, seconds=41.0)
    again = feed.after(wrong, False)
    assert [(one.example_s, one.seconds) for one in again] == [(0.0, 20.0)] * 2
    assert hands.session(record, made).next() is not None


def test_reading_an_example_is_not_reading_a_reveal(record: Record) -> None:
    # Three in four come after an example of 40 seconds.
    late = 0
    for number in range(1, 4 * FEWEST_GAPS + 5):
        late += 40 if number % 4 else 0
        at = NOW + timedelta(seconds=number * 30 + late)
        facts = {EXAMPLE: 40.0} if number % 4 else {}
        record.save(answer(number, facts=facts, at_utc=at, response_s=20.0))
    assert reading_seconds(record) == 10.0


# What is made of it ahead


@dataclass(frozen=True)
class Made(Sum):
    """One that notes what is worked out of it."""

    revealed: list[str] = field(default_factory=list, compare=False)

    def reveal(self, question: Question, answers: Answers) -> Reveal:
        self.revealed.append(question.region)
        return super().reveal(question, answers)


@pytest.mark.parametrize("after_the_plan", [False, True], ids=["planned", "in a new plan"])
def test_the_example_to_come_is_ready_before_its_key(record: Record, after_the_plan: bool) -> None:
    hands, made = Hands(), {"sum": Made("sum"), "new": Made("new")}
    feed = daily(record, PALETTE, made, minutes=10)
    comes = with_examples([item("new")], {}, {}, NOW, 10, READS)
    new_plan: dict[str, Any] = {"more": lambda _: comes} if after_the_plan else {}
    plan = (item("sum"), *(() if after_the_plan else comes))
    session = hands.session(record, made, replace(feed, plan=plan, **new_plan))
    question = session.next()
    assert question is not None
    session.answered(question, (("none of them",),))
    steps = 0
    while session.look_ahead(()):
        steps += 1
        assert len(made["new"].asked) + len(made["new"].revealed) <= steps
    assert (len(made["new"].asked), len(made["new"].revealed)) == (1, 1)
    assert session.next() is not None
    assert session.solved is not None
    # The question itself is all that was made at the key.
    assert (len(made["new"].asked), len(made["new"].revealed)) == (2, 1)


def test_an_example_made_ahead_is_the_one_that_would_have_come(tmp_path: Path) -> None:
    shown = []
    for ahead in (True, False):
        record, hands = Record.open(tmp_path / f"{ahead}.db"), Hands()
        made = {name: Sum(name) for name in ("hue", "value", "mute", "order")}
        plan = with_examples([item(name) for name in made], {}, {}, NOW, 10, READS)
        feed = replace(daily(record, PALETTE, made, minutes=10), plan=plan)
        session = hands.session(record, made, feed)
        for _ in made:
            question = session.next()
            assert question is not None
            shown.append((ahead, question, session.solved))
            session.example_over()
            session.answered(question, (("none of them",),))
            while ahead and session.look_ahead(()):
                pass
    assert [one[1:] for one in shown if one[0]] == [one[1:] for one in shown if not one[0]]
    assert any(one[2] for one in shown)


# What it shows


def example_before(one: Item, kind: Any, palette: Any, asked: Question, seed: int) -> Worked | None:
    offers = work_out_offers(palette, {kind.name: kind})
    source = OwnSkills(palette, offers, {}, Aims(), READS)
    so_far = SoFar(seed, 1, NOW, 600.0, {}, lambda *_: 1.0)
    return Examples().before(kind, source, one, asked, so_far)


def test_where_the_hue_is_the_answer_it_tells_nothing_of_the_question() -> None:
    """Its family is as often the question's as chance has it, whatever that is."""
    kind, palette = all_kinds()["hue-and-lean"], palette_of("demo")
    question = draw(kind, palette, "yellow", 0.3, 1)
    seen = []
    for seed in range(30):
        made = example_before(item("hue-and-lean", "yellow"), kind, palette, question, seed)
        assert made is not None
        seen.append(made.question.region)
    assert seen.count("yellow") <= 8
    assert len(set(seen)) >= 7


def test_where_it_is_not_the_families_are_those_asked() -> None:
    kind, palette = all_kinds()["lighter-or-darker"], palette_of("demo")
    question = draw(kind, palette, "blue", 10.0, 1)
    for seed in range(5):
        made = example_before(item(kind.name, "blue"), kind, palette, question, seed)
        assert made is not None
        assert made.question.region == "blue"


def test_it_is_never_the_very_question_that_follows() -> None:
    """A drill with few questions: the one to come is passed over."""
    kind, palette = all_kinds()["handling"], palette_of("demo")
    regions = kind.regions(palette)
    one = item("handling", regions[0])
    asked = draw(kind, palette, regions[0], 0.5, 3)
    for seed in range(12):
        first = example_before(one, kind, palette, asked, seed)
        assert first is not None
        other = example_before(one, kind, palette, first.question, seed)
        assert other is None or other.question.facts != first.question.facts


def test_what_was_shown_is_kept_by_day(record: Record) -> None:
    keep_shown(record, "hue", NOW.date())
    keep_shown(record, "value", NOW.date())
    keep_shown(record, "hue", NOW.date() + timedelta(days=1))
    assert days_shown(record.setting(SHOWN)) == {
        "hue": NOW.date() + timedelta(days=1),
        "value": NOW.date(),
    }
