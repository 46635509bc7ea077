"""A screen's model: against colour-science, and there and back."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.colour.data.tables import white
from drills.colour.difference import delta_e00
from drills.colour.spaces import screen_rgb, srgb_to_lab
from drills.screen.model import D65_XY, STANDARD, WIDE_XY, Screen, powers

UNEVEN = Screen(powers((2.1, 2.2, 2.3)), black=0.004)
WIDE = Screen(powers((2.2, 2.2, 2.2)), primaries=WIDE_XY)
LEVELS = np.stack(np.meshgrid(*[[0, 7, 60, 128, 201, 255]] * 3), axis=-1).reshape(-1, 3)


def test_the_standard_screen_is_srgb() -> None:
    assert np.allclose(STANDARD.lab(LEVELS), srgb_to_lab(LEVELS / 255), atol=1e-9)
    labs = srgb_to_lab(LEVELS / 255)
    assert (STANDARD.levels(labs) == screen_rgb(labs)).all()


def test_a_screen_of_other_primaries_and_powers_is_as_colour_science_has_it() -> None:
    """colour-science's RGB space of the same primaries, white and power, by linear Bradford."""
    theirs = colour.RGB_Colourspace("wide", np.array(WIDE_XY), np.array(D65_XY))
    d50 = colour.XYZ_to_xy(white("D50"))
    xyz = colour.RGB_to_XYZ(
        (LEVELS / 255) ** 2.2, theirs, d50, chromatic_adaptation_transform="Bradford"
    )
    assert np.allclose(WIDE.lab(LEVELS), colour.XYZ_to_Lab(xyz, d50), atol=0.02)


def test_black_adds_light_and_white_stays_white() -> None:
    black, full = UNEVEN.lab([[0, 0, 0], [255, 255, 255]])
    # Y of 0.4 % of white is L* 3.6 (CIE 015:2018, the straight part: 903.3 Y).
    assert black == pytest.approx([0.004 * 903.3, 0.0, 0.0], abs=0.01)
    assert full == pytest.approx([100.0, 0.0, 0.0], abs=1e-6)


@pytest.mark.parametrize("screen", [STANDARD, UNEVEN, WIDE])
def test_levels_come_back_from_what_they_show(screen: Screen) -> None:
    assert (screen.levels(screen.lab(LEVELS)) == LEVELS).all()
    assert screen.shows(screen.lab(LEVELS)).all()


@given(st.tuples(*[st.integers(12, 243)] * 3), st.tuples(*[st.floats(1.8, 2.6)] * 3))
def test_what_is_drawn_for_a_screen_is_seen_on_it(
    level: tuple[int, int, int], given_powers: tuple[float, float, float]
) -> None:
    """Each colour an sRGB screen shows, within about a level of any like screen."""
    lab = srgb_to_lab(np.array(level) / 255)
    screen = Screen(powers(given_powers))
    if screen.shows(lab):
        assert delta_e00(screen.lab(screen.levels(lab)), lab) < 0.8


def test_what_a_screen_can_not_show_is_said() -> None:
    pure_green = srgb_to_lab(np.array([0.0, 1.0, 0.0]))
    wide_green = WIDE.lab([0, 255, 0])
    assert STANDARD.shows(pure_green)
    assert not STANDARD.shows(wide_green)
    assert WIDE.shows(pure_green)
    assert not UNEVEN.shows((1.0, 0.0, 0.0))
