"""The Munsell renotation as a plane that can be walked both ways.

A Munsell colour is (hue, value V, chroma C). Here hue runs 0–100 round the
circle as in ASTM D1535: 5R is 5, 10R is 10, 5YR is 15, … 10RP is 100 (or 0).
Chromaticity is CIE x, y under illuminant C.

Between the colours of the renotation we interpolate as Centore (2012, "An
open-source inversion algorithm for the Munsell renotation") and colour-science
do: straight in x, y along chroma, straight in luminance between values. Along
hue we go straight as well, where they follow an arc in places: 0.02 ΔE00 apart
on average inside the real renotation, 0.5 at most, in the brightest greens.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.data.tables import MUNSELL_CHROMAS, MUNSELL_VALUES, FloatArray, munsell_grid

WHITE_XY: FloatArray = np.array([0.31006, 0.31616])
"""Illuminant C, to which every grey of the renotation belongs."""

HUES = 40
_EXTRA_RINGS = 10
_RING = 2.0  # chroma from one ring of the grid to the next
_HUE_STEP = 2.5
_ROUNDS = 60  # of Newton's method at most; five or six are usual
_CHUNK = 256  # colours compared with the whole grid at once
_Y_OF_V = (1.1914, -0.22533, 0.23352, -0.020484, 0.00081939)


def luminance(value: ArrayLike) -> FloatArray:
    """Y (0–100, perfect diffuser 100) of Munsell value V (0–10): ASTM D1535-14, eq. 2."""
    V = np.asarray(value, dtype=np.float64)
    Y = np.zeros_like(V)
    for coefficient in reversed(_Y_OF_V):
        Y = (Y + coefficient) * V
    return Y


@lru_cache(maxsize=1)
def _value_curve() -> tuple[FloatArray, FloatArray]:
    # Dense near black, where V rises steeply with Y.
    V = 10.0 * np.linspace(0.0, 1.0, 513) ** 1.5
    return luminance(V), V


def value(Y: ArrayLike) -> FloatArray:
    """Munsell value V (0–10) of Y: the D1535 polynomial inverted by Newton, to 1e-12."""
    target = np.clip(np.asarray(Y, dtype=np.float64), 0.0, float(luminance(10.0)))
    V = np.interp(target, *_value_curve())
    c1, c2, c3, c4, c5 = _Y_OF_V
    for _ in range(3):
        slope = c1 + V * (2 * c2 + V * (3 * c3 + V * (4 * c4 + V * 5 * c5)))
        V = V - (luminance(V) - target) / slope
    inverted: FloatArray = np.asarray(np.clip(V, 0.0, 10.0))
    return inverted


@lru_cache(maxsize=1)
def _plane() -> FloatArray:
    """x, y less white, (40 hues, 14 values, rings, 2); ring 0 is grey, the outer ones continued.

    Beyond the last colour the renotation gives, each spoke goes on straight, by
    its last step or half its mean step if that is longer, so that any colour
    of a screen has a place. Such chromas are an extrapolation.
    """
    known = munsell_grid() - WHITE_XY
    rings = 1 + MUNSELL_CHROMAS.size + _EXTRA_RINGS
    plane = np.full((*known.shape[:2], rings, 2), np.nan)
    plane[:, :, 0] = 0.0
    plane[:, :, 1 : 1 + MUNSELL_CHROMAS.size] = known
    # The renotation has no colour at 10Y 0.2: its neighbours' mean stands in.
    empty = np.argwhere(np.isnan(plane[:, :, 1, 0]))
    for hue, level in empty:
        plane[hue, level, 1] = (plane[hue - 1, level, 1] + plane[(hue + 1) % HUES, level, 1]) / 2
    last = _last_ring()
    for ring in range(2, rings):
        beyond = ring > last
        edge = np.take_along_axis(plane, last[..., None, None], axis=2)[:, :, 0]
        inner = np.take_along_axis(plane, last[..., None, None] - 1, axis=2)[:, :, 0]
        step, mean = edge - inner, edge / last[..., None]
        short = np.linalg.norm(step, axis=-1) < 0.5 * np.linalg.norm(mean, axis=-1)
        step = np.where(short[..., None], 0.5 * mean, step)
        outward = edge + (ring - last)[..., None] * step
        plane[:, :, ring] = np.where(beyond[..., None], outward, plane[:, :, ring])
    plane.flags.writeable = False
    return plane


@lru_cache(maxsize=1)
def _last_ring() -> NDArray[np.int64]:
    """Index of the outermost ring the renotation gives, (40 hues, 14 values)."""
    rings = (~np.isnan(munsell_grid()[..., 0])).sum(axis=-1)
    last: NDArray[np.int64] = np.maximum(rings, 1).astype(np.int64)
    return last


def _levels(V: FloatArray) -> tuple[NDArray[np.int64], FloatArray, FloatArray]:
    """Lower value plane, weight of the upper one (straight in Y), and chroma's scale.

    Under V = 0.2 there is no plane but black: the one at 0.2 is used and its
    chroma shrunk in proportion, so that chroma fades to none at black.
    """
    low = np.clip(np.searchsorted(MUNSELL_VALUES, V, side="right") - 1, 0, MUNSELL_VALUES.size - 2)
    Y_low, Y_high = luminance(MUNSELL_VALUES[low]), luminance(MUNSELL_VALUES[low + 1])
    weight = np.clip((luminance(V) - Y_low) / (Y_high - Y_low), 0.0, 1.0)
    scale = np.clip(V / MUNSELL_VALUES[0], 1e-6, 1.0)
    return low, weight, scale


def max_chroma(hue: ArrayLike, V: ArrayLike) -> FloatArray:
    """The chroma up to which the renotation goes near hue (0–100) and V: shape broadcast."""
    h, level = np.broadcast_arrays(np.asarray(hue, dtype=np.float64), np.asarray(V, np.float64))
    low, weight, scale = _levels(level)
    right = np.floor(h / _HUE_STEP).astype(np.int64)
    # hue 2.5 is spoke 0
    spokes = [(right - 1) % HUES, np.where(h % _HUE_STEP == 0, right - 1, right) % HUES]
    planes = [np.where(weight < 1, low, low + 1), np.where(weight > 0, low + 1, low)]
    reach = np.max([_last_ring()[spoke, plane] for spoke in spokes for plane in planes], axis=0)
    limit: FloatArray = np.asarray(reach * _RING * scale)
    return limit


def chromaticity(hue: ArrayLike, V: ArrayLike, chroma: ArrayLike) -> FloatArray:
    """CIE x, y (..., 2) under illuminant C of Munsell hue (0–100), value and chroma."""
    h, level, C = np.broadcast_arrays(
        np.asarray(hue, np.float64), np.asarray(V, np.float64), np.asarray(chroma, np.float64)
    )
    low, weight, scale = _levels(level)
    point, _, _ = _cell(h / _HUE_STEP, C / scale / _RING, low, weight)
    return point + WHITE_XY


def _cell(
    spoke: FloatArray, ring: FloatArray, low: NDArray[np.int64], weight: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Point (..., 2), less white, at (spoke, ring), with its slopes along spoke and ring."""
    plane = _plane()
    i = np.floor(spoke).astype(np.int64)
    j = np.clip(np.floor(ring).astype(np.int64), 0, plane.shape[2] - 2)
    u, v = (spoke - i)[..., None], (ring - j)[..., None]
    left, right = (i - 1) % HUES, i % HUES  # spoke 1 is 2.5R, the first of the grid
    w = weight[..., None]

    def node(column: NDArray[np.int64], row: NDArray[np.int64]) -> FloatArray:
        corner: FloatArray = (1 - w) * plane[column, low, row] + w * plane[column, low + 1, row]
        return corner

    inner_left, inner_right = node(left, j), node(right, j)
    outer_left, outer_right = node(left, j + 1), node(right, j + 1)
    inner = inner_left + u * (inner_right - inner_left)
    outer = outer_left + u * (outer_right - outer_left)
    along_spoke = (1 - v) * (inner_right - inner_left) + v * (outer_right - outer_left)
    along_ring = outer - inner
    return inner + v * along_ring, along_spoke, along_ring


