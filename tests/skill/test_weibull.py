"""The psychometric function: Watson's Weibull, placed by where four answers in five are right."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from scores.skill.psychometric import (
    LAPSES,
    PROPORTION,
    SLOPES,
    entropy,
    likelihood,
    proportion,
    scale_of,
)

chances = st.floats(0.0, 0.6)
slopes, lapses = st.floats(0.8, 5.0), st.floats(0.0, 0.1)
ranges = st.one_of(
    st.tuples(st.floats(2, 100), st.floats(0.05, 1.5)),
    # A kind where small steps are easy.
    st.tuples(st.floats(0.05, 1.5), st.floats(2, 100)),
)


def watson(log_x: float, alpha: float, beta: float, gamma: float, delta: float) -> float:
    """Watson 2017 (QUEST+), the Weibull function in decibels: x and α in dB, 20 dB to a tenfold."""
    return (
        1 - delta - (1 - gamma - delta) * math.exp(-(10 ** (beta * (20 * log_x - 20 * alpha) / 20)))
    )


@given(st.floats(-1.5, 0.6), chances, slopes, lapses)
def test_it_is_watsons_function_with_its_location_moved(
    above: float, chance: float, slope: float, lapse: float
) -> None:
    assume(slope * above < 2.5)
    k = math.log((1 - chance) / (1 - PROPORTION))
    alpha = -math.log10(k) / slope
    assert proportion(above, slope, lapse, chance) == pytest.approx(
        watson(above, alpha, slope, chance, lapse), abs=1e-12
    )


@given(chances, slopes)
def test_at_the_threshold_an_eye_that_does_not_lapse_is_right_four_times_in_five(
    chance: float, slope: float
) -> None:
    assert proportion(0.0, slope, 0.0, chance) == pytest.approx(PROPORTION)


@given(chances, slopes, lapses, st.floats(-3, 3), st.floats(0, 1))
def test_easier_is_never_less_often_right_and_lies_between_chance_and_lapse(
    chance: float, slope: float, lapse: float, above: float, more: float
) -> None:
    here, there = (proportion(x, slope, lapse, chance) for x in (above, above + more))
    assert chance - 1e-12 <= here <= there + 1e-12 <= 1 - lapse + 2e-12


def test_against_the_questplus_package_where_it_is_installed() -> None:
    """The same function from an independent hand (the extra ``bench``)."""
    package = pytest.importorskip("questplus.psychometric_function")
    for slope, lapse in ((1.2, 0.0), (2.2, 0.03), (3.8, 0.07)):
        for chance in (0.1, 0.25, 0.5):
            k = math.log((1 - chance) / (1 - PROPORTION))
            for above in (-0.5, -0.1, 0.0, 0.2):
                theirs = package.weibull(
                    intensity=above,
                    threshold=-math.log10(k) / slope,
                    slope=slope,
                    lower_asymptote=chance,
                    lapse_rate=lapse,
                    scale="log10",
                )
                assert proportion(above, slope, lapse, chance) == pytest.approx(
                    float(theirs.squeeze()), abs=1e-9
                )


@given(ranges, chances)
def test_the_grid_holds_both_ends_and_reaches_past_them(
    steps: tuple[float, float], chance: float
) -> None:
    scale = scale_of(steps, chance)
    assert scale is not None
    assert scale.step(scale.logs[scale.easiest]) == pytest.approx(steps[0])
    assert scale.step(scale.logs[scale.hardest]) == pytest.approx(steps[1])
    assert scale.logs[scale.hardest] - scale.logs[0] >= 0.35
    assert scale.logs[-1] - scale.logs[scale.easiest] >= 0.29
    assert scale.size <= 110
    assert scale.level(scale.intensity(steps[0])) == pytest.approx(0, abs=1e-12)
    assert scale.level(scale.intensity(steps[1])) == pytest.approx(1)
    assert scale.at_level(0.25) == pytest.approx(
        scale.intensity(steps[0] ** 0.75 * steps[1] ** 0.25)
    )


@given(ranges, chances, st.floats(0.02, 150))
def test_likelihoods_follow_the_step_really_shown_grid_or_no_grid(
    steps: tuple[float, float], chance: float, step: float
) -> None:
    scale = scale_of(steps, chance)
    assert scale is not None
    seen = likelihood(scale, step)
    assert len(seen) == scale.size * len(SLOPES) * len(LAPSES)
    slope, lapse, _ = scale.blocks[2]
    place = scale.size // 3
    assert seen[2 * scale.size + place] == pytest.approx(
        proportion(scale.intensity(step) - scale.logs[place], slope, lapse, chance)
    )


def test_tables_over_the_grid_equal_the_function() -> None:
    scale = scale_of((20.0, 0.8), 0.5)
    assert scale is not None
    lapse = sum(rate * weight for rate, weight in LAPSES)
    for place in (scale.hardest, (scale.hardest + scale.easiest) // 2, scale.easiest):
        for (psi, unsure), (slope, _) in zip(scale.rows_at(place), SLOPES, strict=True):
            for row in (0, 7, scale.size - 1):
                above = scale.logs[place] - scale.logs[row]
                assert psi[row] == pytest.approx(proportion(above, slope, lapse, 0.5))
                assert unsure[row] == pytest.approx(entropy(psi[row]))


@pytest.mark.parametrize(
    ("steps", "chance"),
    [
        ((1.0, 1.0), 0.25),
        ((5.0, 0.0), 0.25),
        ((5.0, -1.0), 0.25),
        ((float("inf"), 1.0), 0.25),
        ((5.0, 1.0), 0.8),
        ((5.0, 1.0), -0.1),
        ((5.0, 4.9), 0.25),
    ],
)
def test_where_there_is_no_range_or_guessing_does_as_well_nothing_is_measured(
    steps: tuple[float, float], chance: float
) -> None:
    assert scale_of(steps, chance) is None


def test_weights_of_slopes_and_lapses_are_whole() -> None:
    for table in (SLOPES, LAPSES):
        assert sum(weight for _, weight in table) == pytest.approx(1)
