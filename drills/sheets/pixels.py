"""Pixels between pixels."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray


def sampled(image: NDArray[np.uint8], points: FloatArray) -> FloatArray:
    """The picture (h, w) or (h, w, 3) at x, y (..., 2), between pixels by the four about each.

    Outside it the nearest pixel stands.
    """
    high, wide = image.shape[:2]
    x = np.clip(points[..., 0] - 0.5, 0, wide - 1.001)
    y = np.clip(points[..., 1] - 0.5, 0, high - 1.001)
    left, top = x.astype(int), y.astype(int)
    fx, fy = x - left, y - top
    if image.ndim == 3:
        fx, fy = fx[..., None], fy[..., None]
    right, below = np.minimum(left + 1, wide - 1), np.minimum(top + 1, high - 1)
    upper = image[top, left] * (1 - fx) + image[top, right] * fx
    lower = image[below, left] * (1 - fx) + image[below, right] * fx
    out: FloatArray = upper * (1 - fy) + lower * fy
    return out