def coordinates(xy: ArrayLike, V: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Munsell hue (0–100) and chroma, shape (n,), of x, y (n, 2) under C at values V (n,).

    Newton's method in the direction and the logarithm of the distance from
    white, where both unknowns act nearly apart. It starts from the nearest
    colour of the renotation. Chroma under 1e-6 has hue 0.
    """
    target = np.asarray(xy, dtype=np.float64) - WHITE_XY
    low, weight, scale = _levels(np.asarray(V, dtype=np.float64))
    distance = np.linalg.norm(target, axis=-1)
    grey = distance < 1e-8
    target = np.where(grey[..., None], np.array([1e-3, 0.0]), target)
    spoke, ring = _nearest(target, low, weight)
    for round_number in range(_ROUNDS):
        # The plane is creased along its spokes and rings; shorter steps stop a swing across one.
        damping = 1.0 if round_number < _ROUNDS // 2 else 0.5
        point, d_spoke, d_ring = _cell(spoke, ring, low, weight)
        square = np.maximum((point * point).sum(-1), 1e-30)
        # Residuals: angle still to turn, and log of the distance still to go.
        turn = np.arctan2(
            point[..., 0] * target[..., 1] - point[..., 1] * target[..., 0],
            (point * target).sum(-1),
        )
        grow = 0.5 * np.log((target * target).sum(-1) / square)
        turn_s = (point[..., 0] * d_spoke[..., 1] - point[..., 1] * d_spoke[..., 0]) / square
        turn_r = (point[..., 0] * d_ring[..., 1] - point[..., 1] * d_ring[..., 0]) / square * ring
        grow_s = (point * d_spoke).sum(-1) / square
        grow_r = (point * d_ring).sum(-1) / square * ring
        determinant = turn_s * grow_r - turn_r * grow_s
        determinant = np.where(np.abs(determinant) < 1e-9, 1e-9, determinant)
        step_s = (turn * grow_r - turn_r * grow) / determinant
        step_r = (turn_s * grow - turn * grow_s) / determinant
        spoke = spoke + damping * np.clip(step_s, -1.0, 1.0)
        ring = ring * np.exp(damping * np.clip(step_r, -0.4, 0.4))
        if max(np.abs(step_s).max(initial=0.0), np.abs(step_r).max(initial=0.0)) < 1e-10:
            break
    hue = np.where(grey, 0.0, spoke * _HUE_STEP % 100.0)
    return hue, np.where(grey, 0.0, ring * _RING * scale)


def _nearest(
    target: FloatArray, low: NDArray[np.int64], weight: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Spoke and ring of the colour of the grid nearest to each target (n, 2), grey left out."""
    plane = _plane()
    spokes, rings = np.empty(len(target)), np.empty(len(target))
    for start in range(0, len(target), _CHUNK):
        part = slice(start, start + _CHUNK)
        w = weight[part, None, None, None]
        below = plane[:, low[part], 1:].transpose(1, 0, 2, 3)
        above = plane[:, low[part] + 1, 1:].transpose(1, 0, 2, 3)
        away = (1 - w) * below + w * above - target[part, None, None, :]
        best = (away * away).sum(-1).reshape(len(away), -1).argmin(axis=1)
        spokes[part], rings[part] = np.divmod(best, plane.shape[2] - 1)
    # Inside the first ring the nearest colour's ring is cut down to the distance asked.
    point, _, _ = _cell(spokes + 1, rings + 1, low, weight)
    ratio = np.linalg.norm(target, axis=-1) / np.linalg.norm(point, axis=-1)
    return spokes + 1, np.where(rings == 0, np.clip(ratio, 1e-6, 1.0), rings + 1)
