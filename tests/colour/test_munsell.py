"""Munsell notation both ways, against the renotation and colour-science."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from colour.colorimetry import luminance_ASTMD1535
from colour.notation import MUNSELL_COLOURS
from hypothesis import given
from hypothesis import strategies as st

from drills.basics.errors import InputError
from drills.colour import munsell, renotation, spaces
from drills.colour.data import tables
from drills.colour.difference import delta_e00

# colour-science says when a vivid colour lies near the MacAdam limits: as meant.
pytestmark = pytest.mark.filterwarnings("ignore::colour.utilities.ColourUsageWarning")

REAL = MUNSELL_COLOURS["Munsell Colours Real"]
LETTERS = munsell.HUE_LETTERS
units = st.floats(0, 1)


def lab_of_xyY(xyY: np.ndarray) -> np.ndarray:
    """Lab under D50 of xyY (Y to 1) under illuminant C, by colour-science's XYZ and Bradford."""
    white_c = colour.xy_to_XYZ(renotation.WHITE_XY) * 100
    return spaces.xyz_to_lab(
        colour.chromatic_adaptation(
            colour.xyY_to_XYZ(xyY) * 100,
            white_c,
            tables.white("D50"),
            method="Von Kries",
            transform="Bradford",
        )
    )


def hue_of(name: str) -> float:
    letter = name.lstrip("0123456789.")
    return 10 * LETTERS.index(letter) + float(name.removesuffix(letter))


