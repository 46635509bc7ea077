"""The psychometric function: Watson's Weibull, placed by where four answers in five are right."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from scores.skill.psychometric import PROPORTION, proportion, scale_of

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
