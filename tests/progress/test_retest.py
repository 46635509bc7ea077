"""Re-tests: the same questions each fortnight, kept out of practice, and told apart."""

from __future__ import annotations

import math
import random
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from coach.reports.progress_words import luck_words
from coach.session.question import SEED_BITS
from coach.session.retest_session import NOTED, retest
from coach.session.session import Session
from coach.session.today_plan import work_out_offers
from drills.basics.json_values import as_json
from drills.kinds import all_kinds
from drills.layering.palette import prepare
from drills.pencils.sets import pocket_set
from drills.questions.adjusting import key_of
from scores.learner.eye import EyeModel
from scores.progress.answers import read_history
from scores.progress.figures import RetestRun, progress
from scores.progress.retest import (
    EACH,
    EVERY_DAYS,
    HELD_OUT,
    RETEST,
    UNITS,
    bank_from_json,
    draw_bank,
    due_retest,
    keep_bank,
    kept_bank,
)
from scores.record.record import Record
from scores.skill.memory import SkillState
from scores.skill.skill_threshold import SkillThreshold
from scores.today.offers import KindFacts, Offers
from tests.answers import START, answer

KINDS: dict[str, tuple[tuple[float, float], float, str]] = {
    "lighter-or-darker": ((20.0, 0.8), 0.5, "ΔL*"),
    "value-order": ((12.0, 1.5), 1 / 120, "ΔL*"),
    "hue-and-lean": ((0.5, 0.04), 0.25, "wheel steps"),
    "nearest-start": ((2.5, 0.25), 0.2, "wheel steps"),
    "brighter-or-duller": ((25.0, 2.0), 0.5, "ΔC*"),
    "grey-lean": ((12.0, 1.5), 1 / 6, "C*ab"),
    "hold-in-mind": ((14.0, 1.5), 0.25, "ΔE00"),
}
"""Each kind's (easiest, hardest) step, chance and unit."""
FACTS = {
    name: KindFacts(name, 1, name, 10.0, unit, steps, chance, True)
    for name, (steps, chance, unit) in KINDS.items()
}
TODAY = START.date()
PENCILS = "p" * 64
OFFERS = Offers(FACTS, tuple((kind, f"region {n}") for kind in KINDS for n in range(8)))


@pytest.fixture
def record(tmp_path: Path) -> Record:
    """A learner of six days, placed."""
    record = Record.open(tmp_path / "record.db")
    number = 0
    with record._write():
        pass
    for day in range(6):
        for _ in range(21):
            kind = list(KINDS)[number % len(KINDS)]
            steps, chance, unit = KINDS[kind]
            record.save(
                answer(
                    number,
                    days=day - 6 + number / 5000,
                    kind=kind,
                    region=f"region {number % 8}",
                    steps=steps,
                    step=(steps[0] * steps[1]) ** 0.5,
                    chance=chance,
                    unit=unit,
                    right=number % 5 != 0,
                )
            )
            number += 1
    return record


def run(record: Record, day: date, number: int, right: bool = True) -> None:
    """Answer a whole re-test."""
    due = due_retest(record, OFFERS, PENCILS, day, {})
    assert due is not None
    keep_bank(record, due.bank)
    for place, held in enumerate(due.items):
        steps, chance, unit = KINDS[held.kind]
        record.save(
            answer(
                place,
                session=f"probe {number}",
                days=(day - TODAY).days,
                kind=held.kind,
                region=held.region,
                seed=held.seed,
                step=held.step,
                steps=steps,
                chance=chance,
                unit=unit,
                right=right,
                deck=RETEST,
            )
        )


# -- the questions held out -------------------------------------------------------------------


def test_the_same_learner_and_pencils_always_give_the_same_questions() -> None:
    one, again = (draw_bank(OFFERS, {}, PENCILS, "ada", TODAY) for _ in range(2))
    assert one == again
    assert one.items != draw_bank(OFFERS, {}, PENCILS, "bob", TODAY).items
    assert one.items != draw_bank(OFFERS, {}, "q" * 64, "ada", TODAY).items
    assert bank_from_json(as_json(one)) == one


