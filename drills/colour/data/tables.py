"""Published tables: weights that turn a reflectance into XYZ, and the Munsell renotation.

The numbers are made once by ``python -m drills.colour.data.make_tables`` and shipped
in ``data/``, so that the daily start needs no heavy library. Each file is read
on first use and kept.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

DATA = Path(__file__).parent

WAVELENGTHS_NM: FloatArray = np.arange(400.0, 701.0, 10.0)
"""Where every reflectance is sampled: 400–700 nm by 10 nm, shape (31,)."""
WAVELENGTHS_NM.flags.writeable = False

ILLUMINANTS = ("D50", "D65", "A", "C", "LED-B3")
"""CIE daylights D50 and D65, lamp A, old daylight C, and the white LED B3 (CIE 015:2018)."""

MUNSELL_HUES = tuple(
    f"{number:g}{letter}"
    for letter in ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
    for number in (2.5, 5.0, 7.5, 10.0)
)
"""The forty hues of the renotation in circle order, the first axis of ``munsell_grid``."""

MUNSELL_VALUES: FloatArray = np.array([0.2, 0.4, 0.6, 0.8, *range(1, 11)], dtype=np.float64)
"""The values V of the renotation, the second axis of ``munsell_grid``."""
MUNSELL_VALUES.flags.writeable = False

MUNSELL_CHROMAS: FloatArray = np.arange(2.0, 51.0, 2.0)
"""The chromas of the renotation, the third axis of ``munsell_grid``."""
MUNSELL_CHROMAS.flags.writeable = False

NO_CHIP = -32768
"""Marks a place of the stored grid where the renotation gives no colour."""


@lru_cache(maxsize=1)
def _all_weights() -> FloatArray:
    table: FloatArray = np.load(DATA / "weights.npy", allow_pickle=False)
    table.flags.writeable = False
    return table


@lru_cache(maxsize=len(ILLUMINANTS))
def weights(illuminant: str) -> FloatArray:
    """Tristimulus weights W, shape (31, 3), so that XYZ = R @ W with Y = 100 for R = 1.

    CIE 1931 2° observer, weights after ASTM E2022 at 10 nm, with the weights
    beyond 400 and 700 nm added to the end ones (ASTM E308-15, 7.3.2.2).
    ``illuminant`` is one of ``ILLUMINANTS``; another raises KeyError.
    """
    if illuminant not in ILLUMINANTS:
        raise KeyError(illuminant)
    table: FloatArray = _all_weights()[ILLUMINANTS.index(illuminant)]
    return table


@lru_cache(maxsize=len(ILLUMINANTS))
def white(illuminant: str) -> FloatArray:
    """XYZ of the perfect diffuser under ``illuminant``, shape (3,), Y = 100."""
    point: FloatArray = weights(illuminant).sum(axis=0)
    point.flags.writeable = False
    return point


@lru_cache(maxsize=1)
def munsell_grid() -> FloatArray:
    """Chromaticity x, y under illuminant C, shape (40 hues, 14 values, 25 chromas, 2).

    Newhall, Nickerson & Judd (1943) with its extrapolation to the MacAdam
    limits; NaN where the renotation gives no colour.
    """
    stored = np.load(DATA / "munsell.npy", allow_pickle=False)
    grid: FloatArray = np.where(stored == NO_CHIP, np.nan, stored / 1e4)
    grid.flags.writeable = False
    return grid
