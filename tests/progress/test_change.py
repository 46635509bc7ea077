"""The arithmetic behind a verdict, against published methods and other people's code."""

from __future__ import annotations

import itertools
import math
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import false_discovery_control, mannwhitneyu

from scores.progress.answers import Answers, Matches
from scores.progress.change import (
    DELTAS,
    LEAST_ANSWERS,
    Third,
    benjamini_hochberg,
    change_of,
    holm,
    judged,
    kind_evidence,
)
from scores.progress.fit import (
    MIDDLE,
    course,
    evidence,
    grid_of,
    proportion_right,
    summary,
    walk,
)
from scores.progress.match import match_change, match_course
from scores.progress.span import Span, span_of, thirds
from scores.skill.psychometric import proportion

DAY = date(2026, 3, 2)
chances = st.lists(st.floats(0.0, 1.0), min_size=1, max_size=12)


# -- the psychometric function and its likelihood ------------------------------------------


@given(st.floats(-2, 2), st.sampled_from([1.4, 2.0, 3.4]), st.floats(0, 0.1), st.floats(0, 0.6))
def test_the_function_for_arrays_is_the_one_practice_measures_with(
    above: float, slope: float, lapse: float, chance: float
) -> None:
    mine = proportion_right(np.array([above]), (slope, lapse), chance)[0]
    assert mine == pytest.approx(proportion(above, slope, lapse, chance))


def test_evidence_is_the_sum_over_answers_one_by_one() -> None:
    rng = np.random.default_rng(1)
    grid = grid_of(0.0, 1.3)
    n = 80
    answers = Answers(
        ("a", "b"),
        rng.integers(0, 2, n),
        np.full(n, DAY.toordinal()),
        np.where(rng.random(n) < 0.5, 100, 40),
        rng.integers(10, 120, n),
        rng.integers(0, 2, n),
    )
    cell = np.where(rng.random(n) < 0.1, -1, answers.skill)
    found = evidence(answers, cell, 2, grid)[0]
    for which in (0, 1):
        for place, log in enumerate(grid.logs):
            total = 0.0
            for i in np.flatnonzero(cell == which):
                above = answers.place[i] / 100 - float(log)
                p = proportion(above, *MIDDLE[0], answers.chance[i] / 200)
                total += math.log(p if answers.right[i] else 1 - p)
            assert found[which, place] == pytest.approx(total)


def test_a_course_is_what_summing_over_every_path_gives() -> None:
    rng = np.random.default_rng(2)
    values = np.linspace(0.0, 0.4, 5)
    steps = walk(values, 14)
    likelihood = rng.random((1, 4, 5))
    last = rng.random((1, 5))
    wanted = np.zeros((4, 5))
    for path in itertools.product(range(5), repeat=4):
        weight = last[0, path[-1]]
        for p, place in enumerate(path):
            weight *= likelihood[0, p, place]
            if p:
                weight *= steps[path[p - 1], place]
        for p, place in enumerate(path):
            wanted[p, place] += weight
    wanted /= wanted.sum(axis=1, keepdims=True)
    assert np.allclose(course(likelihood, last, steps)[0], wanted)


def test_a_summary_of_a_bell_is_its_own() -> None:
    values = np.arange(-2.0, 2.0001, 0.04)
    bell = np.exp(-0.5 * ((values - 0.3) / 0.25) ** 2)
    mean, low, high = summary((bell / bell.sum())[None], values, 0.95)
    assert mean[0] == pytest.approx(0.3, abs=1e-3)
    assert low[0] == pytest.approx(0.3 - 1.96 * 0.25, abs=0.01)
    assert high[0] == pytest.approx(0.3 + 1.96 * 0.25, abs=0.01)


# -- the change ------------------------------------------------------------------------------


def answered(threshold: float, n: int, steps: list[int], seed: int) -> list[tuple[int, int]]:
    """(place, right) of an eye with this log10 threshold, asked at these places in turn."""
    rng = np.random.default_rng(seed)
    made = []
    for i in range(n):
        place = steps[i % len(steps)]
        p = proportion(place / 100 - threshold, 2.0, 0.02, 0.5)
        made.append((place, int(rng.random() < p)))
    return made


