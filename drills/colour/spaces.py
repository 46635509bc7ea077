"""Between reflectance, XYZ, Lab and the screen.

Lab is CIE 1976 L*a*b* (CIE 015:2018, 8.2.1) under D50 for the 2° observer, with
the perfect diffuser under our own weights as white. Arrays hold their three
coordinates, or 31 reflectances, in the last axis; anything may stand before it.
XYZ is scaled to Y = 100 for the perfect diffuser.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.data.tables import FloatArray, weights, white

Lab = tuple[float, float, float]

_EPSILON = (6 / 29) ** 3
_SLOPE = (29 / 6) ** 2 / 3

BRADFORD: FloatArray = np.array(
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]]
)
"""Cone-like responses of the Bradford transform (Lam 1985; ICC.1:2022 annex E)."""

HALF_LEVEL = 0.5 / 255
"""Half a step of an 8-bit screen: nearer to the gamut than this, nothing is lost."""


def row_by_row(rows: ArrayLike, matrix: FloatArray) -> FloatArray:
    """The product (..., m) of rows (..., 3) and a matrix (3, m), to the last bit row by row.

    The library's own product adds in another order for one row than for many; of a
    colour on a border that makes two readings.
    """
    given = np.asarray(rows, dtype=np.float64)[..., None]
    first, second, third = (given[..., i, :] * matrix[i] for i in range(3))
    product: FloatArray = first + second + third
    return product


def reflectance_to_xyz(reflectance: ArrayLike, illuminant: str = "D50") -> FloatArray:
    """XYZ (..., 3) of reflectance (..., 31) under ``illuminant`` (ASTM E308-15)."""
    xyz: FloatArray = np.asarray(reflectance, dtype=np.float64) @ weights(illuminant)
    return xyz


def xyz_to_lab(xyz: ArrayLike, white_xyz: ArrayLike | None = None) -> FloatArray:
    """Lab (..., 3) of XYZ (..., 3); ``white_xyz`` is D50's unless given."""
    reference = white("D50") if white_xyz is None else np.asarray(white_xyz, dtype=np.float64)
    t = np.asarray(xyz, dtype=np.float64) / reference
    f = np.where(t > _EPSILON, np.cbrt(t), _SLOPE * t + 4 / 29)
    lab = np.empty_like(f)
    lab[..., 0] = 116 * f[..., 1] - 16
    lab[..., 1] = 500 * (f[..., 0] - f[..., 1])
    lab[..., 2] = 200 * (f[..., 1] - f[..., 2])
    return lab


def lab_to_xyz(lab: ArrayLike, white_xyz: ArrayLike | None = None) -> FloatArray:
    """XYZ (..., 3) of Lab (..., 3); ``white_xyz`` is D50's unless given."""
    reference = white("D50") if white_xyz is None else np.asarray(white_xyz, dtype=np.float64)
    given = np.asarray(lab, dtype=np.float64)
    f = np.empty_like(given)
    f[..., 1] = (given[..., 0] + 16) / 116
    f[..., 0] = f[..., 1] + given[..., 1] / 500
    f[..., 2] = f[..., 1] - given[..., 2] / 200
    xyz: FloatArray = np.where(f > 6 / 29, f * f * f, (f - 4 / 29) / _SLOPE) * reference
    return xyz


def reflectance_to_lab(reflectance: ArrayLike, illuminant: str = "D50") -> FloatArray:
    """Lab (..., 3) of reflectance (..., 31), seen by an eye adapted to ``illuminant``."""
    return xyz_to_lab(reflectance_to_xyz(reflectance, illuminant), white(illuminant))


def lab_to_lch(lab: ArrayLike) -> FloatArray:
    """L*, C*ab and hue angle h in degrees [0, 360), shape (..., 3)."""
    given = np.asarray(lab, dtype=np.float64)
    a, b = given[..., 1], given[..., 2]
    angle = np.degrees(np.arctan2(b, a)) % 360.0
    # A tiny negative angle rounds up to 360 itself, which is 0.
    return np.stack([given[..., 0], np.hypot(a, b), np.where(angle >= 360.0, 0.0, angle)], -1)


def lch_to_lab(lch: ArrayLike) -> FloatArray:
    """Lab (..., 3) of L*, C*ab and hue angle in degrees."""
    given = np.asarray(lch, dtype=np.float64)
    angle = np.radians(given[..., 2])
    return np.stack(
        [given[..., 0], given[..., 1] * np.cos(angle), given[..., 1] * np.sin(angle)], -1
    )


