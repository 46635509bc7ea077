"""Turning a colour round the wheel, its lightness held, and fitting it to the screen."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.colour.hue import FAMILIES, wheel_position, wheel_steps
from drills.colour.munsell import munsell_to_lab
from drills.colour.spaces import in_screen_gamut, lab_to_lch, srgb_to_lab
from drills.colour.turn import fitted_to_screen, turned, turned_on_screen
from drills.colour.words import strength

channel = st.floats(0.0, 1.0)
colours = st.tuples(channel, channel, channel).map(lambda rgb: srgb_to_lab(rgb))
places = st.lists(st.floats(0.0, 12.0, exclude_max=True), min_size=1, max_size=12)


def has_hue(lab: np.ndarray) -> np.ndarray:
    """Where a colour is far enough from grey for its place on the wheel to mean something."""
    return strength(lab) > 0.2


@settings(max_examples=60, deadline=None)
@given(colours, places)
def test_a_turned_colour_stands_where_it_was_sent(lab: np.ndarray, wanted: list[float]) -> None:
    there = turned(lab, wanted)
    off = wheel_steps(wheel_position(there), wanted)
    # A black has no chroma to turn; elsewhere a fiftieth of a step, as for the bluest blacks.
    assert (off[has_hue(there)] < 0.03).all()


@settings(max_examples=60, deadline=None)
@given(colours, places)
def test_turning_keeps_lightness_and_chroma(lab: np.ndarray, wanted: list[float]) -> None:
    there = lab_to_lch(turned(lab, wanted))
    assert there[:, :2] == pytest.approx(np.tile(lab_to_lch(lab)[:2], (len(wanted), 1)), abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(colours)
def test_turned_to_its_own_place_a_colour_stays(lab: np.ndarray) -> None:
    if lab_to_lch(lab)[1] > 5.0:
        (there,) = turned(lab, [float(wheel_position(lab))])
        assert there == pytest.approx(lab, abs=1.5)


def test_the_wheel_is_closed_at_yellow() -> None:
    lab = munsell_to_lab("5Y 7/6")
    before, after = turned(lab, [11.9999, 0.0])
    assert before == pytest.approx(after, abs=0.05)


def test_a_munsell_red_turned_six_steps_is_a_green_of_its_lightness() -> None:
    lab = munsell_to_lab("5R 5/6")
    (green,) = turned(lab, [float(wheel_position(lab)) + 6.0])
    assert FAMILIES[round(float(wheel_position(green))) % 12] == "green"
    assert green[0] == pytest.approx(lab[0])


@settings(max_examples=60, deadline=None)
@given(st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120))
def test_fitting_only_dulls_and_only_as_needed(L: float, a: float, b: float) -> None:
    (fitted,) = fitted_to_screen((L, a, b))
    assert in_screen_gamut(fitted)
    before, after = lab_to_lch([L, a, b]), lab_to_lch(fitted)
    assert after[0] == pytest.approx(before[0])
    assert after[1] <= before[1] + 1e-9
    if in_screen_gamut((L, a, b)):
        assert fitted == pytest.approx((L, a, b))


@settings(max_examples=60, deadline=None)
@given(colours, places)
def test_turned_on_screen_a_colour_is_shown_truly_and_keeps_its_place(
    lab: np.ndarray, wanted: list[float]
) -> None:
    there = turned_on_screen(lab, wanted)
    assert in_screen_gamut(there).all()
    assert there[:, 0] == pytest.approx(np.full(len(wanted), lab[0]))
    off = wheel_steps(wheel_position(there), wanted)
    assert (off[has_hue(there)] < 0.03).all()


def test_dulled_along_its_hue_angle_a_blue_would_leave_its_place() -> None:
    # Why each is turned anew: along CIELAB hue angle blue bends (see drills.colour.hue).
    bright = munsell_to_lab("7.5PB 4/16")
    place = float(wheel_position(bright))
    pale = turned(bright, [place]) * np.array([1.0, 0.2, 0.2])
    (kept,) = turned_on_screen(bright * np.array([1.0, 0.2, 0.2]), [place])
    assert wheel_steps(wheel_position(pale[0]), place) > 0.25
    assert wheel_steps(wheel_position(kept), place) < 0.03


def test_what_needs_no_dulling_is_only_turned() -> None:
    lab = munsell_to_lab("5YR 6/4")
    wanted = np.arange(12.0)
    assert turned_on_screen(lab, wanted) == pytest.approx(turned(lab, wanted))
