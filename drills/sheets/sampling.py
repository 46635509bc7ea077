"""The colours of a page's boxes: the middle of each, against the white paper round it.

Light is evened out box by box, from its own ring of white: a shadow or a lamp from the side
changes both alike. A box whose ring doesn't agree about the light is dropped.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.colour.spaces import from_srgb
from drills.sheets.finding import Sighted, sampled
from drills.sheets.homography import applied
from drills.sheets.layout import Box

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
_GLARE = 2.2
_GLARE_SHARE = 0.04
_LUMINANCE = np.array([0.2126, 0.7152, 0.0722])


@dataclass(frozen=True, eq=False)
class Sampled:
    """A box's linear RGB (3,) against its white ring (paper is 1), the same of its four
    quarters (4, 3), and what spoils it, or empty."""

    box: Box
    ratio: FloatArray
    quarters: FloatArray
    trouble: str


def sample(
    image: NDArray[np.uint8], seen: Sighted, boxes: Sequence[Box]
) -> list[Sampled]:
    """What a picture (h, w, 3) in sRGB shows of each box."""
    return [_box(image, seen, box) for box in boxes]


def _box(image: NDArray[np.uint8], seen: Sighted, box: Box) -> Sampled:
    high, wide = image.shape[:2]
    across, down = _grid(box)
    points = applied(seen.to_pixels, np.stack([across, down], axis=-1))
    sides = [applied(seen.to_pixels, side) for side in _ring(box)]
    every = np.concatenate([points.reshape(-1, 2), *sides])
    outside = (every < 0).any() or (every >= [wide, high]).any()
    levels = sampled(image, points)
    rings = [sampled(image, side) for side in sides]
    light = [_white(side) for side in rings]
    white = np.mean(light, axis=0)
    linear = np.asarray(from_srgb(levels / 255.0)).reshape(_GRID, _GRID, 3)
    ratio = linear / np.maximum(white, 1e-6)
    half = _GRID // 2
    quarters = np.array(
        [
            _robust(ratio[rows, columns].reshape(-1, 3))
            for rows in (slice(0, half), slice(half + 1, None))
            for columns in (slice(0, half), slice(half + 1, None))
        ]
    )
    trouble = "out of the picture" if outside else _trouble(levels, ratio, rings, light)
    return Sampled(box, _robust(ratio.reshape(-1, 3)), quarters, trouble)


def _trouble(
    levels: FloatArray, ratio: FloatArray, rings: Sequence[FloatArray], light: Sequence[FloatArray]
) -> str:
    clipped = np.mean([(side >= _CLIPPED).any(axis=-1).mean() for side in rings])
    if clipped > _CLIPPED_SHARE:
        return "overexposed: the paper round it has lost its tone"
    bright = np.array([one @ _LUMINANCE for one in light])
    if bright.min() <= 0.0 or bright.max() > _SHADOW * bright.min():
        return "a shadow's edge over it, or colour on its white ring"
    luminance = (ratio @ _LUMINANCE).ravel()
    middle = float(np.median(luminance))
    glaring = luminance > max(_GLARE * middle, middle + 0.12)
    if glaring.mean() > _GLARE_SHARE or (levels >= _CLIPPED).all(axis=-1).mean() > _GLARE_SHARE:
        return "glare on it"
    return ""


def _grid(box: Box) -> tuple[FloatArray, FloatArray]:
    x, y = box.rect.middle
    half = _BARE_MIDDLE if box.part == "bare black" else _MIDDLE
    at = np.linspace(-1.0, 1.0, _GRID)
    across, down = np.meshgrid(x + half * at, y + _MIDDLE * at)
    return across, down


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
    """Linear RGB (3,) of a side's bare paper: what is darker by a tenth is paint or print."""
    linear = np.asarray(from_srgb(levels / 255.0))
    luminance = linear @ _LUMINANCE
    bare = luminance >= 0.9 * np.percentile(luminance, 75)
    mean: FloatArray = linear[bare].mean(axis=0)
    return mean


def _robust(values: FloatArray) -> FloatArray:
    """Mean (3,) of linear values (n, 3) without the darkest and brightest few."""
    order = np.argsort(values @ _LUMINANCE)
    cut = int(_TRIMMED * len(order))
    mean: FloatArray = values[order[cut : len(order) - cut]].mean(axis=0)
    return mean
