"""The twelve-part wheel on CIECAM16 hue composition."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from colour.notation import MUNSELL_COLOURS
from hypothesis import given
from hypothesis import strategies as st

from drills.colour import hue, spaces
from drills.colour.data import tables
from drills.colour.munsell import coordinates_to_lab

labs = st.tuples(st.floats(1, 99), st.floats(-100, 100), st.floats(-100, 100))
places = st.floats(0, 12, exclude_max=True)


def sample() -> np.ndarray:
    return spaces.srgb_to_lab(np.random.default_rng(16).uniform(0, 1, (4000, 3)))


def cam16() -> colour.CAM_Specification_CIECAM16:
    return colour.XYZ_to_CIECAM16(
        spaces.lab_to_xyz(sample()), tables.white("D50"), hue.L_A, 20, discount_illuminant=True
    )


def test_chroma_is_that_of_ciecam16() -> None:
    """CIE 248:2022 by colour-science, average surround, white D50, full adaptation."""
    np.testing.assert_allclose(hue.cam_chroma(sample()), cam16().C, atol=1e-9)


def test_hue_composition_is_that_of_ciecam16() -> None:
    """CIE 248:2022 by colour-science, from unique red through yellow and green to unique blue.

    From blue to red, colour-science goes through a fifth anchor at h = 360
    that CIE 248 doesn't have; there ours is held to the printed formula.
    """
    theirs, ours = cam16(), hue.hue_composition(sample())
    shared = (theirs.h > 20.14) & (theirs.h < 237.53)
    assert shared.mean() > 0.4
    np.testing.assert_allclose(ours[shared], theirs.H[shared], atol=1e-9)
    last = ~shared
    h = np.where(theirs.h < 20.14, theirs.h + 360, theirs.h)[last]
    before, after = (h - 237.53) / 1.2, (380.14 - h) / 0.8
    expected = (300 + 100 * before / (before + after)) % 400
    np.testing.assert_allclose(ours[last], expected, atol=1e-8)
    assert np.abs(theirs.H[last] - ours[last]).max() < 6


def test_viewing_conditions_are_those_of_judging_prints() -> None:
    """ISO 3664:2009 P2: 500 lx, so L_A = 500/π × 0.2 with Y_b = 20."""
    assert pytest.approx(31.83, abs=0.01) == hue.L_A


# Which families each of Munsell's ten hues, at its 5, may read as (chroma 6 and
# up, values 3–8 of the real renotation). Hues between two of our centres get both.
MUNSELL_FAMILIES = {
    "R": {"red"},
    "YR": {"orange", "yellow-orange"},
    "Y": {"yellow"},
    "GY": {"yellow-green"},
    "G": {"green"},
    "BG": {"blue-green"},
    "B": {"blue", "blue-green"},
    "PB": {"blue", "blue-violet"},
    "P": {"violet"},
    "RP": {"red-violet"},
}


@pytest.mark.parametrize("letter", MUNSELL_FAMILIES)
def test_munsell_hue_names_are_our_families(letter: str) -> None:
    """Munsell renotation (Newhall, Nickerson & Judd 1943) through colour-science's data."""
    real = [
        (value, chroma)
        for (name, value, chroma), _ in MUNSELL_COLOURS["Munsell Colours Real"]
        if name == f"5{letter}" and chroma >= 6 and 3 <= value <= 8
    ]
    assert len(real) > 10
    around = list(MUNSELL_FAMILIES).index(letter) * 10 + 5
    values, chromas = np.array(real).T
    names = {hue.FAMILIES[i] for i in hue.family_index(coordinates_to_lab(around, values, chromas))}
    assert names <= MUNSELL_FAMILIES[letter]


def test_munsell_hues_run_round_the_wheel_in_order() -> None:
    """All forty hues at 6/8, from 5Y on: positions fall steadily once round."""
    hues = (25 - 2.5 * np.arange(41)) % 100
    positions = hue.wheel_position(coordinates_to_lab(hues, 6, 8))
    steps = (np.diff(positions) + 6) % 12 - 6
    assert (steps > 0).all()
    assert steps.sum() == pytest.approx(12)


