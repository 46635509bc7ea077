"""Tinted light: what it does to a colour, and how much of it an eye takes off again."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.colour.cast import (
    adapted_lab,
    cast_on,
    fitting_exposure,
    lights,
    mixed_light,
    unadapted_lab,
)
from drills.colour.data.tables import weights, white
from drills.colour.spaces import in_screen_gamut, lab_to_xyz, reflectance_to_lab, xyz_to_lab
from drills.layering.paper import drawing_paper

PAPER = drawing_paper().reflectance
LAMP = mixed_light("a lamp", {"A": 1.0})


@pytest.mark.parametrize("light", lights(), ids=lambda light: light.words)
@pytest.mark.parametrize("degree", [0.0, 0.35, 0.8, 1.0])
def test_partial_adaptation_is_zhai_and_luos(light, degree):
    # Zhai & Luo (2018), Optics Express 26, 7724, eqs 4-5, as colour-science has them, with CAT16;
    # an eye in daylight and the reference white are both our D50.
    xyz = np.array([[30.0, 22.0, 8.0], [12.0, 20.0, 31.0], [70.0, 75.0, 40.0]])
    d50 = white("D50")
    theirs = colour.adaptation.chromatic_adaptation_Zhai2018(
        xyz, light.white, d50, D_b=degree, D_d=1.0, XYZ_wo=d50, transform="CAT16"
    )
    assert adapted_lab(xyz, light, degree) == pytest.approx(xyz_to_lab(theirs), abs=1e-6)


def test_a_light_of_one_illuminant_has_its_white():
    # CIE 015:2018: A is x 0.4476, y 0.4074. Weights by 10 nm come within a few ten-thousandths.
    x, y = LAMP.white[:2] / LAMP.white.sum()
    assert (x, y) == pytest.approx((0.4476, 0.4074), abs=5e-4)


def test_light_adds():
    half = mixed_light("both", {"A": 0.5, "D50": 0.5})
    assert half.weights == pytest.approx(0.5 * (weights("A") + weights("D50")))
    assert half.white[1] == pytest.approx(100.0)


@pytest.mark.parametrize("light", lights(), ids=lambda light: light.words)
def test_a_whole_adaptation_makes_white_paper_white_again(light):
    seen = adapted_lab(PAPER @ light.weights, light, 1.0)
    assert seen == pytest.approx(reflectance_to_lab(PAPER), abs=1.0)


@pytest.mark.parametrize("light", lights(), ids=lambda light: light.words)
def test_dimmed_enough_a_screen_shows_the_paper_and_no_dimmer_than_needed(light):
    xyz = PAPER @ light.weights
    exposure = fitting_exposure(xyz)
    assert 0.3 < exposure <= 1.0
    assert in_screen_gamut(unadapted_lab(xyz, exposure))
    assert exposure == pytest.approx(0.97) or not in_screen_gamut(
        unadapted_lab(xyz, exposure * 1.06)
    )


colours = st.tuples(st.floats(10.0, 90.0), st.floats(-40.0, 40.0), st.floats(-40.0, 40.0)).map(
    np.array
)


@given(lab=colours, light=st.sampled_from(lights()))
def test_a_cast_put_on_is_taken_off_by_a_whole_adaptation(lab, light):
    assert adapted_lab(cast_on(lab_to_xyz(lab), light), light, 1.0) == pytest.approx(lab, abs=1e-6)


@given(lab=colours, light=st.sampled_from(lights()))
def test_an_eye_that_takes_nothing_off_sees_the_cast_itself(lab, light):
    xyz = cast_on(lab_to_xyz(lab), light)
    assert adapted_lab(xyz, light, 0.0) == pytest.approx(unadapted_lab(xyz), abs=1e-9)


def test_daylight_itself_casts_nothing():
    day = mixed_light("noon", {"D50": 1.0})
    assert unadapted_lab(PAPER @ day.weights) == pytest.approx(reflectance_to_lab(PAPER))
