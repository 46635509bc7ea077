"""Under other light: the planner's misses against colour-science, and a metameric pair."""

from __future__ import annotations

import colour
import numpy as np
import pytest

from drills.colour.data.tables import WAVELENGTHS_NM, weights
from drills.colour.recover import recover_reflectance
from drills.colour.spaces import reflectance_to_lab
from drills.planning.other_light import LAMPS, misses
from drills.planning.plan import NO_SPECTRUM, REACHED_WITHIN, RECOVERED
from drills.planning.plan_words import lamp_note
from drills.planning.planner import evaluate, plan
from drills.planning.search.finished_spectra import finished
from tests.palettes import palette_of

CMFS = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
PATCHES = colour.SDS_COLOURCHECKERS["ISO 17321-1"]


def reflectance_of(patch: str) -> np.ndarray:
    """A ColorChecker patch at 400, 410 … 700 nm (ISO 17321-1, from colour-science)."""
    return np.array([PATCHES[patch][nm] for nm in WAVELENGTHS_NM])


def lab_by_colour_science(reflectance: np.ndarray, lamp: str) -> np.ndarray:
    """Lab by sums over 1 nm, not by our weights: 400–700 nm, the ends carried on."""
    shape = colour.SpectralShape(360, 780, 1)
    wide = np.interp(shape.wavelengths, WAVELENGTHS_NM, reflectance)
    light = colour.SDS_ILLUMINANTS[lamp].copy().align(shape)
    observer = CMFS.copy().align(shape)
    sums = (light.values * np.stack([wide, np.ones_like(wide)])) @ observer.values
    sums *= 100 / sums[1, 1]
    xyz, white = sums
    return np.asarray(colour.XYZ_to_Lab(xyz / 100, colour.XYZ_to_xy(white / 100)))


@pytest.mark.parametrize("text_target", ["dark skin", "foliage", "moderate red", "purplish blue"])
def test_misses_under_every_lamp_are_those_of_colour_science(text_target: str) -> None:
    palette = palette_of("demo")
    target = reflectance_of(text_target)
    answer = plan(palette, (0.0, 0.0, 0.0), reflectance=target)
    assert set(answer.under) == set(LAMPS)
    made = finished(palette, [answer.recipe])[0]
    for lamp, off in answer.under.items():
        theirs = colour.delta_E(
            lab_by_colour_science(made, lamp),
            lab_by_colour_science(target, lamp),
            method="CIE 2000",
        )
        # 10 nm weights against 1 nm sums of straight lines between the same samples.
        assert off == pytest.approx(float(theirs), abs=0.12)


def test_the_prediction_itself_closes_the_loop_in_daylight() -> None:
    palette = palette_of("demo")
    answer = plan(palette, (45.0, 30.0, 20.0))
    made = finished(palette, [answer.recipe])[0]
    np.testing.assert_allclose(reflectance_to_lab(made), answer.predicted_lab, atol=1e-9)
    np.testing.assert_allclose(lab_by_colour_science(made, "D50"), answer.predicted_lab, atol=0.25)


def metamer(reflectance: np.ndarray, like: np.ndarray) -> np.ndarray:
    """Another reflectance of the same XYZ under D50, as unlike it as 0…1 allows.

    Cohen & Kappauf (1982): what of ``like`` the observer under D50 can't see, its
    metameric black, is added.
    """
    seen = weights("D50")
    black = like - seen @ np.linalg.lstsq(seen, like, rcond=None)[0]
    room = np.where(black > 0, 1.0 - reflectance, reflectance) / np.abs(black)
    return reflectance + 0.95 * room.min() * black


def test_a_metameric_pair_matches_in_daylight_and_not_under_the_lamp() -> None:
    first = reflectance_of("neutral 5 (.70 D)")
    second = metamer(first, reflectance_of("magenta"))
    assert second.min() >= 0.0
    assert second.max() <= 1.0
    off = {lamp: float(one) for lamp, one in misses(second, first).items()}
    assert off["D50"] < 1e-9
    assert off["A"] > 2.0
    theirs = colour.delta_E(
        lab_by_colour_science(second, "A"), lab_by_colour_science(first, "A"), method="CIE 2000"
    )
    assert off["A"] == pytest.approx(float(theirs), abs=0.3)


def test_a_match_that_falls_apart_under_a_lamp_is_flagged() -> None:
    palette = palette_of("demo")
    grey = recover_reflectance(plan(palette, (55.0, 0.0, 0.0)).predicted_lab)
    odd = metamer(grey, reflectance_of("magenta"))
    answer = plan(palette, (0.0, 0.0, 0.0), reflectance=odd)
    assert answer.delta_e00 < REACHED_WITHIN
    assert answer.under["A"] > answer.delta_e00 + 2.0
    assert any("falls apart under" in note for note in answer.notes)
    # The same colour with a smooth spectrum holds.
    plain = plan(palette, tuple(reflectance_to_lab(odd).tolist()))
    assert lamp_note(plain.under) is None
    assert not any("falls apart" in note for note in plain.notes)


def test_a_recovered_spectrum_is_owned_up_to() -> None:
    palette = palette_of("pocket")
    assert RECOVERED in plan(palette, (50.0, 20.0, 10.0)).notes
    given = recover_reflectance((50.0, 20.0, 10.0))
    assert RECOVERED not in plan(palette, (50.0, 20.0, 10.0), reflectance=given).notes


def test_a_colour_no_surface_has_is_judged_by_daylight_alone() -> None:
    answer = plan(palette_of("pocket"), (95.0, 90.0, -90.0))
    assert set(answer.under) == {"D50"}
    assert NO_SPECTRUM in answer.notes
    assert evaluate(palette_of("pocket"), [], (95.0, 90.0, -90.0)).under.keys() == {"D50"}