def bradford(xyz: ArrayLike, from_white: ArrayLike, to_white: ArrayLike) -> FloatArray:
    """The XYZ (..., 3) that looks under ``to_white`` as ``xyz`` looks under ``from_white``.

    Linear Bradford adaptation, complete (Lam 1985; ICC.1:2022 annex E).
    """
    adapted: FloatArray = np.asarray(xyz, dtype=np.float64) @ bradford_matrix(
        np.asarray(from_white, dtype=np.float64), np.asarray(to_white, dtype=np.float64)
    )
    return adapted


def bradford_matrix(from_white: FloatArray, to_white: FloatArray) -> FloatArray:
    """The (3, 3) matrix M of ``bradford``, for row vectors: adapted = xyz @ M."""
    gains = (BRADFORD @ to_white) / (BRADFORD @ from_white)
    matrix: FloatArray = (np.linalg.inv(BRADFORD) @ (gains[:, None] * BRADFORD)).T
    return matrix


@lru_cache(maxsize=1)
def _screen_matrices() -> tuple[FloatArray, FloatArray]:
    """Linear sRGB → XYZ under D50, and back, for row vectors.

    Primaries and D65 chromaticity from IEC 61966-2-1, 4.1 (ITU-R BT.709).
    """
    xy = np.array([[0.64, 0.33], [0.30, 0.60], [0.15, 0.06]])
    primaries = np.column_stack([xy, 1 - xy.sum(axis=1)]) / xy[:, 1:]
    d65 = np.array([0.3127, 0.3290, 1 - 0.3127 - 0.3290]) / 0.3290
    matrix = np.linalg.solve(primaries.T, d65)[:, None] * primaries * 100
    matrix = matrix @ bradford_matrix(100 * d65, white("D50"))
    matrix *= white("D50") / matrix.sum(axis=0)  # full red + green + blue is exactly white
    return matrix, np.linalg.inv(matrix)


def lab_to_srgb(lab: ArrayLike) -> FloatArray:
    """Non-linear sRGB (..., 3), 0–1 inside the screen's gamut, not clipped.

    Bradford from D50 to D65, then IEC 61966-2-1. Outside 0–1 the curve is
    continued as an odd function, as CSS Color 4 does.
    """
    linear = xyz_to_linear(lab_to_xyz(lab))
    size = np.abs(linear)
    curve = np.where(size <= 0.0031308, 12.92 * size, 1.055 * size ** (1 / 2.4) - 0.055)
    rgb: FloatArray = np.copysign(curve, linear)
    return rgb


def srgb_to_xyz(rgb: ArrayLike) -> FloatArray:
    """XYZ (..., 3) under D50 of non-linear sRGB (..., 3) with 1 for full (IEC 61966-2-1)."""
    given = np.asarray(rgb, dtype=np.float64)
    size = np.abs(given)
    curve = np.where(size <= 0.04045, size / 12.92, ((size + 0.055) / 1.055) ** 2.4)
    return row_by_row(np.copysign(curve, given), _screen_matrices()[0])


def xyz_to_linear(xyz: ArrayLike) -> FloatArray:
    """Linear sRGB (..., 3), not clipped, of XYZ (..., 3) under D50."""
    return row_by_row(xyz, _screen_matrices()[1])


def srgb_to_lab(rgb: ArrayLike) -> FloatArray:
    """Lab (..., 3) of non-linear sRGB (..., 3) with 1 for full (IEC 61966-2-1)."""
    return xyz_to_lab(srgb_to_xyz(rgb))


def in_screen_gamut(lab: ArrayLike) -> NDArray[np.bool_]:
    """Whether an sRGB screen of 8 bits shows the colour without clipping, shape (...)."""
    rgb = lab_to_srgb(lab)
    inside: NDArray[np.bool_] = np.asarray(
        ((rgb >= -HALF_LEVEL) & (rgb <= 1 + HALF_LEVEL)).all(axis=-1)
    )
    return inside


def screen_rgb(lab: ArrayLike) -> NDArray[np.int64]:
    """The 8-bit screen colour (..., 3), 0–255, each channel clipped."""
    levels = np.rint(np.clip(lab_to_srgb(lab), 0.0, 1.0) * 255)
    return levels.astype(np.int64)


def shown_lab(lab: ArrayLike) -> FloatArray:
    """Lab (..., 3) of what an 8-bit sRGB screen truly shows for ``lab``."""
    return srgb_to_lab(screen_rgb(lab) / 255)


def hex_of(lab: ArrayLike) -> str:
    """One Lab as ``#rrggbb``, clipped to the screen."""
    r, g, b = screen_rgb(lab).tolist()
    return f"#{r:02x}{g:02x}{b:02x}"
