"""The memory is FSRS itself, in days of the learner's own, under clocks that misbehave.

Checked against the ``fsrs`` library (FSRS-6) driven directly.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from fsrs import Card, Rating, Scheduler, State
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.basics.days import practice_day
from scores.skill.memory import (
    SkillState,
    advance,
    reschedule,
    retrievability,
    review,
)
from scores.skill.outcome import OUTCOMES, Outcome
from tests.answers import START, answer

NEW = SkillState("value:violet")


def library(retention: float) -> Scheduler:
    return Scheduler(
        desired_retention=retention, learning_steps=(), relearning_steps=(), enable_fuzzing=False
    )


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(OUTCOMES), st.integers(1, 400)), min_size=1, max_size=12),
    st.sampled_from((0.75, 0.85, 0.9, 0.95)),
)
def test_due_days_and_stability_equal_the_librarys_own(
    answers: list[tuple[Outcome, int]], retention: float
) -> None:
    scheduler, card = library(retention), Card(card_id=1)
    state, at = NEW, START
    for outcome, gap in answers:
        at += timedelta(days=gap)
        state = review(state, outcome, at, retention)
        card, _ = scheduler.review_card(card, Rating(OUTCOMES.index(outcome) + 1), at)
        assert state.stability == card.stability
        assert state.difficulty == card.difficulty
        assert card.state is State.Review
        assert state.due == card.due.date()
        for days in (0, 1, 30, 366, 4000):
            later = at + timedelta(days=days)
            assert retrievability(state, later) == pytest.approx(
                scheduler.get_card_retrievability(card, later), abs=1e-12
            )
        for other in (0.7, 0.8, 0.93, 0.97):
            moved = library(other)._next_interval(stability=card.stability or 0.0)
            due = reschedule(state, other).due
            assert due is not None
            assert (due - at.date()).days == moved


def test_a_skill_never_met_is_not_held() -> None:
    assert retrievability(NEW, START) == 0.0
    assert reschedule(NEW, 0.8) == NEW


def test_the_first_answer_of_a_day_decides() -> None:
    """Massed answers leave tomorrow's forecast about where the first put it."""
    met = review(review(NEW, "held", START), "held", START + timedelta(days=3))
    today = START + timedelta(days=9)
    held = review(met, "held", today)
    assert held.stability is not None
    massed = held
    for outcome in ("lost", "easy-won", "lost", "easy-won", "held"):
        massed = review(massed, outcome, today)  # type: ignore[arg-type]
        assert massed.reviewed == held.reviewed
        assert massed.stability is not None
        assert held.stability <= massed.stability <= held.stability * 1.1
    lost = review(met, "lost", today)
    won_after = review(lost, "easy-won", today)
    assert lost.stability is not None
    assert won_after.stability is not None
    assert won_after.stability < held.stability / 2


def test_practice_a_few_minutes_earlier_the_next_morning_is_a_day_apart() -> None:
    state = review(NEW, "held", START)
    next_day = review(state, "held", START + timedelta(hours=23, minutes=50))
    assert next_day.reviewed == date(2026, 3, 3)
    assert next_day.stability is not None
    assert state.stability is not None
    assert next_day.stability > state.stability * 1.5


def test_a_late_evening_is_one_day() -> None:
    evening = datetime(2026, 3, 2, 23, 50, tzinfo=UTC)
    assert practice_day(evening) == practice_day(evening + timedelta(hours=4)) == date(2026, 3, 2)
    assert practice_day(evening + timedelta(hours=4, minutes=10)) == date(2026, 3, 3)


@pytest.mark.parametrize("back", [timedelta(minutes=1), timedelta(days=1), timedelta(days=2)])
def test_a_clock_set_back_a_little_keeps_the_later_day(back: timedelta) -> None:
    state = review(NEW, "held", START)
    after = review(state, "held", START - back)
    assert after.reviewed == state.reviewed
    assert retrievability(state, START - back) == 1.0


def test_a_clock_that_was_years_ahead_does_not_freeze_the_memory() -> None:
    ahead = review(NEW, "held", START.replace(year=2099))
    mended = review(ahead, "held", START)
    assert mended.reviewed == START.date()
    assert mended.due is not None
    assert mended.due.year == 2026


@pytest.mark.parametrize("year", [1, 1970, 9999])
def test_a_clock_that_lost_its_battery_is_not_believed(year: int) -> None:
    for zone in (UTC, ZoneInfo("Pacific/Auckland")):
        wild = datetime(year, 12, 31, 20, tzinfo=zone)
        first = review(NEW, "held", wild)
        assert first.due is not None
        state = review(review(NEW, "held", START), "held", wild)
        assert state.reviewed == START.date()
        assert review(state, "held", START + timedelta(days=5)).reviewed == date(2026, 3, 7)
        assert 0.0 < retrievability(state, wild) <= 1.0


def test_a_changed_zone_and_summer_time_break_nothing() -> None:
    paris = ZoneInfo("Europe/Paris")
    before = datetime(2026, 3, 28, 9, tzinfo=paris)
    state = review(NEW, "held", before)
    # The clocks go forward on 29 March 2026: 23 hours to the same time of day.
    after = datetime(2026, 3, 29, 9, tzinfo=paris)
    assert after - before == timedelta(days=1)
    assert after.astimezone(UTC) - before.astimezone(UTC) == timedelta(hours=23)
    state = review(state, "held", after)
    assert state.reviewed == date(2026, 3, 29)
    # Landing in Honolulu it is still the day before: counted as the same day.
    landed = review(state, "held", datetime(2026, 3, 28, 22, tzinfo=ZoneInfo("Pacific/Honolulu")))
    assert landed.reviewed == date(2026, 3, 29)


def test_after_a_years_pause_practice_goes_on() -> None:
    state = NEW
    for day in range(0, 30, 3):
        state = review(state, "held", START + timedelta(days=day))
    later = START + timedelta(days=400)
    assert 0.3 < retrievability(state, later) < 0.95
    for outcome in OUTCOMES:
        after = review(state, outcome, later)
        assert after.due is not None
        assert after.due > practice_day(later)
        assert after.stability is not None
        assert after.stability > 0


def test_an_answer_moves_the_whole_state() -> None:
    first = advance(None, answer(1, score=0.5, right=False), "shaky")
    assert (first.tries, first.right, first.last_right) == (1, 0, None)
    assert first.mean_score == first.last_score == 0.5
    assert first.usual_step == 6.0
    second = advance(first, answer(2, days=1, score=1.0, step=12.0), "held")
    assert (second.tries, second.right) == (2, 1)
    assert second.mean_score == pytest.approx(0.5 + 0.2 * 0.5)
    assert second.usual_step is not None
    assert 6.0 < second.usual_step < 12.0
    assert second.last_right == START + timedelta(days=1)


def test_the_wall_time_is_kept_as_it_was_even_when_the_memorys_is_not() -> None:
    state = advance(None, answer(1), "held")
    back = advance(state, answer(2, days=-1), "held")
    assert back.last_tried == START - timedelta(days=1)
    assert back.reviewed == START.date()