def test_value_hue_chroma_and_greys_are_each_asked_over_several_families() -> None:
    bank = draw_bank(OFFERS, {}, PENCILS, "ada", TODAY)
    for unit in UNITS:
        mine = [item for item in bank.items if FACTS[item.kind].unit == unit]
        assert len(mine) == EACH
        assert len({item.kind for item in mine}) == 1
        assert len({item.region for item in mine}) == EACH


def test_steps_run_from_easier_than_the_learner_to_much_harder() -> None:
    skill = "lighter-or-darker:red"
    known = SkillThreshold((20.0, 0.8), 0.5, math.log10(4.0), 0.1, 30, 9.0)
    skills = {skill: SkillState(skill, threshold=known)}
    bank = draw_bank(OFFERS, skills, PENCILS, "ada", TODAY)
    steps = [item.step for item in bank.items if item.kind == "lighter-or-darker"]
    assert max(steps) > known.step > min(steps)
    assert len(set(steps)) == EACH
    assert all(0.8 <= step <= 20.0 for step in steps)


def test_practice_never_draws_a_seed_that_is_held_out() -> None:
    bank = draw_bank(OFFERS, {}, PENCILS, "ada", TODAY)
    assert all(item.seed >= HELD_OUT > (1 << SEED_BITS) - 1 for item in bank.items)
    # They pass unharmed through any reader of JSON, which may hold numbers as doubles.
    assert all(item.seed < 1 << 53 for item in bank.items)


# -- when --------------------------------------------------------------------------------------


def test_a_newcomer_is_not_tested_yet(tmp_path: Path) -> None:
    fresh = Record.open(tmp_path / "fresh.db")
    assert due_retest(fresh, OFFERS, PENCILS, TODAY, {}) is None
    for number in range(200):
        fresh.save(answer(number))
    # Two hundred answers, but all of one day.
    assert due_retest(fresh, OFFERS, PENCILS, TODAY, {}) is None


def test_a_re_test_is_due_at_once_and_then_each_fortnight(record: Record) -> None:
    run(record, TODAY, 1)
    bank = kept_bank(record)
    for days in range(EVERY_DAYS):
        assert due_retest(record, OFFERS, PENCILS, TODAY + timedelta(days=days), {}) is None
    due = due_retest(record, OFFERS, PENCILS, TODAY + timedelta(days=EVERY_DAYS), {})
    assert due is not None
    assert due.bank == bank
    assert not due.begun


def test_one_left_half_way_is_offered_on_that_day_alone(record: Record) -> None:
    due = due_retest(record, OFFERS, PENCILS, TODAY, {})
    assert due is not None
    keep_bank(record, due.bank)
    first = due.items[0]
    record.save(answer(1, session="p", kind=first.kind, seed=first.seed, deck=RETEST))
    later = due_retest(record, OFFERS, PENCILS, TODAY, {})
    assert later is not None
    assert later.begun
    assert later.items == due.items[1:]
    assert due_retest(record, OFFERS, PENCILS, TODAY + timedelta(days=1), {}) is None


def test_other_pencils_or_changed_questions_make_another_bank(record: Record) -> None:
    run(record, TODAY, 1)
    other = due_retest(record, OFFERS, "q" * 64, TODAY + timedelta(days=1), {})
    assert other is not None
    assert other.bank != kept_bank(record)


def test_a_clock_that_was_ahead_does_not_put_re_tests_off_for_years(record: Record) -> None:
    run(record, TODAY + timedelta(days=3000), 1)
    assert due_retest(record, OFFERS, PENCILS, TODAY, {}) is not None


