"""A plane seen at a slant: the homography between millimetres of a sheet and pixels.

Direct linear transform on normalised points: Hartley & Zisserman, "Multiple View Geometry in
Computer Vision" (2nd ed. 2004), algorithm 4.2.
"""

from __future__ import annotations

import numpy as np

from drills.colour.data.tables import FloatArray


def fitted(source: FloatArray, target: FloatArray, weight: FloatArray | None = None) -> FloatArray:
    """The (3, 3) matrix that takes points (n, 2), n ≥ 4, to points (n, 2), by least squares.

    Raises ValueError for fewer, or for points that settle no plane.
    """
    if len(source) < 4:
        raise ValueError("a plane is settled by four points at least")
    S, s = _normalised(source)
    T, t = _normalised(target)
    w = np.ones(len(s)) if weight is None else np.asarray(weight)
    x, y = s.T
    u, v = t.T
    one, nought = np.ones_like(x), np.zeros_like(x)
    first = np.stack([x, y, one, nought, nought, nought, -u * x, -u * y, -u], axis=1)
    second = np.stack([nought, nought, nought, x, y, one, -v * x, -v * y, -v], axis=1)
    rows = np.concatenate([first * w[:, None], second * w[:, None]])
    _, spread, V = np.linalg.svd(rows)
    if len(spread) > 7 and spread[7] < 1e-9 * spread[0]:
        raise ValueError("the points settle no plane")
    H = np.asarray(np.linalg.inv(T) @ V[-1].reshape(3, 3) @ S, dtype=np.float64)
    return H / np.linalg.norm(H)


def applied(H: FloatArray, points: FloatArray) -> FloatArray:
    """Points (..., 2) seen through the plane's (3, 3)."""
    seen = points @ H[:, :2].T + H[:, 2]
    # A plane of false codes may have points at no place at all: they come out as nan or inf.
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        out: FloatArray = seen[..., :2] / seen[..., 2:]
    return out


def scale_at(H: FloatArray, points: FloatArray) -> FloatArray:
    """Pixels a millimetre (...) at points (..., 2), in the direction in which they are fewest."""
    right, below = np.array([0.5, 0.0]), np.array([0.0, 0.5])
    across = applied(H, points + right) - applied(H, points - right)
    down = applied(H, points + below) - applied(H, points - below)
    # The smaller singular value of the 2 × 2 of slopes.
    a, b, c, d = across[..., 0], down[..., 0], across[..., 1], down[..., 1]
    total, area = a**2 + b**2 + c**2 + d**2, np.abs(a * d - b * c)
    spread = np.sqrt(np.maximum(total**2 - 4 * area**2, 0.0))
    least: FloatArray = np.sqrt(np.maximum(total - spread, 0.0) / 2)
    return least


def _normalised(points: FloatArray) -> tuple[FloatArray, FloatArray]:
    middle = points.mean(axis=0)
    size = float(np.sqrt(((points - middle) ** 2).sum(axis=1)).mean()) or 1.0
    k = np.sqrt(2.0) / size
    T = np.array([[k, 0.0, -k * middle[0]], [0.0, k, -k * middle[1]], [0.0, 0.0, 1.0]])
    return T, (points - middle) * k
