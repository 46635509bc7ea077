"""Measure, memory and outcome to the figure: each constant holds something that shows."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from scores.skill.difficulty import START, level, step_at
from scores.skill.memory import (
    SkillState,
    advance,
    is_due_on,
    memory_days,
    reschedule,
    retrievability_on,
    review,
)
from scores.skill.outcome import judge
from scores.skill.psychometric import scale_of
from tests.answers import answer

DAY = date(2026, 3, 2)
STEPS = (100.0, 1.0)


@pytest.mark.parametrize(
    ("chance", "steps", "measured"),
    [
        (0.0, STEPS, True),
        (0.75, STEPS, True),
        (0.76, STEPS, False),
        (-0.01, STEPS, False),
        (0.5, (1.13, 1.0), True),
        (0.5, (1.12, 1.0), False),
        (0.5, (5.0, 0.0), False),
        (0.5, (math.inf, 1.0), False),
        (0.5, (1.0, 100.0), True),
    ],
)
def test_what_can_be_measured(chance: float, steps: tuple[float, float], measured: bool) -> None:
    """Guessing must be right 0.05 less often than at the threshold, 0.8, and the range be 0.05."""
    assert (scale_of(steps, chance) is not None) == measured


def test_levels_are_ratios_or_differences_where_a_range_touches_nought() -> None:
    assert START == 0.3
    assert level(STEPS, 10.0) == pytest.approx(0.5)
    assert step_at(STEPS, 0.5) == pytest.approx(10.0)
    assert level((4.0, 0.0), 1.0) == pytest.approx(0.75)
    assert step_at((4.0, 0.0), 0.75) == pytest.approx(1.0)
    assert (level(STEPS, 0.0), level((1.0, 100.0), 0.0), level((3.0, 3.0), 9.0)) == (1.0, 0.0, 0.0)
    assert (step_at(STEPS, -1), step_at(STEPS, 2), step_at((3.0, 3.0), 0.5)) == (100.0, 1.0, 3.0)


# -- outcome ---------------------------------------------------------------------------------------


def said(**changes: object) -> str:
    usual = {
        "score": 1.0,
        "right": True,
        "response_s": 5.0,
        "usual_s": 5.0,
        "step": 10.0,
        "usual_step": 10.0,
        "chance": 0.25,
    }
    return judge(**{**usual, **changes})  # type: ignore[arg-type]


def test_outcomes_change_at_their_borders() -> None:
    wrong = {"right": False, "score": 0.0}
    assert [said(right=False, score=s) for s in (0.59, 0.6)] == ["lost", "shaky"]
    assert [said(**wrong, step=s) for s in (8.1, 8.0)] == ["lost", "shaky"]
    assert [said(response_s=s) for s in (0.34, 0.35)] == ["shaky", "easy-won"]
    assert [said(response_s=s) for s in (3.5, 3.51)] == ["easy-won", "held"]
    assert [said(response_s=s) for s in (10.0, 10.01)] == ["held", "shaky"]
    assert [said(response_s=3.0, step=s) for s in (12.5, 12.6)] == ["easy-won", "held"]
    assert [said(response_s=3.0, chance=c) for c in (0.33, 0.34)] == ["easy-won", "held"]
    assert [said(response_s=30.0, usual_s=s) for s in (None, 0.0)] == ["held", "held"]
    for unknown in (None, 0.0):
        assert said(response_s=3.0, step=90.0, usual_step=unknown) == "easy-won"
        assert said(**wrong, step=1.0, usual_step=unknown) == "lost"


# -- memory ----------------------------------------------------------------------------------------

FIRST, LAST = date(2025, 1, 1), date(2200, 1, 1)


def test_days_as_the_memory_counts_them() -> None:
    one = timedelta(1)
    assert memory_days(DAY, None) == (DAY, None)
    assert memory_days(FIRST - one, None) == (FIRST, None)
    assert memory_days(LAST + one, None) == (LAST, None)
    assert memory_days(DAY, DAY) == (DAY, DAY)
    assert memory_days(DAY + one, DAY) == (DAY + one, DAY)
    # Two days back is a changed zone, three a clock put right.
    assert memory_days(DAY - 2 * one, DAY) == (DAY, DAY)
    assert memory_days(DAY - 3 * one, DAY) == (DAY - 3 * one, DAY - 3 * one)
    for nonsense in (FIRST - one, LAST + one):
        assert memory_days(nonsense, DAY) == (DAY, DAY)
    assert memory_days(FIRST, DAY) == (FIRST, FIRST)
    assert memory_days(LAST, DAY) == (LAST, DAY)


def state(days_ago: int, due_in: int, stability: float | None = 10.0) -> SkillState:
    return SkillState(
        "k:red",
        stability=stability,
        difficulty=5.0,
        reviewed=DAY - timedelta(days_ago),
        due=DAY + timedelta(due_in),
    )


def test_due_on_its_day_and_when_dated_more_than_two_days_ahead() -> None:
    assert [is_due_on(state(5, d), DAY) for d in (-1, 0, 1)] == [True, True, False]
    assert [is_due_on(state(-d, 99), DAY) for d in (2, 3)] == [False, True]
    assert not is_due_on(state(-9999, 9999), FIRST - timedelta(1))
    assert is_due_on(replace(state(0, 9), reviewed=FIRST + timedelta(9)), FIRST)
    assert not is_due_on(SkillState("k:red"), DAY)


def test_nine_in_ten_are_held_after_as_many_days_as_it_is_stable() -> None:
    assert retrievability_on(state(10, 0), DAY) == pytest.approx(0.9)
    assert retrievability_on(state(0, 9), DAY) == retrievability_on(state(-5, 9), DAY) == 1.0
    assert retrievability_on(state(3, 0, None), DAY) == 0.0
    moved = reschedule(state(10, 0), 0.9)
    assert moved.due == DAY
    assert reschedule(state(10, 0), 0.97).due == DAY - timedelta(8)  # the curve: 2 days of 10
    for stability, days in ((0.01, 1), (1e9, 36500)):
        kept = reschedule(state(0, 0, stability), 0.9)
        assert kept.due == DAY + timedelta(days)
    for unknown in (SkillState("k:red"), state(1, 1, None), replace(state(1, 1), reviewed=None)):
        assert reschedule(unknown, 0.9) == unknown


def test_more_answers_of_one_day_say_no_more_than_shaky_or_held() -> None:
    at = datetime(2026, 3, 2, 12, tzinfo=UTC)
    first = review(SkillState("k:red"), "held", at)
    for bold, plain in (("lost", "shaky"), ("easy-won", "held")):
        assert review(first, bold, at) == review(first, plain, at)  # type: ignore[arg-type]
    later = at + timedelta(3)
    assert review(first, "lost", later) != review(first, "shaky", later)
    assert review(first, "easy-won", later) != review(first, "held", later)


def test_means_move_by_a_fifth_to_each_answer() -> None:
    one = advance(None, answer(1, step=10.0, score=0.5), "held")
    assert (one.tries, one.right, one.mean_score, one.usual_step) == (1, 1, 0.5, 10.0)
    two = advance(one, answer(2, step=20.0, score=1.5, right=False), "shaky")
    assert (two.tries, two.right, two.last_score) == (2, 1, 1.0)
    assert two.mean_score == pytest.approx(0.6)
    assert two.usual_step == pytest.approx(10.0 * 2**0.2)
    assert advance(one, answer(2, score=-3.0), "held").last_score == 0.0
    assert advance(one, answer(2, step=0.0), "held").usual_step == 0.0
    assert advance(replace(one, usual_step=0.0), answer(2, step=7.0), "held").usual_step == 7.0
    assert two.last_right == one.last_right
    assert two.last_tried == answer(2).at_utc