def evidence_of(skills: list[list[tuple[int, int]]]) -> np.ndarray:
    rows = [(i, place, right) for i, skill in enumerate(skills) for place, right in skill]
    skill, place, right = np.array(rows).T
    names = tuple(f"k:{i}" for i in range(len(skills)))
    full = np.full(len(rows), 1)
    answers = Answers(names, skill, full * DAY.toordinal(), full * 100, place, right)
    return evidence(answers, skill, len(skills), grid_of(0.0, 1.3))


def third(answers: int, days: int = 10) -> Third:
    return Third(DAY, DAY + timedelta(days=20), answers, days)


@pytest.mark.parametrize("moved", [-0.2, 0.0, 0.2])
def test_a_change_of_known_size_is_found(moved: float) -> None:
    """The interval holds it, and on the whole the estimate leans neither way."""
    errors, held = [], 0
    for seed in range(24):
        then, now = (
            evidence_of(
                [answered(at + 0.1 * i, 60, asked, 100 * seed + 10 * end + i) for i in range(4)]
            )
            for end, at, asked in ((0, 0.6, [60, 75, 90]), (1, 0.6 + moved, [55, 70, 85]))
        )
        change = change_of(kind_evidence(then, now, grid_of(0.0, 1.3))[0], third(240), third(240))
        errors.append(math.log10(change.ratio) - moved)
        held += change.low <= 10**moved <= change.high
    assert held >= 21
    # The prior of no change draws a real one in a little.
    assert abs(float(np.mean(errors))) < 0.05


def test_an_end_without_answers_says_nothing_of_a_change() -> None:
    now = evidence_of([answered(0.4, 60, [40, 55], 1)])
    change = change_of(
        kind_evidence(np.zeros_like(now), now, grid_of(0.0, 1.3))[0], third(0, 0), third(60)
    )
    assert change.finer == pytest.approx(0.5, abs=0.02)
    assert change.low < 0.5
    assert change.high > 2.0


def test_the_same_answers_at_both_ends_are_no_change() -> None:
    same = evidence_of([answered(0.5, 40, [45, 60], seed) for seed in range(3)])
    kind, skills = kind_evidence(same, same, grid_of(0.0, 1.3))
    for log in (kind, *skills):
        change = change_of(log, third(120), third(120))
        assert change.ratio == pytest.approx(1.0, abs=0.03)
        assert change.finer == pytest.approx(0.5, abs=0.06)


def test_few_days_are_over_read_less_than_many() -> None:
    """The same likelihood, from two days at either end and from thirty."""
    log = -0.5 * ((DELTAS + 0.15) / 0.05) ** 2
    few, many = (change_of(log, third(100, d), third(100, d)) for d in (2, 30))
    assert few.finer < many.finer
    assert few.high / few.low > many.high / many.low


# -- looking at much at once -------------------------------------------------------------------


@given(chances)
def test_holm_is_as_published(values: list[float]) -> None:
    """Holm 1979: refuse while the k-th least is at most error / (n − k + 1)."""
    wanted = set()
    for k, value in enumerate(sorted(values)):
        if value > 0.05 / (len(values) - k):
            break
        wanted.add(value)
    assert [value in wanted for value in values] == holm(values, 0.05)


@given(chances)
def test_benjamini_and_hochberg_agree_with_scipy(values: list[float]) -> None:
    adjusted = false_discovery_control(values, method="bh")
    close = np.isclose(adjusted, 0.05)
    mine = np.array(benjamini_hochberg(values, 0.05))
    assert np.array_equal(mine[~close], (adjusted <= 0.05)[~close])


def test_weights_let_one_question_count_for_more() -> None:
    assert holm([0.02, 0.5, 0.5], 0.05) == [False, False, False]
    assert holm([0.02, 0.5, 0.5], 0.05, [2.0, 1.0, 1.0]) == [True, False, False]


