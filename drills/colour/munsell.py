"""Munsell notation (ASTM D1535) of a colour, and the colour of a notation.

The renotation is given under illuminant C; our Lab is under D50. Between them
we go by the Bradford transform, with the renotation's own white (x 0.31006,
y 0.31616) made ours, so that every grey is exactly neutral.
"""

from __future__ import annotations

import re
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from drills.basics.errors import InputError, plain
from drills.colour import renotation
from drills.colour.data.tables import FloatArray, white
from drills.colour.spaces import Lab, bradford_matrix, lab_to_xyz, row_by_row, xyz_to_lab

HUE_LETTERS = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")

_NUMBER = r"([0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_HUED = re.compile(rf"{_NUMBER}\s*(RP|YR|GY|BG|PB|R|Y|G|B|P)\s*{_NUMBER}\s*/\s*{_NUMBER}", re.I)
_NEUTRAL = re.compile(rf"N\s*{_NUMBER}\s*/?(?:\s*0+(?:\.0*)?)?", re.I)

_REMEDY = "Write hue, value and chroma as in 5R 4/10, or a grey as in N 5."


def munsell_to_lab(text: str) -> Lab:
    """Lab of one notation such as ``5R 4/10``, ``2.5PB 3.5/6.2`` or ``N 5``.

    Raises InputError for anything else, for a value over 10, a hue number over
    10, and a chroma beyond the renotation's limits for its hue and value.
    """
    where = f"colour '{plain(text)}'"
    grey = _NEUTRAL.fullmatch(text.strip())
    if grey:
        hue, value, chroma = 0.0, float(grey[1]), 0.0
    else:
        hued = _HUED.fullmatch(text.strip())
        if hued is None:
            raise InputError(where, "not a Munsell notation", _REMEDY)
        step, value, chroma = float(hued[1]), float(hued[3]), float(hued[4])
        if step > 10:
            raise InputError(where, "a Munsell hue number goes from 0 to 10", _REMEDY)
        hue = (10 * HUE_LETTERS.index(hued[2].upper()) + step) % 100
    if value > 10:
        raise InputError(where, "a Munsell value goes from 0 to 10", _REMEDY)
    limit = float(renotation.max_chroma(hue, value))
    if chroma > limit:
        raise InputError(
            where,
            "no surface is so bright at that hue and value",
            f"Give a chroma of at most {limit:g}.",
        )
    L, a, b = coordinates_to_lab(hue, value, chroma).tolist()
    return (L, a, b)


def coordinates_to_lab(hue: ArrayLike, value: ArrayLike, chroma: ArrayLike) -> FloatArray:
    """Lab (..., 3) of Munsell hue 0–100 (5R is 5, 5YR 15 …), value 0–10 and chroma."""
    xy = renotation.chromaticity(hue, value, chroma)
    Y = np.broadcast_to(renotation.luminance(value), xy.shape[:-1])
    xyz = np.stack([xy[..., 0], xy[..., 1], 1 - xy.sum(axis=-1)], axis=-1)
    return xyz_to_lab(xyz * (Y / xy[..., 1])[..., None] @ _matrices()[0])


def lab_to_coordinates(lab: ArrayLike) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Munsell hue (0–100), value (0–10) and chroma, each of shape (n,), of Lab (n, 3).

    Beyond the renotation's limits the grid is continued; see ``renotation``.
    """
    xyz = row_by_row(lab_to_xyz(lab), _matrices()[1])
    V = renotation.value(xyz[..., 1])
    total = xyz.sum(axis=-1, keepdims=True)
    seen = (total > 1e-9) & (V[..., None] > 1e-6)
    xy = np.where(seen, xyz[..., :2] / np.where(seen, total, 1.0), renotation.WHITE_XY)
    hue, chroma = renotation.coordinates(xy, V)
    return hue, V, chroma


def lab_to_munsell(lab: ArrayLike) -> list[str]:
    """The notations of Lab (n, 3), or of one Lab (3,), to a tenth; value under 1 to a hundredth."""
    given = np.asarray(lab, dtype=np.float64).reshape(-1, 3)
    columns = (column.tolist() for column in lab_to_coordinates(given))
    return [_notation(*one) for one in zip(*columns, strict=True)]


def munsell_value(lab: ArrayLike) -> FloatArray:
    """Munsell value V (0–10), shape (...), of Lab (..., 3).

    From the luminance under illuminant C, as in the notation, so that a bright
    blue or red is given up to a third of a step from what its L* alone says.
    """
    return renotation.value(row_by_row(lab_to_xyz(lab), _matrices()[1][:, 1:2])[..., 0])


@lru_cache(maxsize=1)
def _matrices() -> tuple[FloatArray, FloatArray]:
    """XYZ under C → under D50, and back, for row vectors."""
    x, y = renotation.WHITE_XY.tolist()
    white_c = np.array([x, y, 1 - x - y]) * (100 / y)
    return bradford_matrix(white_c, white("D50")), bradford_matrix(white("D50"), white_c)


def _notation(hue: float, value: float, chroma: float) -> str:
    # Near black a tenth of value is much, and value 0 is black alone.
    V, C = f"{round(value, 2 if value < 1 else 1):g}", f"{round(chroma, 1):g}"
    if C == "0" or V == "0":
        return f"N {V}"
    tenths = round(hue * 10) % 1000
    letter, step = divmod(tenths, 100)
    if step == 0:
        # 0YR is written 10R.
        letter, step = letter - 1, 100
    return f"{step / 10:g}{HUE_LETTERS[letter]} {V}/{C}"
