"""A chart of 24 patches in the picture: a correction for this camera in this light.

The correction is Finlayson, Mackiewicz & Hurlbert's root polynomial (2015, "Color correction
using root-polynomial regression", IEEE Transactions on Image Processing 24), second degree:
unlike a plain polynomial it holds as well at another exposure. It is fitted by least squares
on linear values; what it leaves on each patch is told, and what it would miss on a patch that
it wasn't fitted to, which is the figure to count on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray, white
from drills.colour.difference import delta_e00
from drills.colour.spaces import bradford, lab_to_xyz, xyz_to_lab, xyz_to_linear
from drills.pictures.picture import Picture
from drills.pictures.spot import LARGEST_RADIUS, read_spot
from drills.sheets.homography import applied, fitted

COLUMNS, ROWS = 6, 4
_SQUARE: Final = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
XYY_UNDER_C: Final = (
    ((0.4002, 0.3504, 0.1005), (0.3773, 0.3446, 0.3582), (0.2470, 0.2514, 0.1933)),
    ((0.3372, 0.4220, 0.1329), (0.2651, 0.2400, 0.2427), (0.2608, 0.3430, 0.4306)),
    ((0.5060, 0.4070, 0.3005), (0.2110, 0.1750, 0.1200), (0.4533, 0.3058, 0.1977)),
    ((0.2845, 0.2020, 0.0656), (0.3800, 0.4887, 0.4429), (0.4729, 0.4375, 0.4306)),
    ((0.1866, 0.1285, 0.0611), (0.3046, 0.4782, 0.2339), (0.5385, 0.3129, 0.1200)),
    ((0.4480, 0.4703, 0.5910), (0.3635, 0.2325, 0.1977), (0.1958, 0.2519, 0.1977)),
    ((0.3101, 0.3163, 0.9001), (0.3101, 0.3163, 0.5910), (0.3101, 0.3163, 0.3620)),
    ((0.3101, 0.3163, 0.1977), (0.3101, 0.3163, 0.0900), (0.3101, 0.3163, 0.0313)),
)
"""x, y, Y of the patches, row by row, three on a line, under illuminant C: McCamy, Marcus &
Davidson 1976, "A color-rendition chart", Journal of Applied Photographic Engineering 2, as
colour-science has them. A chart differs from these by its make, batch and age."""

WORST_MEDIAN: Final = 8.0
"""ΔE00 left on half the patches, beyond which the corners are not taken for a chart's."""
_LEAST_PATCHES = 18
_SAMPLED = 0.25  # radius of what is read of a patch, of its shorter side

Corners = tuple[tuple[float, float], tuple[float, float], tuple[float, float], tuple[float, float]]


@dataclass(frozen=True, eq=False)
class ChartCorrection:
    """``matrix`` (6, 3): root-polynomial terms of linear sRGB → XYZ under D50.

    ``residual`` (n,) is the ΔE00 left on each patch used; ``left_out`` (n,) that on each when
    the others alone are fitted.
    """

    matrix: FloatArray
    residual: FloatArray
    left_out: FloatArray

    @property
    def even(self) -> bool:
        return True

    @property
    def of_camera(self) -> bool:
        return True

    def corrected(self, xyz: FloatArray, at: FloatArray) -> FloatArray:
        """XYZ (..., 3) as under D50; ``at`` is of no matter, for the light is taken as even."""
        seen: FloatArray = root_polynomial(xyz_to_linear(xyz)) @ self.matrix
        return seen

    def words(self) -> str:
        """What the correction leaves, in ΔE00."""
        return (
            f"The chart's patches are met to ΔE00 {np.median(self.residual):.1f} (half of them) "
            f"and {self.residual.max():.1f} (the worst); left out of the fit, to "
            f"{np.median(self.left_out):.1f} and {self.left_out.max():.1f}."
        )


@lru_cache(maxsize=1)
def chart_lab() -> FloatArray:
    """Lab (24, 3) under D50 of the chart as published, row by row; taken to D50 by Bradford."""
    xyY = np.array(XYY_UNDER_C).reshape(-1, 3)
    x, y, Y = xyY.T
    xyz = np.stack([x / y * Y, Y, (1 - x - y) / y * Y], axis=-1) * 100
    return xyz_to_lab(bradford(xyz, white("C"), white("D50")))


def root_polynomial(linear: FloatArray) -> FloatArray:
    """The terms (..., 6) of linear RGB (..., 3): r, g, b, √rg, √gb, √rb (2015, equation 5)."""
    r, g, b = np.moveaxis(np.maximum(linear, 0.0), -1, 0)
    terms: FloatArray = np.stack([r, g, b, np.sqrt(r * g), np.sqrt(g * b), np.sqrt(r * b)], -1)
    return terms


