"""Pixels between pixels."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray


def sampled(image: NDArray[np.uint8], points: FloatArray) -> FloatArray:
    """The picture (h, w) or (h, w, 3) at x, y (..., 2), between pixels by the four about each.

    Outside it the nearest pixel stands; a point at no place (nan) is the first pixel.
    """
    high, wide = image.shape[:2]
    points = np.nan_to_num(points)
    x = np.clip(points[..., 0] - 0.5, 0, max(0.0, wide - 1.001))
    y = np.clip(points[..., 1] - 0.5, 0, max(0.0, high - 1.001))
    left, top = x.astype(int), y.astype(int)
    fx, fy = x - left, y - top
    if image.ndim == 3:
        fx, fy = fx[..., None], fy[..., None]
    right, below = np.minimum(left + 1, wide - 1), np.minimum(top + 1, high - 1)
    upper = image[top, left] * (1 - fx) + image[top, right] * fx
    lower = image[below, left] * (1 - fx) + image[below, right] * fx
    out: FloatArray = upper * (1 - fy) + lower * fy
    return out


def correlated(seen: FloatArray, template: FloatArray, every: int = 1) -> FloatArray:
    """How alike each window of ``seen`` is to the template, -1 to 1: normalised correlation.

    A window begins at every ``every``-th row and column.
    """
    windows = np.lib.stride_tricks.sliding_window_view(seen, template.shape)[::every, ::every]
    flat = windows.reshape(*windows.shape[:2], -1)
    flat = flat - flat.mean(axis=-1, keepdims=True)
    ideal = (template - template.mean()).ravel()
    norm = np.linalg.norm(flat, axis=-1) * np.linalg.norm(ideal)
    match: FloatArray = flat @ ideal / np.maximum(norm, 1e-9)
    return match
