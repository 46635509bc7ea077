"""What an answer says of a threshold, and what a day takes away again."""

from __future__ import annotations

import math
import random
from datetime import date, timedelta
from itertools import pairwise
from statistics import fmean

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scores.skill.psychometric import proportion, scale_of
from scores.skill.step_choice import expected_right, step_to_ask
from scores.skill.threshold import (
    MARK_DAYS,
    answered,
    for_kind,
    fresh,
    marginal,
    on_day,
    prior_of,
    threshold_step,
)
from scores.skill.threshold_kept import Measured, lately, level_of, measured_from_json, spread_on

DAY = date(2026, 3, 2)
ranges = st.sampled_from([(20.0, 0.8), (0.5, 0.04), (6.0, 1.0), (1.0, 10.0)])
chances = st.sampled_from([0.02, 0.1, 0.25, 0.5])
answers = st.lists(
    st.tuples(st.floats(0.0, 1.0), st.booleans(), st.integers(0, 40)), min_size=1, max_size=12
)


def begun(steps: tuple[float, float], chance: float = 0.25, day: date = DAY) -> Measured:
    made = fresh(steps, chance, day)
    assert made is not None
    return made


def after(
    known: Measured, many: list[tuple[float, bool, int]], day: date = DAY
) -> tuple[Measured, date]:
    """Answers at a share of the range, each so many days after the last."""
    easiest, hardest = known.steps
    for share, right, days in many:
        day += timedelta(days)
        known = answered(known, easiest * (hardest / easiest) ** share, right, day)
    return known, day


@settings(max_examples=60, deadline=None)
@given(ranges, chances, answers)
def test_laws_of_every_posterior(
    steps: tuple[float, float], chance: float, many: list[tuple[float, bool, int]]
) -> None:
    known, day = after(begun(steps, chance), many)
    logs, weights = marginal(known)
    assert sum(weights) == pytest.approx(1)
    assert min(weights) > 0
    mean = sum(log * weight for log, weight in zip(logs, weights, strict=True))
    assert known.mean == pytest.approx(mean, abs=1e-9)
    assert known.low <= known.mean <= known.high
    below = sum(w for log, w in zip(logs, weights, strict=True) if log < known.low)
    assert below <= 0.025 + max(weights)
    # The same answers give the same posterior, and its kept form loses nothing.
    assert after(begun(steps, chance), many)[0] == known
    kept = measured_from_json(known.as_json())
    assert kept == known
    assert kept is not None
    assert answered(kept, steps[0], True, day) == answered(known, steps[0], True, day)


@settings(max_examples=40, deadline=None)
@given(ranges, chances, answers, st.floats(0, 1))
def test_a_right_answer_never_says_coarser_nor_a_wrong_one_finer(
    steps: tuple[float, float], chance: float, many: list[tuple[float, bool, int]], share: float
) -> None:
    known, day = after(begun(steps, chance), many)
    step = steps[0] * (steps[1] / steps[0]) ** share
    assert answered(known, step, True, day).mean <= known.mean + 1e-9
    assert answered(known, step, False, day).mean >= known.mean - 1e-9


@settings(max_examples=40, deadline=None)
@given(ranges, chances, answers, st.integers(1, 300))
def test_days_widen_what_is_known_and_hardly_move_it(
    steps: tuple[float, float], chance: float, many: list[tuple[float, bool, int]], days: int
) -> None:
    known, day = after(begun(steps, chance), many)
    later = on_day(known, day + timedelta(days))
    assert later.sd >= known.sd - 0.01 or known.sd > 0.9 * known.prior[1]
    # Nothing is pushed but towards where a newcomer stands.
    toward = known.prior[0] - known.mean
    assert abs(later.mean - known.mean) <= 0.06 + abs(toward)
    assert on_day(known, day) == known
    assert on_day(known, day - timedelta(days)) == known


def test_a_long_pause_forgets_most_but_not_all() -> None:
    known, day = after(begun((20.0, 0.8), 0.5), [(0.9, True, 0)] * 30)
    spreads = [on_day(known, day + timedelta(days)).sd for days in (0, 1, 7, 30, 365)]
    assert spreads == sorted(spreads)
    assert spreads[1] < 1.5 * spreads[0]
    assert on_day(known, day + timedelta(365)).mean < known.prior[0]


