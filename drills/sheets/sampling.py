"""The colours of a page's boxes: the middle of each, against the white paper round it.

Light is evened out box by box, from its own ring of white: a shadow or a lamp from the side
changes both alike. A box whose ring doesn't agree about the light is dropped. The paper is taken
for white drawing paper as the films have it, by gains on the cones of CAT16, or its colour is
measured by a chart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.colour.difference import delta_e00
from drills.colour.hue import CAT16
from drills.colour.spaces import Lab, lab_to_xyz, srgb_to_xyz, xyz_to_lab
from drills.pictures.spot import Correction
from drills.pictures.white import paper_lab
from drills.sheets.finding import Sighted
from drills.sheets.layout import Box
from drills.sheets.pixels import sampled

_MIDDLE = 2.5
"""Half of the side of what is read of a box, in mm: the hand's edges and a bow's shift stay out."""
_BARE_MIDDLE = 1.2
_GRID = 21
_RING_FROM, _RING_TO = 0.7, 2.4
_RING_STEP = 0.2
_TRIMMED = 0.05
"""Share left out at either end: dust, a hair, a speck of glare."""
_SHADOW = 1.10
"""Ratio of the light on opposite sides of a box from which a shadow's edge lies between."""
_CLIPPED = 251.0
_CLIPPED_SHARE = 0.05
_GLARE = 1.1
"""Times as bright as the paper."""
_GLARE_SHARE = 0.04
_UNEVEN = 6.0
"""ΔE00 by which a quarter may differ from the whole; the grain of a light layer makes about 2."""
_TO_CONES: FloatArray = CAT16.T
_FROM_CONES: FloatArray = np.asarray(np.linalg.inv(CAT16).T)


@dataclass(frozen=True)
class BoxRead:
    """A box's colour as Lab under D50, the ``sd`` of its quarters as a ΔE00, and what spoils it:
    words, or empty."""

    box: Box
    lab: Lab
    sd: float
    trouble: str


@dataclass(frozen=True, eq=False)
class ByChart:
    """A chart's correction, and where it lies: x, y in pixels."""

    correction: Correction
    at: tuple[float, float]


def read_boxes(
    image: NDArray[np.uint8], seen: Sighted, boxes: Sequence[Box], chart: ByChart | None = None
) -> list[BoxRead]:
    """What a picture (h, w, 3) in sRGB shows of each box."""
    raw = [_box(image, seen, box) for box in boxes]
    if chart is None:
        return [_read(one, lab_to_xyz(paper_lab())) for one in raw]
    middles = np.array([seen.pixels(np.array(one.box.rect.middle)) for one in raw])
    nearest = np.linalg.norm(middles - chart.at, axis=1).argmin()
    return [_read(one, raw[nearest].white, chart) for one in raw]


@dataclass(frozen=True, eq=False)
class _Raw:
    """XYZ of a box (3,), of its quarters (4, 3) and of the paper round it (3,), as filed."""

    box: Box
    xyz: FloatArray
    quarters: FloatArray
    white: FloatArray
    trouble: str


def _read(raw: _Raw, paper: FloatArray, chart: ByChart | None = None) -> BoxRead:
    gains = (paper @ _TO_CONES) / np.maximum(raw.white @ _TO_CONES, 1e-6)
    xyz = (np.vstack([raw.xyz, raw.quarters]) @ _TO_CONES) * gains @ _FROM_CONES
    if chart is not None:
        xyz = chart.correction.corrected(xyz, np.broadcast_to(chart.at, (5, 2)))
    labs = xyz_to_lab(xyz)
    off = delta_e00(labs[1:], labs[0])
    uneven = "uneven, or a shadow's edge over it" if off.max() > _UNEVEN else ""
    L, a, b = labs[0].tolist()
    return BoxRead(raw.box, (L, a, b), float(np.sqrt((off**2).mean())), raw.trouble or uneven)


def _box(image: NDArray[np.uint8], seen: Sighted, box: Box) -> _Raw:
    high, wide = image.shape[:2]
    points = seen.pixels(_grid(box))
    sides = [seen.pixels(side) for side in _ring(box)]
    every = np.concatenate([points.reshape(-1, 2), *sides])
    outside = bool((every < 0).any() or (every >= [wide, high]).any())
    levels = sampled(image, points)
    rings = [sampled(image, side) for side in sides]
    light = np.array([_white(side) for side in rings])
    white = light.mean(axis=0)
    xyz = srgb_to_xyz(levels / 255.0)
    half = _GRID // 2
    quarters = np.array(
        [
            _robust(xyz[rows, columns].reshape(-1, 3))
            for rows in (slice(0, half), slice(half + 1, None))
            for columns in (slice(0, half), slice(half + 1, None))
        ]
    )
    trouble = "out of the picture" if outside else _trouble(levels, xyz, rings, light)
    return _Raw(box, _robust(xyz.reshape(-1, 3)), quarters, white, trouble)


def _trouble(
    levels: FloatArray, xyz: FloatArray, rings: Sequence[FloatArray], light: FloatArray
) -> str:
    clipped = np.mean([(side >= _CLIPPED).any(axis=-1).mean() for side in rings])
    if clipped > _CLIPPED_SHARE:
        return "overexposed: the paper round it has lost its tone"
    bright = light[:, 1]
    if bright.min() <= 0.0 or bright.max() > _SHADOW * bright.min():
        return "a shadow's edge over it, or colour on its white ring"
    if (xyz[..., 1] > _GLARE * bright.mean()).mean() > _GLARE_SHARE:
        return "glare on it"
    return ""


def _grid(box: Box) -> FloatArray:
    """Points (n, n, 2) in mm in the middle of a box."""
    x, y = box.rect.middle
    half = _BARE_MIDDLE if box.part == "bare black" else _MIDDLE
    at = np.linspace(-1.0, 1.0, _GRID)
    across, down = np.meshgrid(x + half * at, y + _MIDDLE * at)
    return np.stack([across, down], axis=-1)


def _ring(box: Box) -> list[FloatArray]:
    """Points (n, 2) in mm on the white to the left, right, top and foot of what is printed."""
    o = box.outer
    deep = np.arange(_RING_FROM, _RING_TO, _RING_STEP)
    along_x = np.arange(0.5, o.width - 0.4, _RING_STEP)
    along_y = np.arange(0.5, o.height - 0.4, _RING_STEP)
    sides = (
        np.meshgrid(o.x - deep, o.y + along_y),
        np.meshgrid(o.x + o.width + deep, o.y + along_y),
        np.meshgrid(o.x + along_x, o.y - deep),
        np.meshgrid(o.x + along_x, o.y + o.height + deep),
    )
    return [np.stack(side, axis=-1).reshape(-1, 2) for side in sides]


def _white(levels: FloatArray) -> FloatArray:
    """XYZ (3,) of a side's bare paper: what is darker by a tenth is paint or print."""
    xyz = srgb_to_xyz(levels / 255.0)
    bare = xyz[:, 1] >= 0.9 * np.percentile(xyz[:, 1], 75)
    mean: FloatArray = xyz[bare].mean(axis=0)
    return mean


def _robust(xyz: FloatArray) -> FloatArray:
    """Mean (3,) of XYZ (n, 3) without the darkest and brightest few."""
    order = np.argsort(xyz[:, 1])
    cut = int(_TRIMMED * len(order))
    mean: FloatArray = xyz[order[cut : len(order) - cut]].mean(axis=0)
    return mean
