"""Reflectance → XYZ → Lab → screen, against colour-science and the standards."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.colour import spaces
from drills.colour.data import tables

# colour-science says each time that it cuts its observer to our 400–700 nm: as meant.
pytestmark = pytest.mark.filterwarnings("ignore::colour.utilities.ColourRuntimeWarning")

unit = st.floats(0, 1)
rgbs = st.tuples(unit, unit, unit)
labs = st.tuples(st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120))
SHAPE = colour.SpectralShape(400, 700, 10)


def colour_checker() -> dict[str, colour.SpectralDistribution]:
    """ColorChecker spectra of Ohta (1997), from colour-science."""
    return {
        name: sd.copy().align(SHAPE)
        for name, sd in colour.SDS_COLOURCHECKERS["ColorChecker N Ohta"].items()
    }


@pytest.mark.parametrize("light", tables.ILLUMINANTS)
def test_xyz_of_colour_checker_spectra_follow_astm_e308(light: str) -> None:
    """colour-science, ``sd_to_XYZ_ASTME308`` on the same 400–700 nm by 10 nm."""
    for sd in colour_checker().values():
        theirs = colour.sd_to_XYZ(
            sd,
            colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"],
            colour.SDS_ILLUMINANTS[light],
            method="ASTM E308",
        )
        np.testing.assert_allclose(
            spaces.reflectance_to_xyz(sd.values, light), theirs, rtol=1e-6, atol=1e-6
        )


@given(st.lists(labs, min_size=1, max_size=20))
def test_lab_follows_cie_1976_as_colour_science_has_it(many: list[tuple[float, ...]]) -> None:
    white = tables.white("D50")
    xyz = spaces.lab_to_xyz(many)
    theirs = colour.Lab_to_XYZ(many, colour.XYZ_to_xy(white)) * 100
    np.testing.assert_allclose(xyz, theirs, atol=1e-8)


def test_lab_is_straight_in_the_dark_and_a_cube_root_above() -> None:
    """CIE 015:2018, 8.2.1.1: L* = 903.3 Y/Yn up to Y/Yn = 0.008856."""
    white = tables.white("D50")
    assert spaces.xyz_to_lab(white * 0.005)[0] == pytest.approx(903.2963 * 0.005, abs=1e-6)
    assert spaces.xyz_to_lab(white * 0.125)[0] == pytest.approx(116 * 0.5 - 16, abs=1e-9)


@given(labs)
def test_lab_and_xyz_round_trip(lab: tuple[float, float, float]) -> None:
    np.testing.assert_allclose(spaces.xyz_to_lab(spaces.lab_to_xyz(lab)), lab, atol=1e-8)


@given(labs)
def test_lab_and_lch_round_trip(lab: tuple[float, float, float]) -> None:
    lch = spaces.lab_to_lch(lab)
    assert 0 <= lch[2] < 360
    assert lch[1] >= 0
    np.testing.assert_allclose(spaces.lch_to_lab(lch), lab, atol=1e-9)


@given(rgbs)
def test_screen_round_trip(rgb: tuple[float, float, float]) -> None:
    np.testing.assert_allclose(spaces.lab_to_srgb(spaces.srgb_to_lab(rgb)), rgb, atol=1e-7)


def test_screen_white_is_exactly_the_paper_of_lab() -> None:
    np.testing.assert_allclose(spaces.srgb_to_lab([1, 1, 1]), [100, 0, 0], atol=1e-10)


def test_screen_greys_have_no_chroma() -> None:
    greys = spaces.srgb_to_lab(np.linspace(0, 1, 256)[:, None] * np.ones(3))
    np.testing.assert_allclose(greys[:, 1:], 0, atol=1e-10)


@given(st.lists(rgbs, min_size=1, max_size=20))
def test_srgb_agrees_with_colour_science(many: list[tuple[float, ...]]) -> None:
    """IEC 61966-2-1 with Bradford to D50, by colour-science's own matrices.

    The standard prints its matrix to four places; ΔXYZ under 0.05 is that rounding
    and the cut spectrum of our D50.
    """
    theirs = colour.sRGB_to_XYZ(
        many,
        illuminant=colour.XYZ_to_xy(tables.white("D50")),
        chromatic_adaptation_transform="Bradford",
    )
    np.testing.assert_allclose(spaces.lab_to_xyz(spaces.srgb_to_lab(many)), theirs * 100, atol=0.05)


def test_bradford_agrees_with_colour_science() -> None:
    d50, d65 = tables.white("D50"), tables.white("D65")
    xyz = np.array([[20.0, 12.0, 3.0], [5.0, 9.0, 40.0]])
    theirs = colour.chromatic_adaptation(xyz, d50, d65, method="Von Kries", transform="Bradford")
    ours = spaces.bradford(xyz, d50, d65)
    np.testing.assert_allclose(ours, theirs, rtol=1e-6)
    np.testing.assert_allclose(spaces.bradford(d50, d50, d65), d65, rtol=1e-12)
    np.testing.assert_allclose(spaces.bradford(ours, d65, d50), xyz, rtol=1e-10)


def test_css_sample_of_lab() -> None:
    """CSS Color 4, example of lab(): lab(29.2345% 39.3825 20.0664) is #7d2329."""
    assert spaces.hex_of((29.2345, 39.3825, 20.0664)) == "#7d2329"


def test_gamut_is_judged_to_half_a_level_of_the_screen() -> None:
    assert spaces.in_screen_gamut(spaces.srgb_to_lab([1, 0, 0]))
    assert spaces.in_screen_gamut(spaces.srgb_to_lab([1 + 0.4 / 255, 0, 0]))
    assert not spaces.in_screen_gamut(spaces.srgb_to_lab([1 + 0.7 / 255, 0, 0]))
    assert not spaces.in_screen_gamut((50, 100, 0))
    assert spaces.in_screen_gamut(np.zeros((4, 5, 3))).shape == (4, 5)


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_a_screen_colour_is_shown_as_itself(levels: tuple[int, int, int]) -> None:
    lab = spaces.srgb_to_lab(np.array(levels) / 255)
    assert spaces.screen_rgb(lab).tolist() == list(levels)
    np.testing.assert_allclose(spaces.shown_lab(lab), lab, atol=1e-9)
    assert spaces.hex_of(lab) == "#{:02x}{:02x}{:02x}".format(*levels)


def test_any_shape_stands_before_the_last_axis() -> None:
    reflectance = np.full((2, 3, 31), 0.18)
    lab = spaces.reflectance_to_lab(reflectance)
    assert lab.shape == (2, 3, 3)
    # A flat 18 % grey has L* 49.5 (CIE 1976) and no chroma.
    np.testing.assert_allclose(lab, np.broadcast_to([49.496, 0, 0], (2, 3, 3)), atol=1e-3)