def test_nonsense_kept_for_a_bank_is_drawn_anew(record: Record) -> None:
    for nonsense in (None, 7, [], {"items": 3}, {"items": [["a"]], "versions": {}, "pencils": 1}):
        record.set_setting("probe", nonsense)  # type: ignore[arg-type]
        assert kept_bank(record) is None
        assert due_retest(record, OFFERS, PENCILS, TODAY, {}) is not None


# -- what they say -------------------------------------------------------------------------------


def test_re_tests_are_reported_apart_from_practice(record: Record) -> None:
    practice = len(read_history(record).practice)
    for number in range(4):
        run(record, TODAY + timedelta(days=EVERY_DAYS * number), number, right=number >= 2)
    history = read_history(record)
    assert len(history.practice) == practice
    until = TODAY + timedelta(days=60)
    course = progress(history, EyeModel.of(record, OFFERS, until.toordinal()), FACTS, until)
    assert [run.items for run in course.retests] == [EACH * len(UNITS)] * 4
    assert [run.right for run in course.retests] == [0, 0, 24, 24]
    assert course.eye is not None
    assert course.eye.points[-1].day == until


def test_what_luck_alone_does_to_two_re_tests_is_said() -> None:
    """Of 24 questions half right, 90 % of differences lie within 1.64 √(2 · 24 / 4) = 5.7."""
    runs = (RetestRun(TODAY, 24, 11), RetestRun(TODAY, 24, 13))
    assert luck_words(runs).endswith("by up to 6.")


def test_results_of_an_older_bank_are_not_laid_beside_the_new(record: Record) -> None:
    run(record, TODAY, 1)
    later = TODAY + timedelta(days=20)
    due = due_retest(record, OFFERS, "q" * 64, later, {})
    assert due is not None
    keep_bank(record, due.bank)
    assert len(read_history(record).retest) == 0


# -- asking, with real pencils and drills -----------------------------------------------


def test_a_re_test_asks_its_questions_tells_no_answer_and_teaches_nothing(tmp_path: Path) -> None:
    palette, kinds = prepare(pocket_set()), all_kinds()
    offers = work_out_offers(palette, kinds)
    record = Record.open(tmp_path / "record.db")
    for number in range(130):
        record.save(answer(number, days=number / 20 - 10))
    skills = record.skills()
    due = due_retest(record, offers, palette.set.fingerprint, TODAY, {})
    assert due is not None
    asked = []
    for _ in range(2):
        clock = _clock()
        session = Session(
            record, kinds, retest(record, palette, due), lambda: START, clock, 5, EyeModel()
        )
        rng, seen = random.Random(1), []
        while (question := session.next()) is not None and len(seen) < 8:
            replies: tuple[tuple[str, ...], ...] = ()
            while (ask := session.kinds[question.kind].ask(question, replies)) is not None:
                keys = [choice.key for choice in ask.choices]
                rng.shuffle(keys)
                keys = keys or [key_of(ask.start or (50.0, 0.0, 0.0))]
                replies = (*replies, tuple(keys) if ask.form == "arrange" else (keys[0],))
            outcome = session.answered(question, replies, 3.0)
            assert outcome.saved
            assert outcome.grade.verdict == NOTED
            assert not outcome.reveal.results
            assert outcome.reveal.target is None
            assert outcome.attempt.deck == RETEST
            seen.append((question.kind, question.region, question.seed, question.target))
        asked.append(seen)
        assert session.summary().asked == len(seen)
        assert not session.summary().skills
    # Drawn again they are the same questions.
    assert asked[0] == asked[1]
    assert record.skills() == skills
    assert kept_bank(record) is not None


def _clock():  # type: ignore[no-untyped-def]
    time = iter(range(10_000))
    return lambda: float(next(time))


def test_a_re_test_is_recorded_at_the_time_it_was_given(record: Record) -> None:
    run(record, TODAY, 1)
    last = next(record.attempts(newest_first=True))
    assert isinstance(last.at_utc, datetime)
    assert last.day == TODAY
