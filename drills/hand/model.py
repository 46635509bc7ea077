"""What patches come to, and how that moves with each thing that isn't known.

The unknowns are θ (7 + M + U,), all 0 for the default: what is shared (``SHARED``), then the log
of each of M coloured pencils' scattering about its usual, then the log of how hard each of U
painted swatches was laid. How strong a pencil is follows from its swatch, so laid: every θ gives
it back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Final, cast

import numpy as np

from drills.hand.patch import Recipe
from drills.layering import constants as c
from drills.layering.calibrate import near_absorption, scatter_shape, surface_of
from drills.layering.films import FloatArray, decay, masstone
from drills.layering.laying import Laying, LearnedHand
from drills.layering.palette import Palette
from drills.layering.paper import SURFACE, black_paper, deeper, drawing_paper
from drills.layering.predict import sheet_lab
from drills.layering.sheet import Films, IntArray, blank, blend, lay
from drills.layering.surface import ends

SHARED: Final = {
    "tooth": c.TOOTH_SD,
    "capacity": c.CAPACITY_SD,
    "power": c.LOAD_POWER_SD,
    "light": c.PRESS_SD,
    "middle": c.PRESS_SD,
    "scatter_power": c.SCATTER_POWER_SD,
    "shine": c.MATT_SD,
}
"""Prior spread of each: of its log, but for ``scatter_power``."""
N_SHARED: Final = len(SHARED)
_TOOTH, _CAPACITY, _POWER, _LIGHT, _MIDDLE, _SCATTER, _SHINE = range(N_SHARED)
_SCALE: Final = N_SHARED
_PRESSED: Final = N_SHARED + 1
_FILM_SETS: Final = (-1, _TOOTH, _SCATTER, _SHINE, _SCALE, _PRESSED)
"""Sets of films solved for: at θ, and with each of these moved (the last two: every scale, and
how hard every swatch was laid)."""
_STEP: Final = 0.01
_SOLVES: Final = 3


@dataclass(frozen=True, eq=False)
class Slopes:
    """``lab`` (B, 3) of B recipes, its slopes by θ (B, 3, 7 + M + U), and by each layer's log
    pressure (B, 3, n)."""

    lab: FloatArray
    by_unknown: FloatArray
    by_layer: FloatArray


def prior(palette: Palette) -> FloatArray:
    """Covariance (P, P) of θ before any patch: pencils of a class share a part."""
    of = [palette.set.pencils[i] for i in palette.colour_indices]
    own_sd = palette.pressed_sd[palette.colour_indices][painted(palette)]
    M, P = len(of), N_SHARED + len(of) + len(own_sd)
    cov = np.zeros((P, P))
    cov[range(N_SHARED), range(N_SHARED)] = np.array(list(SHARED.values())) ** 2
    by_class = np.array([p.opacity for p in of])
    guessed = np.array([p.on_black is None for p in of])
    alike = (by_class[:, None] == by_class) & guessed[:, None] & guessed
    own = np.where(guessed, c.SCATTERING_SD**2 - c.CLASS_SD**2, c.MEASURED_SD**2)
    scales = slice(N_SHARED, N_SHARED + M)
    cov[scales, scales] = c.CLASS_SD**2 * alike + np.diag(own)
    cov[range(N_SHARED + M, P), range(N_SHARED + M, P)] = own_sd**2
    return cov


def painted(palette: Palette) -> IntArray:
    """Which (U,) of the coloured pencils have a swatch that was painted, by place among them."""
    return np.flatnonzero(palette.pressed_sd[palette.colour_indices] > 0.0)


def as_hand(
    palette: Palette, theta: FloatArray, patches: int, sd: FloatArray | None = None
) -> LearnedHand:
    """θ as the numbers a palette is prepared with; ``sd`` (P,) is the doubt left in each: none
    unless given."""
    of = palette.colour_indices
    own = N_SHARED + len(of)
    scales = np.ones(len(palette))
    scales[of] = np.exp(theta[N_SHARED:own])
    pressed, pressed_sd = np.ones(len(palette)), np.zeros(len(palette))
    pressed[of[painted(palette)]] = np.exp(theta[own:])
    pressed_sd[of[painted(palette)]] = 0.0 if sd is None else sd[own:]
    up = np.exp(theta[:N_SHARED]).tolist()
    return LearnedHand(
        tuple(scales.tolist()),
        tooth=up[_TOOTH],
        capacity=c.CAPACITY * up[_CAPACITY],
        power=c.LOAD_POWER * up[_POWER],
        light=up[_LIGHT],
        middle=up[_MIDDLE],
        scatter_power=max(0.0, c.SCATTER_POWER + float(theta[_SCATTER])),
        shine=up[_SHINE],
        patches=patches,
        pressed=tuple(pressed.tolist()),
        pressed_sd=tuple(pressed_sd.tolist()),
    )


def slopes(palette: Palette, theta: FloatArray, recipes: Sequence[Recipe]) -> Slopes:
    """What ``recipes`` come to at θ, of a palette prepared without a hand."""
    M, B = len(palette.colour_indices), len(recipes)
    films = _films(palette, theta)
    n = max(len(one.moves) for one in recipes)
    place = {int(i): at for at, i in enumerate(palette.colour_indices)}
    row, press = np.zeros((B, n), dtype=np.int64), np.zeros((B, n))
    rub = np.zeros((B, n))
    for b, one in enumerate(recipes):
        for k, move in enumerate(one.moves):
            if move.action == "lay" and move.pencil in place:
                row[b, k], press[b, k] = place[move.pencil], move.pressure
            else:
                rub[b, k] = move.pressure
    laid = press > 0.0
    # A pencil's own scale moves every layer of it; slot k is the pencil of layer k, once.
    slot = [
        laid[:, k] & ~(laid[:, :k] & (row[:, :k] == row[:, k : k + 1])).any(axis=1)
        for k in range(n)
    ]
    U = painted(palette)
    own_of = np.full(M, -1)
    own_of[U] = N_SHARED + M + np.arange(len(U))
    sets = (_SCALE, _PRESSED) if U.size else (_SCALE,)
    by_layer = 1 + N_SHARED + len(sets) * n
    V = by_layer + n
    rows, presses = np.tile(row, (V, 1, 1)), np.tile(press, (V, 1, 1))
    shared = np.tile(theta[:N_SHARED], (V, 1))
    for j in range(N_SHARED):
        shared[1 + j, j] += _STEP
        if j in _FILM_SETS:
            rows[1 + j] += M * _FILM_SETS.index(j)
    for k in range(n):
        own = (row == row[:, k : k + 1]) & slot[k][:, None]
        for at_set, moved_set in enumerate(sets):
            rows[1 + N_SHARED + at_set * n + k] += M * _FILM_SETS.index(moved_set) * own
        presses[by_layer + k, :, k] *= np.exp(_STEP)
    lab = np.empty((V, B, 3))
    for ground, paper in (("white", drawing_paper()), ("black", black_paper())):
        at = np.array([b for b, one in enumerate(recipes) if one.paper == ground], dtype=np.int64)
        if not at.size:
            continue
        up = np.exp(np.repeat(shared, len(at), axis=0))[:, :, None]
        laying = Laying(
            c.CAPACITY * up[:, _CAPACITY], c.LOAD_POWER * up[:, _POWER],
            up[:, _LIGHT], up[:, _MIDDLE],
        )  # fmt: skip
        sheet = blank(replace(deeper(paper, up[:, _TOOTH, 0]), laying=laying), V * len(at))
        for k in range(n):
            sheet = lay(sheet, films, rows[:, at, k].ravel(), presses[:, at, k].ravel())
            if rub[at, k].any():
                sheet = blend(sheet, np.tile(rub[at, k], V))
        lab[:, at] = sheet_lab(sheet).reshape(V, len(at), 3)
    moved = np.moveaxis((lab[1:] - lab[0]) / _STEP, 0, 2)
    by_unknown = np.zeros((B, 3, N_SHARED + M + len(U)))
    by_unknown[:, :, :N_SHARED] = moved[:, :, :N_SHARED]
    for k in range(n):
        rows_of = np.flatnonzero(slot[k])
        scale = N_SHARED + row[rows_of, k]
        by_unknown[rows_of, :, scale] = moved[rows_of, :, N_SHARED + k]
        rows_of = rows_of[own_of[row[rows_of, k]] >= 0]
        by_unknown[rows_of, :, own_of[row[rows_of, k]]] = moved[rows_of, :, N_SHARED + n + k]
    return Slopes(lab[0], by_unknown, moved[:, :, by_layer - 1 :])


def _films(palette: Palette, theta: FloatArray) -> Films:
    """Films (6 · M, 31): at θ, then with each of ``_FILM_SETS`` moved by a step."""
    of, U = palette.colour_indices, painted(palette)
    M, V = len(of), len(_FILM_SETS) if U.size else _FILM_SETS.index(_PRESSED)
    shared = np.tile(theta[:N_SHARED], (V, 1))
    scale = np.tile(theta[N_SHARED : N_SHARED + M], (V, 1))
    laid = np.zeros((V, M))
    laid[:, U] = theta[N_SHARED + M :]
    for v, j in enumerate(_FILM_SETS[:V]):
        if j == _SCALE:
            scale[v] += _STEP
        elif j == _PRESSED:
            laid[v] += _STEP
        elif j >= 0:
            shared[v, j] += _STEP
    target = np.tile(palette.reflectance[of], (V, 1))
    shape = scatter_shape(palette.reflectance[of])
    usual = palette.S[of].max(axis=1) / shape.max(axis=1)
    most = np.clip(usual * np.exp(scale), *c.S_SCALES).reshape(-1, 1)
    power = np.maximum(0.0, c.SCATTER_POWER + shared[:, _SCATTER])
    S = most * scatter_shape(target, np.repeat(power, M)[:, None])
    surface = surface_of(target, SURFACE * np.repeat(np.exp(shared[:, _SHINE]), M))
    tooth, pressed = np.repeat(np.exp(shared[:, _TOOTH]), M), np.exp(laid).reshape(-1)
    # At θ first, and well: the others begin from there, so that their slopes are true.
    at = palette.K[of] * np.sqrt(S[:M] / palette.S[of])
    for _ in range(_SOLVES):
        on = deeper(drawing_paper(), tooth[:M])
        at = near_absorption(target[:M], S[:M], surface[:M], on, at, pressed[:M])
    near = np.tile(at, (V, 1))
    K = near_absorption(target, S, surface, deeper(drawing_paper(), tooth), near, pressed)
    limit, pole = ends(masstone(K, S))
    return cast(
        Films,
        SimpleNamespace(K=K, S=S, limit=limit, pole=pole, decay=decay(K, S), surface=surface),
    )
