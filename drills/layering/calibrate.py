"""From swatches to films: each pencil's K and S, so that the model gives its swatch back.

A swatch is one firm layer on white drawing paper, and its reflectance the mean
over the zones of tooth, so K is solved on the zones and not on a uniform film.
S has one scale a pencil; how it runs over wavelengths follows from the swatch.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from drills.colour.data.tables import WAVELENGTHS_NM
from drills.colour.spaces import reflectance_to_lab
from drills.layering import constants as c
from drills.layering.films import FloatArray, clear_film, decay, masstone, over
from drills.layering.paper import SURFACE, Paper, black_paper, deposit, drawing_paper
from drills.layering.sheet import new_surface
from drills.layering.surface import ends, inside, outside

_HALVINGS = 13
_SECANTS = 3
_FLAT = 1e-15
_NEAR_SECANTS = 4
_NUDGE = 0.2
_SCALES = 7
"""Scales tried at once; each round looks between those beside the best of the last."""
_SCALE_ROUNDS = 3
_SCALE_REACH = 2.2
"""How far, in log, the first round looks from what is usual."""


def firm_thickness(paper: Paper, pressed: FloatArray | float = c.FIRM) -> FloatArray:
    """Thickness (1, Z) of one firm layer on fresh paper; (n, Z) where its heights are.

    ``pressed`` is how hard a swatch was laid in truth: one for all, or (n,).
    """
    return deposit(paper, np.zeros((1, paper.zones)), np.atleast_1d(pressed))


def surface_of(target: FloatArray, matt: FloatArray | float = SURFACE) -> FloatArray:
    """What the surface of pencils whose swatches are ``target`` (..., 31) turns back, (...).

    ``matt`` is what it would but for the darkest of them.
    """
    bounded: FloatArray = np.minimum(matt, c.DARKEST * target.min(axis=-1))
    return bounded


def scatter_shape(target: FloatArray, power: FloatArray | float = c.SCATTER_POWER) -> FloatArray:
    """How S runs over wavelengths for pencils whose swatches are ``target`` (..., 31)."""
    most = target.max(axis=-1, keepdims=True)
    shape: FloatArray = (target / most) ** power * _blue_first(most)
    return shape


def _blue_first(most: FloatArray | float) -> FloatArray:
    """Clear grains scatter short waves more; those that reflect no wave well, all alike."""
    slope: FloatArray = (550.0 / WAVELENGTHS_NM) ** (c.SCATTER_SLOPE * most)
    return slope


def ceiling(scale: float) -> FloatArray:
    """The most (31,) a firm film of this scale of scattering reflects on white drawing paper."""
    paper = drawing_paper()
    lift = scale * _blue_first(1.0) * firm_thickness(paper)[0, :, None]
    zones = outside(clear_film(lift, inside(paper.without_surface)))
    brightest: FloatArray = np.einsum("z,zl->l", paper.areas, zones) + SURFACE
    return brightest


def swatch(
    K: FloatArray, S: FloatArray, paper: Paper, surface: FloatArray,
    pressed: FloatArray | float = c.FIRM,
) -> FloatArray:  # fmt: skip
    """Reflectance (n, 31) of one firm layer of films K, S (n, 31) whose surface is (n,).

    ``pressed`` as in ``firm_thickness``.
    """
    x = firm_thickness(paper, pressed)
    limit, pole = ends(masstone(K, S))
    # Zones first: numpy then works on all of a zone's numbers running, several times as fast.
    zones = over(paper.without_surface, limit, pole, decay(K, S) * x.T[:, :, None])
    mean: FloatArray = paper.areas[0] * zones[0]
    for area, zone in zip(paper.areas[1:], zones[1:], strict=True):
        mean += area * zone
    mean += (new_surface(np.array(SURFACE), surface[:, None], x) @ paper.areas)[:, None]
    return mean


def solve_absorption(
    target: FloatArray, S: FloatArray, surface: FloatArray, paper: Paper | None = None,
    pressed: FloatArray | float = c.FIRM,
) -> FloatArray:  # fmt: skip
    """K (n, 31) whose firm layer on white drawing ``paper`` reflects ``target`` (n, 31).

    ``pressed`` as in ``firm_thickness``.

    More K is always darker: by halving, then along secants. Where even a clear film of
    scattering ``S`` is darker than ``target``, K is the least there is.
    """
    on = paper or drawing_paper()

    def miss(log_K: FloatArray) -> FloatArray:
        return swatch(np.exp(log_K), S, on, surface, pressed) - target

    low, high = _log_limits(S)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        bright = miss(middle) > 0.0
        low, high = np.where(bright, middle, low), np.where(bright, high, middle)
    return np.exp(_along_secants(miss, low, high, low, high, _SECANTS))


def near_absorption(
    target: FloatArray, S: FloatArray, surface: FloatArray, paper: Paper, K: FloatArray,
    pressed: FloatArray | float = c.FIRM,
) -> FloatArray:  # fmt: skip
    """As ``solve_absorption`` on this ``paper``, quicker and less exact, from ``K`` not far off."""

    def miss(log_K: FloatArray) -> FloatArray:
        return swatch(np.exp(log_K), S, paper, surface, pressed) - target

    low, high = _log_limits(S)
    old = np.clip(np.log(K), low, high)
    new = np.clip(old + _NUDGE, low, high)
    return np.exp(_along_secants(miss, old, new, low, high, _NEAR_SECANTS))


def _log_limits(S: FloatArray) -> tuple[FloatArray, FloatArray]:
    low = np.log(np.maximum(c.ABSORPTION_FLOOR * S, c.K_LIMITS[0]))
    return low, np.full_like(S, np.log(c.K_LIMITS[1]))


def _along_secants(
    miss: Callable[[FloatArray], FloatArray],
    old: FloatArray,
    new: FloatArray,
    low: FloatArray,
    high: FloatArray,
    steps: int,
) -> FloatArray:
    """Where ``miss`` is 0, from two guesses; no step is longer than 1 or leaves the limits."""
    off_old = miss(old)
    for _ in range(steps):
        off_new = miss(new)
        rise = off_new - off_old
        level = np.abs(rise) < _FLAT
        step = np.where(level, 0.0, off_new * (new - old) / np.where(level, 1.0, rise))
        old, off_old = new, off_new
        new = np.clip(new - np.clip(step, -1.0, 1.0), low, high)
    return new


def solve_scale(
    target: FloatArray, surface: FloatArray, usual: FloatArray, on_black: FloatArray
) -> FloatArray:
    """The scale of scattering (n,) of pencils whose swatch on black paper is ``on_black``.

    ``target`` (n, 31) is the swatch on white, ``on_black`` (n, 3) a Lab, ``usual`` (n,) the
    scale of the pencil's class. Of all scales within their limits the likeliest: the class
    is taken as ``SCATTERING_SD`` says, the colour as ``ON_BLACK_SD``. A swatch that tells
    nothing (a dark pencil on black) leaves the class as it is.
    """
    shape, white, black = scatter_shape(target), drawing_paper(), black_paper()
    S_best = usual[:, None] * shape
    K_best = solve_absorption(target, S_best, surface)
    best, reach = np.zeros(len(target)), _SCALE_REACH
    for _ in range(_SCALE_ROUNDS):
        logs = best[:, None] + reach * np.linspace(-1.0, 1.0, _SCALES)
        scales = np.clip(usual[:, None] * np.exp(logs), *c.S_SCALES)
        rows = np.repeat(np.arange(len(target)), _SCALES)
        S = scales.reshape(-1, 1) * shape[rows]
        near = K_best[rows] * np.sqrt(S / S_best[rows])
        K = near_absorption(target[rows], S, surface[rows], white, near)
        seen = reflectance_to_lab(swatch(K, S, black, surface[rows]))
        off = ((seen - on_black[rows]) ** 2).sum(axis=1).reshape(logs.shape)
        doubt = off / c.ON_BLACK_SD**2 + (np.log(scales / usual[:, None]) / c.SCATTERING_SD) ** 2
        chosen = doubt.argmin(axis=1)
        at = np.arange(len(target)) * _SCALES + chosen
        best, K_best, S_best = logs.reshape(-1)[at], K[at], S[at]
        reach *= 2.0 / (_SCALES - 1)
    scale: FloatArray = np.clip(usual * np.exp(best), *c.S_SCALES)
    return scale
