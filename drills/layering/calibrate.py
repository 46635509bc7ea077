"""From swatches to films: each pencil's K and S, so that the model gives its swatch back.

A swatch is one firm layer on white drawing paper, and its reflectance the mean
over the zones of tooth, so K is solved on the zones and not on a uniform film.
"""

from __future__ import annotations

import numpy as np

from drills.layering import constants as c
from drills.layering.films import FloatArray, clear_film, film, from_two_grounds
from drills.layering.paper import Paper, black_paper, deposit, drawing_paper

_HALVINGS = 44
_NEWTON_STEPS = 30


def firm_thickness(paper: Paper) -> FloatArray:
    """Thickness (Z,) of one firm layer on fresh paper."""
    x: FloatArray = deposit(paper, np.zeros((1, paper.zones)), np.array([c.FIRM]))[0]
    return x


def ceiling(S: float) -> FloatArray:
    """The most (31,) a firm film of scattering S reflects on white drawing paper."""
    paper = drawing_paper()
    x = firm_thickness(paper)
    brightest: FloatArray = np.einsum(
        "z,zl->l", paper.areas, clear_film(S * x[:, None], paper.reflectance[None, :])
    )
    return brightest


def swatch(K: FloatArray, S: FloatArray, paper: Paper) -> FloatArray:
    """Reflectance (n, 31) of one firm layer of films K, S (n, 31)."""
    x = firm_thickness(paper)
    zones = film(K[:, None], S[:, None], x[:, None], paper.reflectance)
    mean: FloatArray = np.einsum("z,nzl->nl", paper.areas, zones)
    return mean


def solve_films(
    target: FloatArray, S: FloatArray, on_black: FloatArray | None = None
) -> tuple[FloatArray, FloatArray]:
    """K and S (n, 31) whose firm layer on white drawing paper reflects ``target`` (n, 31).

    ``S`` (n, 31) is kept, and raised only where ``target`` is brighter than
    paper under a clear film of it. With ``on_black`` (n, 31), the swatch over
    black paper, both K and S are solved: first as a uniform film (Kubelka
    1948), then on the zones; white paper is met exactly, black as near as S in
    its limits allows.
    """
    if on_black is not None:
        S = _both(target, on_black)
    S = _raise(target, S)
    return _absorb(target, S), S


def _raise(target: FloatArray, S: FloatArray) -> FloatArray:
    """S, raised by just enough where even a clear film would be too dark."""
    paper = drawing_paper()
    dark = swatch(c.ABSORPTION_FLOOR * S, S, paper) < target
    rows = np.flatnonzero(dark.any(axis=1))
    if not rows.size:
        return S
    low, high = np.log(S[rows]), np.full_like(S[rows], np.log(c.S_LIMITS[1]))
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        s = np.exp(middle)
        under = swatch(c.ABSORPTION_FLOOR * s, s, paper) < target[rows]
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    raised = S.copy()
    raised[rows] = np.where(dark[rows], np.exp(high), S[rows])
    return raised


def _absorb(target: FloatArray, S: FloatArray) -> FloatArray:
    """K for given S, by halving: more K is always darker."""
    paper = drawing_paper()
    low = np.log(np.maximum(c.ABSORPTION_FLOOR * S, c.K_LIMITS[0]))
    high = np.full_like(S, np.log(c.K_LIMITS[1]))
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        bright = swatch(np.exp(middle), S, paper) > target
        low, high = np.where(bright, middle, low), np.where(bright, high, middle)
    return np.exp(0.5 * (low + high))


def _both(target: FloatArray, on_black: FloatArray) -> FloatArray:
    """S from two papers: Newton on log K and log S from the uniform film's answer."""
    white, black = drawing_paper(), black_paper()
    thickness = float(firm_thickness(white) @ white.areas)
    K, S = from_two_grounds(target, on_black, white.reflectance, black.reflectance)
    usable = np.isfinite(K) & np.isfinite(S) & (K > 0.0) & (S > 0.0)
    logs = np.log(
        np.stack(
            [
                np.clip(np.where(usable, K, 1.0) / thickness, *c.K_LIMITS),
                np.clip(np.where(usable, S, 1.0) / thickness, *c.S_LIMITS),
            ]
        )
    )

    def miss(logs: FloatArray) -> FloatArray:
        K, S = np.exp(logs)
        return np.stack([swatch(K, S, white) - target, swatch(K, S, black) - on_black])

    h = 1e-5
    lows = np.log([c.K_LIMITS[0], c.S_LIMITS[0]])[:, None, None]
    highs = np.log([c.K_LIMITS[1], c.S_LIMITS[1]])[:, None, None]
    for _ in range(_NEWTON_STEPS):
        f = miss(logs)
        if np.abs(f).max() < 1e-12:
            break
        by_K = (miss(logs + np.array([h, 0.0])[:, None, None]) - f) / h
        by_S = (miss(logs + np.array([0.0, h])[:, None, None]) - f) / h
        det = by_K[0] * by_S[1] - by_K[1] * by_S[0]
        det = np.where(np.abs(det) < 1e-14, np.copysign(1e-14, det), det)
        step = np.stack([by_S[0] * f[1] - by_S[1] * f[0], by_K[1] * f[0] - by_K[0] * f[1]]) / det
        logs = np.clip(logs + np.clip(step, -1.0, 1.0), lows, highs)
    solved: FloatArray = np.exp(logs[1])
    return solved