def test_the_first_screens_spread_agrees_with_the_posteriors_own() -> None:
    """``spread_on`` needs no grid; it holds within a fifth over the first weeks."""
    known, day = after(begun((20.0, 0.8), 0.5), [(0.6, turn % 4 != 3, 0) for turn in range(20)])
    for days in (1, 3, 10, 30):
        later = day + timedelta(days)
        assert spread_on(known, later) == pytest.approx(on_day(known, later).sd, rel=0.2)


def test_a_clock_put_right_is_followed_and_takes_nothing_away() -> None:
    known, _ = after(begun((20.0, 0.8), 0.5), [(0.5, True, 0)] * 5, date(2090, 1, 1))
    back = answered(known, 5.0, True, DAY)
    assert back.day == DAY
    assert back.sd <= known.sd
    assert answered(back, 5.0, True, DAY + timedelta(3)).day == DAY + timedelta(3)


@pytest.mark.parametrize("step", [0.0, -1.0, float("nan"), float("inf")])
def test_a_step_that_is_none_says_nothing(step: float) -> None:
    known = begun((20.0, 0.8), 0.5)
    assert answered(known, step, True, DAY) == known


def test_answers_beyond_the_range_are_taken_for_what_they_are() -> None:
    """Pencils that give only a coarse step: right answers there say little of the fine ones."""
    known = begun((20.0, 0.8), 0.5)
    coarse = known
    for _ in range(20):
        coarse = answered(coarse, 60.0, True, DAY)
    fine = known
    for _ in range(20):
        fine = answered(fine, 2.0, True, DAY)
    assert coarse.mean - fine.mean > 0.3
    assert abs(coarse.mean - known.mean) < 0.15


def test_many_wrong_answers_never_empty_the_posterior() -> None:
    known = begun((20.0, 0.8), 0.5)
    for _ in range(400):
        known = answered(known, 20.0, False, DAY)
    for _ in range(400):
        known = answered(known, 0.8, True, DAY)
    assert math.isfinite(known.mean)
    assert threshold_step(known) <= 20.0


# -- where a skill begins ----------------------------------------------------------------


def test_a_newcomer_begins_like_most_and_widely() -> None:
    known = begun((20.0, 0.8), 0.5)
    assert 0.3 <= level_of(known) <= 0.45
    assert known.sd > 0.25
    ends = (known.low, known.high)
    assert 10 ** (ends[1] - ends[0]) > 8


def test_a_new_skill_begins_near_its_kindred_and_more_narrowly() -> None:
    steps, chance = (20.0, 0.8), 0.5
    fine = [after(begun(steps, chance), [(0.8, True, 0)] * 20)[0] for _ in range(5)]
    new = fresh(steps, chance, DAY, fine)
    assert new is not None
    alone = begun(steps, chance)
    assert fine[0].mean < new.mean < alone.mean
    assert new.mean - fine[0].mean < 0.5 * (alone.mean - fine[0].mean)
    assert new.sd < 0.85 * alone.sd
    scale = scale_of(steps, chance)
    assert scale is not None
    assert prior_of(scale, fine) == prior_of(scale, list(reversed(fine)))


def test_a_kind_whose_range_changes_keeps_what_was_measured() -> None:
    known, _ = after(begun((20.0, 0.8), 0.5), [(0.6, turn % 4 != 3, 0) for turn in range(30)])
    moved = for_kind(known, (25.0, 1.0), 0.5, DAY)
    assert moved is not None
    assert moved.mean == pytest.approx(known.mean, abs=0.03)
    assert moved.answers == known.answers
    assert for_kind(known, (20.0, 0.8), 0.5, DAY) is known
    assert for_kind(known, (1.0, 1.0), 0.5, DAY) is None
    turned = for_kind(known, (0.8, 20.0), 0.5, DAY)
    assert turned is not None
    assert turned.answers == 0


@pytest.mark.parametrize(
    "text",
    ["", None, "{}", "[]", "[0,1]", "nonsense", '[2,[20,0.8],0.5,"2026-03-02",1,1,1,[0,1]]'],
)
def test_a_kept_form_that_is_not_ours_is_nothing(text: str | None) -> None:
    assert measured_from_json(text) is None


