"""The shipped tables are what colour-science gives today, and weigh as ASTM E308 says."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from colour.notation import MUNSELL_COLOURS

from drills.colour.data import make_tables, tables


def test_shipped_weights_equal_a_fresh_making() -> None:
    made = np.stack([tables.weights(name) for name in tables.ILLUMINANTS])
    np.testing.assert_allclose(made, make_tables.make_weights(), rtol=0, atol=1e-10)


def test_shipped_renotation_equals_a_fresh_making() -> None:
    stored = np.load(tables.DATA / "munsell.npy")
    np.testing.assert_array_equal(stored, make_tables.make_munsell())


def test_renotation_holds_every_colour_of_colour_science() -> None:
    grid = tables.munsell_grid()
    published = MUNSELL_COLOURS["Munsell Colours All"]
    assert int((~np.isnan(grid[..., 0])).sum()) == len(published)
    values = tables.MUNSELL_VALUES.tolist()
    for (hue, value, chroma), xyY in published[::17]:
        cell = grid[tables.MUNSELL_HUES.index(hue), values.index(value), int(chroma / 2) - 1]
        np.testing.assert_allclose(cell, xyY[:2], atol=1e-9)


@pytest.mark.parametrize("name", tables.ILLUMINANTS)
def test_the_perfect_diffuser_has_y_100(name: str) -> None:
    assert tables.white(name)[1] == pytest.approx(100, abs=1e-9)


def test_whites_are_those_of_the_cie() -> None:
    """CIE 015:2018, table 9.1 (2° observer), as colour-science gives chromaticities.

    Ours differ in the fourth place, for the spectrum is cut at 400 and 700 nm.
    """
    whites = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]
    for name in tables.ILLUMINANTS:
        xyz = tables.white(name)
        np.testing.assert_allclose(xyz[:2] / xyz.sum(), whites[name], atol=4e-4)


def test_an_unknown_light_is_refused() -> None:
    with pytest.raises(KeyError):
        tables.weights("D93")


def test_tables_cannot_be_changed_by_accident() -> None:
    with pytest.raises(ValueError, match="read-only"):
        tables.weights("D50")[0, 0] = 1.0