def test_unique_hues_stand_at_their_places() -> None:
    """CIE 248:2022, table of unique hues: a colour made at h has H = 0, 100, 200, 300."""
    for h, H, position in [(20.14, 0, 4), (90, 100, 1 / 3), (164.25, 200, 10), (237.53, 300, 8)]:
        made = colour.CIECAM16_to_XYZ(
            colour.CAM_Specification_CIECAM16(J=60, C=30, h=h),
            tables.white("D50"),
            hue.L_A,
            20,
            discount_illuminant=True,
        )
        lab = spaces.xyz_to_lab(made)
        assert (float(hue.hue_composition(lab)) - H + 200) % 400 - 200 == pytest.approx(0, abs=1e-6)
        assert hue.wheel_steps(hue.wheel_position(lab), position) == pytest.approx(0, abs=1e-6)


def test_a_blue_paled_with_white_stays_blue() -> None:
    """What CIELAB hue angle gets wrong: along it, tints of one blue turn violet.

    Munsell 5PB is one hue to the eye from full to pale (the renotation's own claim).
    """
    row = coordinates_to_lab(75, [3, 4, 5, 6, 7, 8], [12, 12, 10, 8, 6, 4])
    cielab, ours = spaces.lab_to_lch(row)[:, 2], hue.hue_composition(row)
    # 360° and 400 steps go round: compare as parts of a turn.
    assert np.ptp(cielab) / 360 > 0.025
    assert np.ptp(ours) / 400 < 0.25 * np.ptp(cielab) / 360


def test_complements_are_itten_s_six_pairs() -> None:
    """Itten (1961), The Art of Color: opposites of the twelve-part circle."""
    pairs = [
        ("yellow", "violet"),
        ("yellow-orange", "blue-violet"),
        ("orange", "blue"),
        ("red-orange", "blue-green"),
        ("red", "green"),
        ("red-violet", "yellow-green"),
    ]
    for one, other in pairs:
        assert hue.complement(one) == other
        assert hue.complement(other) == one
    assert {name for pair in pairs for name in pair} == set(hue.FAMILIES)


def test_complement_of_no_family_is_refused() -> None:
    with pytest.raises(ValueError, match="mauve"):
        hue.complement("mauve")


@given(labs)
def test_family_is_the_nearest_centre(lab: tuple[float, float, float]) -> None:
    position, index = float(hue.wheel_position(lab)), int(hue.family_index(lab))
    assert 0 <= position < 12
    assert float(hue.wheel_steps(position, index)) <= 0.5 + 1e-9
    assert hue.family(lab) == hue.FAMILIES[index]
    assert 0 <= float(hue.hue_composition(lab)) < 400


@given(places, places, places)
def test_wheel_steps_is_a_metric_of_at_most_six(a: float, b: float, c: float) -> None:
    ab, ba = float(hue.wheel_steps(a, b)), float(hue.wheel_steps(b, a))
    assert ab == ba
    assert 0 <= ab <= 6
    assert float(hue.wheel_steps(a, a)) == 0
    assert ab <= float(hue.wheel_steps(a, c)) + float(hue.wheel_steps(c, b)) + 1e-9


@given(places, places, st.floats(-30, 30))
def test_turning_the_wheel_changes_no_steps(a: float, b: float, turn: float) -> None:
    turned = hue.wheel_steps((a + turn) % 12, (b + turn) % 12)
    assert float(turned) == pytest.approx(float(hue.wheel_steps(a, b)), abs=1e-9)


@given(st.sampled_from(hue.FAMILIES))
def test_complement_is_six_steps_off_and_back(name: str) -> None:
    other = hue.complement(name)
    assert hue.complement(other) == name
    assert hue.wheel_steps(hue.FAMILIES.index(name), hue.FAMILIES.index(other)) == 6


def test_lemons_are_yellows_and_unripe_greens_are_not() -> None:
    """ISCC–NBS (Kelly & Judd 1976, from memory): greenish yellow about 9Y, yellow green 5GY."""
    assert hue.family(coordinates_to_lab(29, 8, 12)) == "yellow"
    assert hue.family(coordinates_to_lab(35.4, 7, 11)) == "yellow-green"


def test_shapes_are_kept() -> None:
    many = np.full((3, 4, 3), 40.0)
    for function in (hue.hue_composition, hue.cam_chroma, hue.wheel_position, hue.family_index):
        assert function(many).shape == (3, 4)
        assert function(many[0, 0]).shape == ()


def test_black_and_white_break_nothing() -> None:
    with np.errstate(all="raise"):
        ends = np.array([[0, 0, 0], [100, 0, 0], [0, 1e-9, 0], [50, 0, 0]], dtype=float)
        assert np.isfinite(hue.wheel_position(ends)).all()
        assert hue.cam_chroma(ends).max() < 0.1