def random_real(count: int, seed: int) -> list[tuple[float, float, float]]:
    """Hues, values and chromas inside the real renotation, between its colours."""
    reach: dict[tuple[float, float], float] = {}
    for (name, value, chroma), _ in REAL:
        key = (hue_of(name) % 100, value)
        reach[key] = max(reach.get(key, 0), chroma)
    rng = np.random.default_rng(seed)
    found: list[tuple[float, float, float]] = []
    while len(found) < count:
        hue, value = rng.uniform(0, 100), rng.uniform(1, 9)
        low = 2.5 * (hue // 2.5)
        corners = [
            (h % 100, float(v)) for h in (low, low + 2.5) for v in (value // 1, value // 1 + 1)
        ]
        limit = min(reach.get(corner, 0) for corner in corners)
        if limit >= 2:
            found.append((hue, value, rng.uniform(0.2, limit)))
    return found


def written(hue: float, value: float, chroma: float) -> str:
    letter = int(hue // 10)
    return f"{hue - 10 * letter:.6f}{LETTERS[letter]} {value:.6f}/{chroma:.6f}"


def test_grid_colours_are_exactly_the_renotation_s() -> None:
    """Newhall, Nickerson & Judd (1943), every real colour; x, y as printed.

    The published "real" and "all" files differ in two colours, 10Y 4/2 and
    2.5R 9/2; colour-science converts by "all", which runs the more smoothly.
    """
    everything = dict(MUNSELL_COLOURS["Munsell Colours All"])
    hues, values, chromas = np.array([(hue_of(n), v, c) for (n, v, c), _ in REAL]).T
    xy = renotation.chromaticity(hues % 100, values, chromas)
    np.testing.assert_allclose(xy, [everything[spec][:2] for spec, _ in REAL], atol=1e-12)
    misprints = np.abs(xy - [xyY[:2] for _, xyY in REAL]).max(axis=1) > 1e-9
    assert misprints.sum() == 2


def test_between_grid_colours_agrees_with_colour_science() -> None:
    """``munsell_colour_to_xyY`` (Centore 2012), 150 random colours in the real renotation."""
    errors = []
    for one in random_real(150, seed=1943):
        theirs = lab_of_xyY(colour.munsell_colour_to_xyY(written(*one)))
        errors.append(float(delta_e00(munsell.coordinates_to_lab(*one), theirs)))
    assert max(errors) < 0.6
    assert np.mean(errors) < 0.06


def test_inverse_agrees_with_colour_science() -> None:
    """``xyY_to_munsell_specification`` on 12 screen colours between values 1 and 9."""
    rng = np.random.default_rng(12)
    labs = spaces.srgb_to_lab(rng.uniform(0.1, 0.9, (12, 3)))
    hues, values, chromas = munsell.lab_to_coordinates(labs)
    white_c = colour.xy_to_XYZ(renotation.WHITE_XY) * 100
    xyz = spaces.bradford(spaces.lab_to_xyz(labs), tables.white("D50"), white_c)
    compared = 0
    for i, one in enumerate(xyz):
        try:
            found = colour.notation.munsell.xyY_to_munsell_specification(
                [*(one[:2] / one.sum()), one[1] / 100]
            )
        except RuntimeError:
            continue  # colour-science's search gives up on some colours
        hue = colour.notation.munsell.hue_to_ASTM_hue([found[0], found[3]])
        apart = abs((hue - hues[i] + 50) % 100 - 50)
        assert apart * 2 * np.pi / 100 * chromas[i] < 0.25  # along the circle, in chroma steps
        assert chromas[i] == pytest.approx(found[2], abs=0.25)
        assert values[i] == pytest.approx(found[1], abs=2e-3)
        compared += 1
    assert compared > 7


def test_value_is_the_polynomial_of_astm_d1535() -> None:
    """ASTM D1535 by colour-science, both ways."""
    V = np.linspace(0, 10, 301)
    np.testing.assert_allclose(renotation.luminance(V), luminance_ASTMD1535(V), atol=1e-10)
    Y = renotation.luminance(V)
    np.testing.assert_allclose(renotation.value(Y), V, atol=1e-9)
    np.testing.assert_allclose(renotation.value(Y), colour.munsell_value(Y), atol=1e-3)


def test_value_order_is_lightness_order() -> None:
    """In each hue and chroma of the renotation, L* rises with value."""
    rows: dict[tuple[str, float], list[tuple[float, float]]] = {}
    for (name, value, chroma), xyY in REAL:
        # The renotation's Y is on magnesium oxide's scale (ASTM D1535, 0.975).
        L = spaces.xyz_to_lab([0, xyY[2] * 0.975, 0])[0]
        rows.setdefault((name, chroma), []).append((value, L))
    assert len(rows) > 200
    for row in rows.values():
        ordered = [L for _, L in sorted(row)]
        assert ordered == sorted(ordered)
        for value, L in row:
            assert abs(L / 10 - value) < 0.35


@given(units, units, units)
def test_any_screen_colour_has_a_place_and_comes_back(r: float, g: float, b: float) -> None:
    lab = spaces.srgb_to_lab([[r, g, b]])
    hue, value, chroma = munsell.lab_to_coordinates(lab)
    assert 0 <= hue[0] < 100
    assert 0 <= value[0] <= 10
    assert chroma[0] >= 0
    # Under a thousandth of full light there is no hue to keep.
    if lab[0, 0] > 0.5:
        back = munsell.coordinates_to_lab(hue, value, chroma)
        assert float(delta_e00(lab, back)[0]) < 1e-3


@given(units, units, units)
def test_a_printed_notation_can_be_read_again(r: float, g: float, b: float) -> None:
    """Printing to a tenth costs less than one ΔE00, and never a refusal."""
    lab = spaces.srgb_to_lab([r, g, b])
    (text,) = munsell.lab_to_munsell(lab)
    if lab[0] > 5:
        assert float(delta_e00(lab, munsell.munsell_to_lab(text))) < 1.0
    else:
        munsell.munsell_to_lab(text)


def test_every_corner_of_the_screen_has_a_notation() -> None:
    steps = np.linspace(0, 1, 12)
    cube = np.stack(np.meshgrid(steps, steps, steps), -1).reshape(-1, 3)
    dark = np.random.default_rng(3).uniform(0, 0.06, (500, 3))
    labs = spaces.srgb_to_lab(np.vstack([cube, dark]))
    hue, value, chroma = munsell.lab_to_coordinates(labs)
    back = munsell.coordinates_to_lab(hue, value, chroma)
    seen = labs[:, 0] > 0.5
    assert delta_e00(labs, back)[seen].max() < 1e-3
    assert len(munsell.lab_to_munsell(labs)) == len(labs)


def test_colours_beyond_the_screen_still_have_a_notation() -> None:
    for lab in [
        (50, 100, 0),
        (50, -120, 60),
        (80, 0, 140),
        (20, 60, -110),
        (5, 90, 0),
        (99, 80, 80),
    ]:
        (text,) = munsell.lab_to_munsell(lab)
        assert "nan" not in text


@pytest.mark.parametrize(
    ("text", "again"),
    [
        ("5R 4/10", "5R 4/10"),
        ("N 5", "N 5"),
        ("N5/", "N 5"),
        ("n 5/0", "N 5"),
        ("2.5PB 3.5/6.2", "2.5PB 3.5/6.2"),
        (" 7.5 gy 6 / 8 ", "7.5GY 6/8"),
        ("0YR 5/6", "10R 5/6"),
        ("10RP 5/6", "10RP 5/6"),
        ("5G 5/0", "N 5"),
        ("N 0", "N 0"),
        ("N 10", "N 10"),
        ("5PB 0.6/4", "5PB 0.6/4"),
        ("5Y 9.5/6", "5Y 9.5/6"),
    ],
)
def test_notations_are_read_and_written(text: str, again: str) -> None:
    assert munsell.lab_to_munsell(munsell.munsell_to_lab(text)) == [again]


def test_greys_are_exactly_neutral() -> None:
    lab = np.array([munsell.munsell_to_lab(f"N {value}") for value in range(11)])
    np.testing.assert_allclose(lab[:, 1:], 0, atol=1e-9)
    np.testing.assert_allclose(lab[[0, 10], 0], [0, 100], atol=0.01)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("5R 4", "not a Munsell notation"),
        ("5Q 4/10", "not a Munsell notation"),
        ("R 4/10", "not a Munsell notation"),
        ("5R 4/-1", "not a Munsell notation"),
        ("5R 4/1e5", "not a Munsell notation"),
        ("٥R 4/10", "not a Munsell notation"),
        ("N", "not a Munsell notation"),
        ("11R 4/10", "from 0 to 10"),
        ("5R 10.5/2", "from 0 to 10"),
        ("N 11", "from 0 to 10"),
        ("5R 4/60", "no surface is so bright"),
        ("5Y 1/10", "no surface is so bright"),
    ],
)
def test_bad_notations_are_refused_with_a_remedy(text: str, fault: str) -> None:
    with pytest.raises(InputError, match=fault) as caught:
        munsell.munsell_to_lab(text)
    assert caught.value.remedy
    assert "\n" not in str(caught.value)


def test_value_of_a_lab_is_the_value_of_its_notation() -> None:
    for text in ("5R 4/10", "5PB 3/12", "5Y 8/12", "N 6"):
        lab = munsell.munsell_to_lab(text)
        value = float(text.split(" ")[1].split("/")[0])
        assert float(munsell.munsell_value(lab)) == pytest.approx(value, abs=1e-6)
