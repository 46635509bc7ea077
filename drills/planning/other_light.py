"""The same swatch under other light: a match may fall apart under a lamp (metamerism)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.recover import try_recover
from drills.colour.spaces import reflectance_to_lab
from drills.layering.films import FloatArray

LAMPS = ("D50", "D65", "A", "LED-B3")
"""Daylights D50 and D65, a warm lamp (A), a white LED (LED-B3, CIE 015:2018)."""

LAMP_WORDS = {
    "D50": "daylight at noon (D50)",
    "D65": "cool daylight (D65)",
    "A": "a warm lamp (A)",
    "LED-B3": "a white LED (B3)",
}

FALLS_APART = 2.0
"""ΔE00 by which a match must worsen under a lamp to be called out; our estimate."""


def misses(
    reflectance: FloatArray, target: FloatArray, lamps: Sequence[str] = LAMPS
) -> dict[str, FloatArray]:
    """ΔE00 (...) of reflectance (..., 31) from the target's (31,) under each of ``lamps``.

    Each is seen by an eye adapted to that lamp (Lab under its own white).
    """
    return {
        lamp: delta_e00(reflectance_to_lab(reflectance, lamp), reflectance_to_lab(target, lamp))
        for lamp in lamps
    }


def spectrum_of(lab: FloatArray) -> FloatArray | None:
    """A smooth reflectance (31,) for a colour known only as Lab (3,); None if there is none."""
    reflectance, met = try_recover(np.asarray(lab, dtype=np.float64).reshape(1, 3))
    return reflectance[0] if met[0] else None