def read_chart(
    picture: Picture, corners: Corners, known: FloatArray | None = None
) -> ChartCorrection:
    """The correction from a chart whose four corners are given in turn, from any of them.

    ``known`` is the Lab (24, 3) of the learner's own chart; as published unless given. Patches
    at the end of the scale are left out. Raises InputError where no 24-patch chart lies there.
    """
    where = f"{picture.name}, chart"
    remedy = "Give the outer corners of its 24 patches, one after another around it."
    target = chart_lab() if known is None else known
    best: ChartCorrection | None = None
    # Seen at a slant, the side of six patches may be the shorter one: both are tried.
    for first in (corners, (*corners[1:], corners[0])):
        linear, clear = _patches(picture, first, where, remedy)
        for turn in _turns():
            found = _fitted(linear[turn], target, clear[turn])
            if best is None or found.residual.mean() < best.residual.mean():
                best = found
    assert best is not None
    median = float(np.median(best.residual))
    if median > WORST_MEDIAN:
        raise InputError(where, f"no chart is found there (ΔE00 {median:.0f} left)", remedy)
    return best


def _patches(
    picture: Picture, corners: Corners, where: str, remedy: str
) -> tuple[FloatArray, NDArray[np.bool_]]:
    """Linear sRGB (24, 3) of the patches, and which aren't at the end of the scale."""
    centres, radius = patch_centres(corners)
    if radius < 1.0:
        raise InputError(where, "its patches are smaller than four pixels", remedy)
    spots = [read_spot(picture, x, y, min(radius, LARGEST_RADIUS)) for x, y in centres.tolist()]
    clear = np.array(["clipped" not in spot.warnings for spot in spots])
    if clear.sum() < _LEAST_PATCHES:
        what = f"{24 - clear.sum()} patches are at the end of the scale"
        raise InputError(where, what, "Take the photo again, neither too bright nor too dark.")
    return xyz_to_linear(np.array([spot.xyz for spot in spots])), clear


def _fitted(linear: FloatArray, target: FloatArray, use: NDArray[np.bool_]) -> ChartCorrection:
    terms, lab = root_polynomial(linear)[use], target[use]
    xyz = lab_to_xyz(lab)
    matrix = np.asarray(np.linalg.lstsq(terms, xyz, rcond=None)[0], dtype=np.float64)
    residual = delta_e00(xyz_to_lab(terms @ matrix), lab)
    # Leaving one out, without fitting anew: each error grows by 1 / (1 − leverage).
    leverage = np.einsum("ij,ji->i", terms, np.linalg.pinv(terms))
    missed = (terms @ matrix - xyz) / np.maximum(1 - leverage, 1e-6)[:, None]
    left_out = delta_e00(xyz_to_lab(xyz + missed), lab)
    return ChartCorrection(matrix, residual, left_out)


def _turns() -> Sequence[NDArray[np.int64]]:
    """The orders (24,) in which a chart may lie, if its first corner may be any of the four."""
    places = np.arange(ROWS * COLUMNS).reshape(ROWS, COLUMNS)
    ways = (places, places[::-1], places[:, ::-1], places[::-1, ::-1])
    return [way.reshape(-1) for way in ways]


def patch_centres(corners: Corners) -> tuple[FloatArray, float]:
    """The middles (24, 2) of the patches, row by row, and the radius to read, in pixels.

    The corners are those of a flat sheet at any angle: a projective map of the unit square.
    Six patches lie from the first corner to the second. Raises InputError where they are those
    of no sheet.
    """
    given = np.array(corners, dtype=np.float64)
    after = np.roll(given, -1, axis=0) - given
    before = given - np.roll(given, 1, axis=0)
    bends = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    if not np.isfinite(given).all() or not ((bends > 1).all() or (bends < -1).all()):
        remedy = "Give its outer corners one after another around it."
        raise InputError("chart", "these corners are those of no flat sheet", remedy)
    matrix = fitted(_SQUARE, given)
    across, down = np.meshgrid((np.arange(COLUMNS) + 0.5) / COLUMNS, (np.arange(ROWS) + 0.5) / ROWS)
    centres = applied(matrix, np.stack([across.ravel(), down.ravel()], -1))
    grid = centres.reshape(ROWS, COLUMNS, 2)
    steps = (np.diff(grid, axis=0), np.diff(grid, axis=1))
    shortest = min(float(np.linalg.norm(step, axis=-1).min()) for step in steps)
    return centres, _SAMPLED * shortest
