"""CIEDE2000, the colour difference used everywhere."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from drills.colour.data.tables import FloatArray

# Pairs worked at once: what the processor's cache holds, twice as fast as all together.
_BLOCK = 8192

_25_TO_7 = 25.0**7
_C30, _S30 = math.cos(math.pi / 6), math.sin(math.pi / 6)
_C6, _S6 = math.cos(math.radians(6)), math.sin(math.radians(6))
_C63, _S63 = math.cos(math.radians(63)), math.sin(math.radians(63))


def _to_7(x: FloatArray) -> FloatArray:
    square = x * x
    return square * square * square * x


def delta_e00(lab1: ArrayLike, lab2: ArrayLike) -> FloatArray:
    """ΔE00 between Lab (..., 3) and Lab (..., 3), broadcast against each other.

    CIE 142:2001 / ISO-CIE 11664-6:2014 with kL = kC = kH = 1, and the cases of
    hue that the text leaves open settled as in Sharma, Wu & Dalal (2005). The
    hue terms are worked from sines and cosines of the mean hue, found as the
    bisector of the two hue directions: the same numbers with one arctangent in
    place of two and four cosines.
    """
    first, second = np.asarray(lab1, dtype=np.float64), np.asarray(lab2, dtype=np.float64)
    shape = np.broadcast_shapes(first.shape, second.shape)
    if math.prod(shape) <= 3 * _BLOCK:
        return _delta_e00(first, second)
    first = np.broadcast_to(first, shape).reshape(-1, 3)
    second = np.broadcast_to(second, shape).reshape(-1, 3)
    whole = np.empty(len(first))
    for start in range(0, len(first), _BLOCK):
        part = slice(start, start + _BLOCK)
        whole[part] = _delta_e00(first[part], second[part])
    return whole.reshape(shape[:-1])


def _delta_e00(first: FloatArray, second: FloatArray) -> FloatArray:
    L1, a1, b1 = first[..., 0], first[..., 1], first[..., 2]
    L2, a2, b2 = second[..., 0], second[..., 1], second[..., 2]

    # G stretches a* near grey.
    mean_7 = _to_7(0.5 * (np.sqrt(a1 * a1 + b1 * b1) + np.sqrt(a2 * a2 + b2 * b2)))
    stretch = 1.5 - 0.5 * np.sqrt(mean_7 / (mean_7 + _25_TO_7))
    a1, a2 = a1 * stretch, a2 * stretch
    C1, C2 = np.sqrt(a1 * a1 + b1 * b1), np.sqrt(a2 * a2 + b2 * b2)
    mean_C = 0.5 * (C1 + C2)

    # The mean hue is the bisector of both directions; a grey has none and lends none.
    inv1 = 1.0 / np.where(C1 == 0.0, np.inf, C1)
    inv2 = 1.0 / np.where(C2 == 0.0, np.inf, C2)
    x, y = a1 * inv1 + a2 * inv2, b1 * inv1 + b2 * inv2
    length = np.sqrt(x * x + y * y)
    cross, dot, product = a1 * b2 - b1 * a2, a1 * a2 + b1 * b2, C1 * C2
    # ΔH' = 2 √(C1'C2') sin(Δh'/2), by the form that loses no digits on each side of 90°.
    near = cross / np.sqrt(np.maximum(0.5 * (product + dot), 1e-300))
    far = np.copysign(np.sqrt(np.maximum(2.0 * (product - dot), 0.0)), cross)
    dH = np.where(dot >= 0.0, near, far)
    opposite = (length < 1e-7) & (product > 0.0)
    if opposite.any():
        # Hues exactly opposite have two bisectors; Sharma et al. take the mean of h1 and h2.
        h1, h2 = np.arctan2(b1, a1) % (2 * np.pi), np.arctan2(b2, a2) % (2 * np.pi)
        mean = 0.5 * (h1 + h2) + np.where(np.abs(h1 - h2) <= np.pi + 1e-9, 0.0, np.pi)
        x, y = np.where(opposite, np.cos(mean), x), np.where(opposite, np.sin(mean), y)
        length = np.where(opposite, 1.0, length)
        sign = np.where((h2 > h1) == (np.abs(h1 - h2) <= np.pi + 1e-9), 1.0, -1.0)
        dH = np.where(opposite, sign * np.abs(dH), dH)
    # Two greys have no hue at all: Sharma's rule takes 0°.
    no_hue = length == 0.0
    scale = 1.0 / np.where(no_hue, 1.0, length)
    c, s = np.where(no_hue, 1.0, x * scale), y * scale
    hue = np.degrees(np.arctan2(s, c))
    hue = np.where(hue < 0.0, hue + 360.0, hue)

    c2, s2 = c * c - s * s, 2.0 * c * s
    c3, s3 = c2 * c - s2 * s, s2 * c + c2 * s
    c4, s4 = c2 * c2 - s2 * s2, 2.0 * c2 * s2
    T = (
        1.0
        - 0.17 * (c * _C30 + s * _S30)
        + 0.24 * c2
        + 0.32 * (c3 * _C6 - s3 * _S6)
        - 0.20 * (c4 * _C63 + s4 * _S63)
    )
    off_middle = (0.5 * (L1 + L2) - 50.0) ** 2
    dL = (L2 - L1) / (1.0 + 0.015 * off_middle / np.sqrt(20.0 + off_middle))
    dC = (C2 - C1) / (1.0 + 0.045 * mean_C)
    dH = dH / (1.0 + 0.015 * mean_C * T)
    mean_7 = _to_7(mean_C)
    turn = np.radians(60.0) * np.exp(-(((hue - 275.0) / 25.0) ** 2))
    R_T = -2.0 * np.sqrt(mean_7 / (mean_7 + _25_TO_7)) * np.sin(turn)
    squared = dL * dL + dC * dC + dH * dH + R_T * dC * dH
    difference: FloatArray = np.asarray(np.sqrt(np.maximum(squared, 0.0)))
    return difference


def metric(lab: FloatArray) -> FloatArray:
    """Matrices (B, 3, 3) that turn small steps in Lab at ``lab`` into ΔE00, near enough.

    The weights S_L, S_C, S_H of CIE 142-2001 without its terms in hue.
    """
    L, a, b = lab.T
    # A grey's hue is any: without one, a step in chroma or hue would weigh nothing.
    a = np.where(np.hypot(a, b) < 1e-6, 1e-6, a)
    chroma = np.hypot(a, b)
    off = (L - 50.0) ** 2
    by = np.zeros((len(lab), 3, 3))
    by[:, 0, 0] = 1.0 / (1.0 + 0.015 * off / np.sqrt(20.0 + off))
    in_chroma, in_hue = (1.0 + 0.045 * chroma) * chroma, (1.0 + 0.015 * chroma) * chroma
    by[:, 1, 1], by[:, 1, 2] = a / in_chroma, b / in_chroma
    by[:, 2, 1], by[:, 2, 2] = -b / in_hue, a / in_hue
    return by
