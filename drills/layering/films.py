"""Kubelka–Munk films: one uniform layer of pigment in a binder.

Kubelka & Munk (1931), Zeitschrift für technische Physik 12, 593; closed forms
after Kubelka (1948), J. Opt. Soc. Am. 38, 448. K is absorption, S scattering,
for unit thickness x, in any one unit; every argument broadcasts.

The usual forms hold cosh and coth of b·S·x, which overflow for thick films and
divide by zero for clear ones. Here, with R∞ = S / (K + S + √(K(K + 2S))) and
e = exp(−2x√(K(K + 2S))), the same reflectance over a ground Rg is

    R = ((Rg − R∞)·e + R∞·(1 − R∞·Rg)) / (R∞·(Rg − R∞)·e + (1 − R∞·Rg))

which is finite for every K > 0 or S ≥ 0 and takes one exponential.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_TINY = 1e-300
_CLEAR = 1e-10
"""Least K/S that is worked with, for at K = 0 the form above is 0/0."""


def masstone(K: FloatArray, S: FloatArray) -> FloatArray:
    """R∞, the reflectance of an endlessly thick film: K/S = (1 − R∞)²/(2R∞)."""
    K = np.maximum(K, _CLEAR * S)
    r_inf: FloatArray = S / (K + S + np.sqrt(K * (K + 2.0 * S)) + _TINY)
    return r_inf


def decay(K: FloatArray, S: FloatArray) -> FloatArray:
    """2√(K(K + 2S)) = 2bS: how fast the ground fades as thickness grows."""
    K = np.maximum(K, _CLEAR * S)
    rate: FloatArray = 2.0 * np.sqrt(K * (K + 2.0 * S))
    return rate


def over(
    ground: FloatArray, limit: FloatArray, pole: FloatArray, decay_x: FloatArray
) -> FloatArray:
    """Reflectance of a film over ``ground``, given its decay × thickness and its two ends.

    ``limit`` is what it comes to when endlessly thick and ``pole`` one over the other ground
    that thickness doesn't change: both R∞ for a bare film, for that ground is 1/R∞
    (Kubelka 1948); ``surface.ends`` has those of a film under a surface.
    """
    e = np.exp(-decay_x)
    e = e * (ground - limit)
    through = 1.0 - pole * ground
    top = e + limit * through
    e *= pole
    e += through
    top /= e
    return top


def film(K: FloatArray, S: FloatArray, x: FloatArray, ground: FloatArray) -> FloatArray:
    """Reflectance 0–1 of a film of thickness ``x`` over ``ground`` (Kubelka 1948)."""
    r_inf = masstone(K, S)
    return over(ground, r_inf, r_inf, decay(K, S) * x)


def clear_film(scatter: FloatArray, ground: FloatArray) -> FloatArray:
    """A film that absorbs nothing, of scattering S·x (Kubelka 1948, K = 0)."""
    lift = scatter * (1.0 - ground)
    reflectance: FloatArray = (ground + lift) / (1.0 + lift)
    return reflectance


def from_two_grounds(
    over_light: FloatArray, over_dark: FloatArray, light: FloatArray, dark: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """K·x and S·x of a uniform film from its reflectance over two known grounds.

    Kubelka's R = (1 − Rg(a − b·coth bSx)) / (a − Rg + b·coth bSx) is linear in
    a and b·coth bSx, and two grounds give two equations. NaN where no film has
    these reflectances.
    """
    # a·(R + Rg) + (b·coth)·(R − Rg) = 1 + R·Rg, for each ground.
    p1, q1, r1 = over_light + light, over_light - light, 1.0 + over_light * light
    p2, q2, r2 = over_dark + dark, over_dark - dark, 1.0 + over_dark * dark
    with np.errstate(all="ignore"):
        det = p1 * q2 - p2 * q1
        a = (r1 * q2 - r2 * q1) / det
        b_coth = (p1 * r2 - p2 * r1) / det
        b = np.sqrt(a * a - 1.0)
        S = np.arctanh(b / b_coth) / b
        return S * (a - 1.0), S
