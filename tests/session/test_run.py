"""A session: asks by the plan, keeps each answer before the next, and ends in time."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.session.own_skills import daily
from coach.session.session import Session
from coach.session.stopwatch import LEFT_AFTER_S
from coach.session.today_plan import keep_offers, kept_offers, today, work_out_offers
from drills.questions.protocol import Question
from scores.record.record import NotSavedError, Record
from scores.today.day_plan import Item
from tests.eyes import eye_of
from tests.fake_kinds import FAMILIES, PALETTE, kinds, truth

START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


class Hands:
    """A learner with a clock: answers after some seconds, right or wrong as told."""

    def __init__(self, seconds: float = 8.0, reads: float = 4.0) -> None:
        self.now = 1000.0
        self.seconds, self.reads = seconds, reads

    def timer(self) -> float:
        return self.now

    def clock(self) -> datetime:
        return START + timedelta(seconds=self.now - 1000.0)

    def begin(self, record: Record, made: dict[str, Any], **changes: Any) -> Session:
        seed = changes.pop("seed", 5)
        feed = daily(record, PALETTE, made, **changes)
        eye = eye_of(record, made)
        return Session(record, made, feed, self.clock, self.timer, seed, eye)

    def answer(self, session: Session, question: Question, right: bool = True) -> Any:
        self.now += self.seconds
        done = session.answered(question, ((truth(question) if right else "no",),))
        self.now += self.reads
        return done

    def run(self, session: Session, most: int = 500, right: bool = True) -> list[Question]:
        asked = []
        while len(asked) < most and (question := session.next()) is not None:
            asked.append(question)
            self.answer(session, question, right)
        return asked


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return Record.open(tmp_path / "record.db")


def names(questions: list[Question]) -> list[tuple[str, str, int, float]]:
    return [(q.kind, q.region, q.seed, q.step) for q in questions]


def test_ten_minutes_are_filled_and_not_overrun(record: Record) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value"))
    asked = hands.run(session)
    assert session.next() is None
    assert 600 - 18 <= session.elapsed <= 600 + 12
    assert record.count() == len(asked) == session.summary().asked
    three = zip(asked, asked[1:], asked[2:], strict=False)
    assert all(len({q.kind for q in run}) > 1 for run in three)


def test_each_answer_is_on_the_disk_before_the_next_question(record: Record) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value"))
    for count in range(1, 6):
        question = session.next()
        assert question is not None
        done = hands.answer(session, question)
        assert done.saved
        assert done.trouble == ""
        assert Record.open(record.path).count() == count
        (kept,) = record.attempts(newest_first=True, limit=1)
        assert (kept.kind, kept.region, kept.seed) == (
            question.kind,
            question.region,
            question.seed,
        )
        assert kept.facts == dict(question.facts)
        assert kept.response_s == 8.0


def test_the_same_seed_record_and_clock_ask_the_same(tmp_path: Path) -> None:
    runs = []
    for turn in range(2):
        hands = Hands()
        session = hands.begin(Record.open(tmp_path / f"{turn}.db"), kinds("hue", "value", "layers"))
        runs.append(names(hands.run(session, most=25, right=bool(turn < 5))))
    assert runs[0] == runs[1]
    other = Hands().begin(Record.open(tmp_path / "2.db"), kinds("hue", "value", "layers"), seed=6)
    assert names(Hands().run(other, most=25)) != runs[0]


def test_a_kept_attempt_can_be_asked_again_from_its_seed(record: Record) -> None:
    from drills.kinds import draw

    made = kinds("hue", "value")
    hands = Hands()
    asked = hands.run(hands.begin(record, made), most=10)
    for question, kept in zip(asked, record.attempts(), strict=True):
        assert draw(made[kept.kind], PALETTE, kept.region, kept.step, kept.seed) == question


def test_the_present_question_stays_until_it_is_answered(record: Record) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value"))
    question = session.next()
    assert session.next() is question
    assert question is not None
    first = hands.answer(session, question)
    # A key pressed twice.
    assert session.answered(question, (("no",),)) is first
    assert record.count() == 1
    following = session.next()
    assert following is not question
    with pytest.raises(ValueError, match="not the question"):
        session.answered(Question("hue", 1, "red", 1, 1.0, None, {}, None), (("x",),))


def test_a_pause_counts_neither_for_the_session_nor_for_the_answer(record: Record) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value"))
    question = session.next()
    assert question is not None
    hands.now += 3.0
    session.pause()
    session.pause()
    assert session.paused
    hands.now += 5000.0
    assert session.elapsed == 3.0
    session.resume()
    hands.now += 2.0
    done = session.answered(question, ((truth(question),),))
    assert done.attempt.response_s == 5.0
    assert session.elapsed == 5.0
    assert session.remaining == 595.0


def test_who_leaves_the_table_with_a_question_open_finds_the_session_there_again(
    record: Record,
) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value"))
    question = session.next()
    assert question is not None
    hands.now += 5000.0
    done = session.answered(question, ((truth(question),),))
    assert done.attempt.response_s == 5000.0
    assert session.elapsed == LEFT_AFTER_S
    assert session.next() is not None


def test_a_reveal_left_open_uses_the_session_up_no_more_than_a_question(record: Record) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value"))
    question = session.next()
    assert question is not None
    hands.answer(session, question)
    hands.now += 5000.0
    assert session.next() is not None
    assert session.elapsed == hands.seconds + LEFT_AFTER_S


def test_regions_that_cannot_be_asked_are_passed_over(record: Record) -> None:
    made = kinds("hue", "value", refuses=frozenset(FAMILIES[:4]))
    hands = Hands()
    asked = hands.run(hands.begin(record, made))
    assert {q.region for q in asked} == set(FAMILIES[4:])
    assert len(asked) > 40
    # Each refusal is found out once, not at every turn.
    tried = Counter(made["hue"].asked)
    assert all(tried[region] == 4 for region in FAMILIES[:4])
    three = zip(asked, asked[1:], asked[2:], strict=False)
    assert all(len({q.kind for q in run}) > 1 for run in three)


def test_a_plan_that_loses_items_still_asks_no_kind_three_times_running(record: Record) -> None:
    made = {**kinds("hue"), **kinds("value", refuses=frozenset({"yellow", "orange"}))}
    order = ("hue:red", "value:yellow", "hue:blue", "value:orange", "hue:green", "value:blue")
    plan = [
        Item(skill, *skill.split(":"), "", "new", 12.0)  # type: ignore[arg-type]
        for skill in order
    ]
    hands = Hands()
    asked = hands.run(hands.begin(record, made, plan=plan), most=4)
    assert [f"{q.kind}:{q.region}" for q in asked] == [
        "hue:red",
        "hue:blue",
        "value:blue",
        "hue:green",
    ]


def test_when_nothing_can_be_asked_it_ends_at_once(record: Record) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value", refuses=frozenset(FAMILIES)))
    assert session.next() is None
    assert session.summary().asked == 0
    assert hands.begin(record, {}).next() is None
    assert not record.path.exists()


def test_when_one_kind_alone_can_be_asked_it_is(record: Record) -> None:
    made = {**kinds("hue"), **kinds("value", refuses=frozenset(FAMILIES))}
    hands = Hands()
    asked = hands.run(hands.begin(record, made))
    assert {q.kind for q in asked} == {"hue"}
    assert len(asked) >= 48


def test_without_24_bit_colour_only_what_needs_none_is_asked(record: Record) -> None:
    made = {**kinds("hue", "value"), **kinds("handling", needs_colour=False)}
    hands = Hands()
    asked = hands.run(hands.begin(record, made, colour=False), most=9)
    assert {q.kind for q in asked} == {"handling"}


def test_kinds_and_families_switched_off_stay_off(record: Record) -> None:
    record.set_setting("kinds_off", ["value"])
    record.set_setting("families_off", ["red", "blue"])
    asked = Hands().run(Hands().begin(record, kinds("hue", "value")), most=12)
    assert {q.kind for q in asked} == {"hue"}
    assert not {q.region for q in asked} & {"red", "blue"}


def test_difficulty_follows_the_learner(record: Record) -> None:
    made = kinds("hue", places=("red",))
    hands = Hands()
    good = hands.run(hands.begin(record, made), most=12)
    steps = [q.step for q in good]
    assert steps == sorted(steps, reverse=True)
    assert steps[-1] < steps[0] / 2
    bad = hands.run(hands.begin(record, made, seed=9), most=6, right=False)
    assert bad[0].step < steps[-1]
    assert bad[-1].step > bad[0].step


def test_a_full_disk_keeps_the_answer_here_and_a_later_try_saves_it(record: Record) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value"))
    hands.run(session, most=3)
    assert record._db is not None
    (pages,) = record._db.execute("PRAGMA page_count").fetchone()
    record._db.execute("PRAGMA journal_mode = DELETE")
    record._db.execute(f"PRAGMA max_page_count = {pages}")
    done = []
    while not done or done[-1].saved:  # the last page has room for a few
        question = session.next()
        assert question is not None
        done.append(hands.answer(session, question))
    assert done[-1].trouble == "the disk is full"
    assert done[-1].state.tries >= 1
    kept = record.count()
    question = session.next()
    assert question is not None
    assert not hands.answer(session, question).saved
    assert len(session.unsaved) == session.summary().unsaved == 2
    assert session.retry_save() == "the disk is full"
    record._db.execute("PRAGMA max_page_count = 100000")
    question = session.next()
    assert question is not None
    assert hands.answer(session, question).saved  # and those that waited, before it
    assert session.unsaved.attempts == []
    assert record.count() == kept + 3
    assert [a.number for a in record.attempts()] == list(range(1, kept + 4))
    assert record.replay() == record.skills()


def test_a_clock_set_back_to_the_same_moment_loses_no_answer(record: Record) -> None:
    made = kinds("hue", "value")
    first, again = Hands(), Hands()
    first.run(first.begin(record, made), most=5)
    second = again.begin(record, made)
    again.run(second, most=5)
    assert record.count() == 10
    assert len({a.session for a in record.attempts()}) == 2


def test_the_end_says_what_was_practised_and_what_comes_back_when(record: Record) -> None:
    made = kinds("hue", "value", places=("red", "blue"))
    hands = Hands()
    first = hands.begin(record, made)
    hands.run(first, most=4)
    summary = first.summary()
    assert (summary.asked, summary.right, summary.unsaved) == (4, 4, 0)
    assert all(line.returns_words.startswith("in ") for line in summary.skills)
    hands.now += 3 * 86400
    second = hands.begin(record, made, seed=8)
    question = second.next()
    assert question is not None
    hands.answer(second, question)
    second.next()  # shown, not answered: not counted
    (line,) = second.summary().skills
    assert line.words == f"{question.kind.title()}: {question.region}"
    assert (line.tries, line.right) == (1, 1)


@settings(max_examples=20, deadline=None)
@given(
    st.lists(st.tuples(st.booleans(), st.floats(0.2, 200), st.floats(-1e6, 1e6)), max_size=25),
    st.integers(0, 2**64),
)
def test_whatever_the_clock_does_every_answer_counts_once(
    tmp_path_factory: pytest.TempPathFactory,
    answers: list[tuple[bool, float, float]],
    seed: int,
) -> None:
    record = Record.open(tmp_path_factory.mktemp("r") / "record.db")
    hands, wander = Hands(reads=0.0), [0.0]
    made = kinds("hue", "value")
    session = Session(
        record,
        made,
        daily(record, PALETTE, made, minutes=60),
        lambda: START + timedelta(seconds=wander[0]),
        hands.timer,
        seed,
        eye_of(record, made),
    )
    count = 0
    for right, seconds, jump in answers:
        question = session.next()
        if question is None:
            break
        hands.seconds = seconds
        wander[0] += jump
        assert hands.answer(session, question, right).saved
        count += 1
    assert record.count() == count
    assert sum(state.tries for state in record.skills().values()) == count
    assert record.replay() == record.skills()
    record.close()


def test_the_first_screen_plans_from_what_is_kept_and_the_session_follows_it(
    record: Record,
) -> None:
    made = kinds("hue", "value")
    hands = Hands()
    fingerprint = PALETTE.set.fingerprint
    assert today(record, fingerprint, hands.clock(), 5) is None
    keep_offers(record, fingerprint, work_out_offers(PALETTE, made))
    assert today(record, "another tin", hands.clock(), 5) is None
    shown = today(record, fingerprint, hands.clock(), 5)
    assert shown is not None
    assert (shown.due, shown.met, shown.minutes) == (0, 0, 10)
    asked = hands.run(hands.begin(record, made), most=10)
    assert [(i.kind, i.region) for i in shown.plan[:10]] == [(q.kind, q.region) for q in asked]
    later = today(record, fingerprint, hands.clock() + timedelta(days=3), 5)
    assert later is not None
    assert later.due == later.met == 10


def test_offers_are_worked_out_again_when_a_drill_changes(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    fingerprint = PALETTE.set.fingerprint
    keep_offers(record, fingerprint, work_out_offers(PALETTE, kinds("hue")))
    assert kept_offers(record.settings(), fingerprint) is not None
    monkeypatch.setattr("coach.session.today_plan.kinds_stamp", lambda: "changed")
    assert kept_offers(record.settings(), fingerprint) is None


def test_a_fault_in_a_kind_is_not_tried_again_for_ever(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands = Hands()
    session = hands.begin(record, kinds("hue", "value"))
    question = session.next()
    assert question is not None
    with monkeypatch.context() as patch:
        patch.setattr(Record, "save", lambda *_: (_ for _ in ()).throw(TypeError("not JSON")))
        with pytest.raises(TypeError, match="not JSON"):
            hands.answer(session, question)
    assert session.unsaved.attempts == []
    assert hands.answer(session, question).saved


def test_not_saved_error_names_its_reason(record: Record, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("scores.record.opening.make_file", full)
    with pytest.raises(NotSavedError, match="no space left on device"):
        record.set_setting("minutes", 5)