@pytest.mark.parametrize("cells", ["", "!!!", "AAAA", "AAAA" * 400])
def test_nonsense_where_the_posterior_was_begins_again(cells: str) -> None:
    known, day = after(begun((20.0, 0.8), 0.5), [(0.6, True, 0)] * 5)
    broken = known._replace(cells=cells)
    once = answered(broken, 5.0, True, day)
    assert math.isfinite(once.mean)
    assert once.mean == pytest.approx(answered(begun((20.0, 0.8), 0.5), 5.0, True, day).mean)


def test_answers_of_late_fade_by_half_in_sixty_days() -> None:
    known, day = after(begun((20.0, 0.8), 0.5), [(0.5, True, 0)] * 10)
    assert lately(known, day) == pytest.approx(10)
    assert lately(known, day + timedelta(60)) == pytest.approx(5)


def test_marks_stand_a_week_apart_at_least() -> None:
    known, _ = after(begun((20.0, 0.8), 0.5), [(0.5, turn % 4 != 3, 1) for turn in range(80)])
    days = [mark.day for mark in known.marks]
    assert len(days) > 5
    gaps = [(b - a).days for a, b in pairwise(days)]
    assert min(gaps) >= MARK_DAYS
    assert known.day not in days


# -- observers with a known truth ------------------------------------------------------------


def observed(
    steps: tuple[float, float], chance: float, level: float, trials: int, seed: int
) -> tuple[Measured, float, float]:
    """A Weibull observer asked at the chosen steps; what is known, the truth, the share right."""
    scale, rng = scale_of(steps, chance), random.Random(seed)
    assert scale is not None
    truth, hits = scale.at_level(level), 0
    known = begun(steps, chance)
    for _ in range(trials):
        step = step_to_ask(known, DAY)
        above = scale.intensity(step) - truth
        right = rng.random() < proportion(above, 2.5, 0.02, chance)
        hits += right
        known = answered(known, step, right, DAY)
    return known, truth, hits / trials


@pytest.mark.parametrize(
    ("steps", "chance"), [((20.0, 0.8), 0.5), ((0.5, 0.04), 0.25), ((1.0, 10.0), 0.25)]
)
@pytest.mark.parametrize("level", [0.15, 0.5, 0.85])
def test_thirty_answers_place_an_observer(
    steps: tuple[float, float], chance: float, level: float
) -> None:
    runs = [observed(steps, chance, level, 30, seed) for seed in range(24)]
    errors = [known.mean - truth for known, truth, _ in runs]
    assert abs(fmean(errors)) < 0.09
    assert math.sqrt(fmean(error**2 for error in errors)) < 0.17
    inside = fmean(known.low <= truth <= known.high for known, truth, _ in runs)
    assert inside >= 0.83
    # The ends of the interval draw together, more where guessing helps less.
    begun_width = begun(steps, chance).high - begun(steps, chance).low
    assert fmean(known.high - known.low for known, _, _ in runs) < 0.65 * begun_width


@pytest.mark.parametrize("chance", [0.25, 0.5])
def test_practice_is_answered_right_about_four_times_in_five(chance: float) -> None:
    shares = [observed((20.0, 0.8), chance, 0.5, 60, seed)[2] for seed in range(20)]
    assert fmean(shares) == pytest.approx(0.8, abs=0.04)


def test_the_measure_follows_a_learner_who_changes() -> None:
    """Twice as fine after a month of eight answers a day: the measure is there a week later."""
    scale = scale_of((20.0, 0.8), 0.5)
    assert scale is not None
    errors = []
    for seed in range(12):
        rng, known = random.Random(seed), begun((20.0, 0.8), 0.5)
        for day in range(37):
            truth = scale.at_level(0.35) - 0.3 * min(1.0, day / 30)
            today = DAY + timedelta(day)
            for _ in range(8):
                step = step_to_ask(known, today)
                above = scale.intensity(step) - truth
                right = rng.random() < proportion(above, 2.5, 0.02, 0.5)
                known = answered(known, step, right, today)
        errors.append(known.mean - truth)
    assert abs(fmean(errors)) < 0.06
    assert expected_right(known, scale.step(truth)) == pytest.approx(0.8, abs=0.15)
