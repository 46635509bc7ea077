"""A screen as three curves, a black level and a matrix; from 8-bit levels to Lab and back.

The model of IEC 61966-3 and -4 in its usual short form: each channel's light is a power of its
level, the three add up, and what leaks at black adds to all (a matrix profile of ICC.1:2022,
with a black level). What it leaves out: channels that change each other, and light that differs
over the screen. White is what the eye is adapted to, so Lab here is relative to the screen's
own white.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.data.tables import FloatArray, white
from drills.colour.spaces import bradford_matrix, lab_to_xyz, row_by_row, xyz_to_lab

Triple = tuple[float, float, float]
XY = tuple[float, float]
D65_XY: XY = (0.3127, 0.3290)
D50_XY: XY = (0.3457, 0.3585)
SRGB_XY: tuple[XY, XY, XY] = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
"""Red, green and blue of IEC 61966-2-1 (ITU-R BT.709)."""
WIDE_XY: tuple[XY, XY, XY] = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
"""Those of SMPTE RP 431-2 / EG 432-1 (P3), which most wide screens come near."""
LEVELS = 256
_AROUND = (
    np.array(
        sorted(np.ndindex(3, 3, 3), key=lambda at: sum(part != 1 for part in at)), dtype=np.int64
    )
    - 1
)
"""No step and every step of a level or less, those with fewer channels moved first."""


@dataclass(frozen=True)
class Screen:
    """One screen.

    ``curves``: for each channel the light of its 256 levels, 0 to 1, never falling. ``black``:
    the light that is left at level 0, as a share of white. ``primaries`` and ``white_xy``:
    CIE 1931 chromaticities.
    """

    curves: tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]
    black: float = 0.0
    primaries: tuple[XY, XY, XY] = SRGB_XY
    white_xy: XY = D65_XY

    def lab(self, levels: ArrayLike) -> FloatArray:
        """Lab (..., 3) of what it shows for 8-bit levels (..., 3), each a whole number 0–255."""
        sent = np.asarray(levels, dtype=np.int64)
        light = np.stack([_table(self)[i][sent[..., i]] for i in range(3)], axis=-1)
        light = self.black + (1.0 - self.black) * light
        return xyz_to_lab(row_by_row(light, _matrices(self)[0]))

    def levels(self, lab: ArrayLike) -> NDArray[np.int64]:
        """The 8-bit levels (..., 3) that come nearest to Lab (..., 3).

        First channel by channel; then the nearest in Lab of all that are a level or less away.
        """
        light = row_by_row(lab_to_xyz(lab), _matrices(self)[1])
        light = np.clip((light - self.black) / (1.0 - self.black), 0.0, 1.0)
        found = np.empty(light.shape, dtype=np.int64)
        for i, curve in enumerate(_table(self)):
            # Midway as the eye has it, by the cube root of light.
            middle = ((np.cbrt(curve[1:]) + np.cbrt(curve[:-1])) / 2.0) ** 3
            found[..., i] = np.searchsorted(middle, light[..., i])
        near = np.clip(found[..., None, :] + _AROUND, 0, LEVELS - 1)
        off = ((self.lab(near) - np.asarray(lab, dtype=np.float64)[..., None, :]) ** 2).sum(axis=-1)
        best = np.argmin(off, axis=-1)[..., None, None]
        nearest: NDArray[np.int64] = np.take_along_axis(near, best, axis=-2)[..., 0, :]
        return nearest

    def shows(self, lab: ArrayLike) -> NDArray[np.bool_]:
        """Whether it shows Lab (..., 3) without clipping a channel by half a level or more."""
        light = row_by_row(lab_to_xyz(lab), _matrices(self)[1])
        light = (light - self.black) / (1.0 - self.black)
        ends = np.array([(curve[1] / 2, 1.0 - (1.0 - curve[-2]) / 2) for curve in _table(self)])
        within = (light >= -ends[:, 0]) & (light <= 2.0 - ends[:, 1])
        inside: NDArray[np.bool_] = np.asarray(within.all(axis=-1))
        return inside


def powers(gammas: Triple) -> tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]:
    """The curves of three plain powers: light = (level / 255) ** gamma."""
    level = np.arange(LEVELS) / (LEVELS - 1)
    red, green, blue = (tuple((level**gamma).tolist()) for gamma in gammas)
    return red, green, blue


def standard_curve() -> tuple[float, ...]:
    """The curve of IEC 61966-2-1, of each channel."""
    level = np.arange(LEVELS) / (LEVELS - 1)
    light = np.where(level <= 0.04045, level / 12.92, ((level + 0.055) / 1.055) ** 2.4)
    return tuple(light.tolist())


STANDARD = Screen((standard_curve(),) * 3)
"""What a colour is drawn for where nothing is known of the screen: sRGB."""


@lru_cache(maxsize=64)
def _table(screen: Screen) -> tuple[FloatArray, FloatArray, FloatArray]:
    red, green, blue = (np.array(curve) for curve in screen.curves)
    return red, green, blue


@lru_cache(maxsize=64)
def _matrices(screen: Screen) -> tuple[FloatArray, FloatArray]:
    """Light (..., 3) → XYZ under D50, and back, for row vectors (SMPTE RP 177; Bradford)."""
    xy = np.array(screen.primaries)
    primaries = np.column_stack([xy, 1 - xy.sum(axis=1)]) / xy[:, 1:]
    x, y = screen.white_xy
    own = np.array([x, y, 1 - x - y]) / y
    matrix = np.linalg.solve(primaries.T, own)[:, None] * primaries * 100
    matrix = matrix @ bradford_matrix(100 * own, white("D50"))
    matrix *= white("D50") / matrix.sum(axis=0)  # full red + green + blue is exactly white
    return matrix, np.linalg.inv(matrix)