def test_too_few_answers_are_said_to_be_so_whatever_they_were() -> None:
    log = -0.5 * ((DELTAS + 0.5) / 0.02) ** 2
    sure = change_of(log, third(LEAST_ANSWERS, 30), third(LEAST_ANSWERS, 30))
    few = change_of(log, third(LEAST_ANSWERS - 1, 30), third(99, 30))
    one_day = change_of(log, third(99, 1), third(99, 30))
    told, _ = judged([sure, few, one_day], [])
    assert [change.verdict for change in told] == ["finer", "too few answers", "too few answers"]


def test_looking_at_more_asks_for_more() -> None:
    hint = change_of(-0.5 * ((DELTAS + 0.12) / 0.055) ** 2, third(50, 40), third(50, 40))
    none = change_of(-0.5 * (DELTAS / 0.055) ** 2, third(50, 40), third(50, 40))
    assert judged([], [hint])[1][0].verdict == "finer"
    assert judged([], [hint, *[none] * 60])[1][0].verdict == "within the noise"


# -- matches ----------------------------------------------------------------------------------


def matches_of(errors: list[float], every: int = 1) -> Matches:
    day = np.array([DAY.toordinal() + every * i for i in range(len(errors))])
    return Matches(day, np.array(errors))


@pytest.mark.parametrize("seed", range(5))
def test_the_rank_test_agrees_with_scipy(seed: int) -> None:
    rng = np.random.default_rng(seed)
    errors = np.round(rng.lognormal(1.0, 0.5, 60), 1).tolist()
    span = Span("all", DAY, DAY + timedelta(days=59), 7)
    change = match_change(matches_of(errors), span)
    assert change is not None
    p = mannwhitneyu(errors[-20:], errors[:20], alternative="less", method="asymptotic").pvalue
    # Ours gives up the half pair towards no change, as scipy does when the p-value is small.
    assert change.finer == pytest.approx(1 - p, abs=0.012)


def test_matches_by_week_show_median_and_middle_half() -> None:
    errors = [4.0, 1.0, 3.0, 2.0, 5.0, 7.0, 6.0, *[2.0] * 7]
    span = Span("since", DAY, DAY + timedelta(days=13), 7)
    first, second = match_course(matches_of(errors), span).points
    assert (first.median, first.lower, first.upper, first.matches) == (4.0, 2.5, 5.5, 7)
    assert (second.median, second.day) == (2.0, DAY + timedelta(days=13))


def test_a_day_counts_once_however_many_matches_it_had() -> None:
    """Sixty matches on one good day are one good day."""
    day = np.array([DAY.toordinal()] * 2 + [DAY.toordinal() + 8] * 60)
    change = match_change(
        Matches(day, np.array([5.0, 5.1] + [1.0] * 60)), Span("since", DAY, DAY + timedelta(8), 1)
    )
    assert change is not None
    assert change.now.days == 1
    assert judged([change], [])[0][0].verdict == "too few answers"


# -- spans ---------------------------------------------------------------------------------------


@given(st.integers(0, 4000))
def test_the_thirds_of_any_time_share_no_day(days: int) -> None:
    last = DAY + timedelta(days=days)
    (a, b), (c, d) = thirds(DAY, last)
    assert a == DAY
    assert d == last
    assert b < c or (days == 0 and b < a)
    if days >= 2:
        assert (b - a) == (d - c)


@given(st.integers(0, 5000), st.sampled_from(["2 weeks", "3 months", "year", "all", "since"]))
def test_every_span_is_cut_into_few_enough_periods(days: int, name: str) -> None:
    begun = DAY - timedelta(days=days)
    span = span_of(name, DAY, begun, begun)  # type: ignore[arg-type]
    assert span.last == DAY
    assert 1 <= span.periods <= 30
    assert span.period_end(span.periods - 1) == DAY
    assert span.period_end(0) >= span.first
