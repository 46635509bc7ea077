"""What isn't known of pencils, paper and hand, drawn by lot: films as they may be in truth.

Every draw gives the swatches back, as the model itself does: it differs in what a swatch
doesn't say. Prior spreads stand in ``constants``; they are as wide about a learned hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import WAVELENGTHS_NM, weights
from drills.layering import constants as c
from drills.layering.calibrate import near_absorption, scatter_shape, surface_of
from drills.layering.films import FloatArray, decay, masstone
from drills.layering.laying import LearnedHand
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.paper import SURFACE, deeper, drawing_paper
from drills.layering.predict import check_move, sheet_lab
from drills.layering.sheet import blank, blend, burnish, lay
from drills.layering.surface import ends

IntArray = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class DrawnFilms:
    """V draws of the films of M pencils, in rows of V·M: row v·M + m is pencil m in draw v.

    The films are as in Palette; ``tooth`` (V,) times the depth of tooth, ``habit`` (V,) the
    power a hand gives to pressures (1: as meant; firm is firm).
    """

    K: FloatArray
    S: FloatArray
    limit: FloatArray
    pole: FloatArray
    decay: FloatArray
    surface: FloatArray
    tooth: FloatArray
    habit: FloatArray


def lab_in_doubt(
    palette: Palette, moves: Sequence[Move], draws: int, hands: int, rng: np.random.Generator
) -> FloatArray:
    """Lab (draws · hands, 3) of what moves may come to: each draw laid by so many hands.

    Raises ValueError for a layer without a pencil, and a pencil that isn't there.
    """
    colours = set(palette.colour_indices.tolist())
    for move in moves:
        check_move(palette, move)
    used = sorted({move.pencil for move in moves} & colours)
    films = draw_films(palette, np.array(used, dtype=np.int64), draws, rng)
    B = draws * hands
    first_row = np.repeat(np.arange(draws) * len(used), hands)
    habit = np.repeat(films.habit, hands)
    sheet = blank(deeper(palette.paper, np.repeat(films.tooth, hands)), B)
    for move in moves:
        sway = 1.0 + c.HAND_SD * rng.standard_normal(B)
        coloured = move.pencil in colours
        if coloured and move.action != "blend":
            meant = move.pressure if move.action == "lay" else c.HEAVIEST
            row = first_row + used.index(move.pencil)
            sheet = lay(sheet, films, row, np.maximum(meant, 0.0) ** habit * sway)
        if move.action == "burnish":
            sheet = burnish(sheet)
        elif move.action == "blend" or not coloured:
            sheet = blend(sheet, np.maximum(move.pressure, 0.0) ** habit * sway)
    return sheet_lab(sheet)


def draw_films(
    palette: Palette, pencils: IntArray, draws: int, rng: np.random.Generator
) -> DrawnFilms:
    """``draws`` draws of what ``pencils`` (M,) of the palette may be; none of them a blender."""
    M = len(pencils)
    tooth = np.exp(c.TOOTH_SD * rng.standard_normal(draws))
    habit = 1.0 + c.HABIT_SD * rng.standard_normal(draws)
    hand = palette.hand or LearnedHand(())
    power = np.clip(hand.scatter_power + c.SCATTER_POWER_SD * rng.standard_normal(draws), 0.0, 1.5)
    shine = hand.shine * np.exp(c.MATT_SD * rng.standard_normal(draws))
    of = [palette.set.pencils[i] for i in pencils.tolist()]
    sd = np.array([c.SCATTERING_SD if one.on_black is None else c.MEASURED_SD for one in of])
    scale = np.exp(sd * rng.standard_normal((draws, M)))
    guessed = np.array([0.0 if one.reflectance is not None else 1.0 for one in of])
    target = _other_spectra(palette.reflectance[pencils], guessed, draws, rng)
    usual = scatter_shape(palette.reflectance[pencils], hand.scatter_power).max(axis=1)
    most = palette.S[pencils].max(axis=1) / usual * scale
    S = np.clip(most, *c.S_SCALES)[:, :, None] * scatter_shape(target, power[:, None, None])
    surface = surface_of(target, SURFACE * shine[:, None])
    rows = (draws * M, target.shape[2])
    target, S, surface = target.reshape(rows), S.reshape(rows), surface.reshape(-1)
    # Where a film hides, K keeps step with S; where it is clear, it stays: begin between.
    K = np.tile(palette.K[pencils], (draws, 1))
    K *= np.sqrt(S / np.tile(palette.S[pencils], (draws, 1)))
    K = near_absorption(
        target,
        S,
        surface,
        deeper(drawing_paper(), np.repeat(hand.tooth * tooth, M)),
        K,
    )
    limit, pole = ends(masstone(K, S))
    return DrawnFilms(K, S, limit, pole, decay(K, S), surface, tooth, habit)


def _other_spectra(
    given: FloatArray, guessed: FloatArray, draws: int, rng: np.random.Generator
) -> FloatArray:
    """Spectra (draws, M, 31) of the same colour as ``given`` (M, 31) where that is ``guessed``.

    A smooth wave, its size drawn from pencil to pencil, less what of it could be seen.
    """
    M, bands = given.shape
    if not guessed.any():
        return np.repeat(given[None], draws, axis=0)
    size = guessed * c.SPECTRUM * np.exp(c.SPECTRUM_SD * rng.standard_normal((draws, M)))
    wave = rng.standard_normal((draws, M, bands)) @ _smooth() * size[:, :, None]
    yields = given * (1.0 - given)  # what a spectrum gives way by, as the logit counts
    W = yields[:, :, None] * weights("D50")
    seen = np.linalg.solve(np.einsum("mlj,mlk->mjk", W, W), np.swapaxes(W, 1, 2))
    wave -= np.einsum("vml,mlj,mjk->vmk", wave, W, seen)
    by = yields * wave
    room = np.where(by < 0.0, c.DEEPEST * given, np.maximum(c.BRIGHTEST - given, 0.0))
    share = np.minimum(1.0, (room / np.maximum(np.abs(by), 1e-12)).min(axis=2, keepdims=True))
    other: FloatArray = given + share * by
    return other


@lru_cache(maxsize=1)
def _smooth() -> FloatArray:
    """A root (31, 31) of the covariance of smooth waves of size 1."""
    apart = (WAVELENGTHS_NM[:, None] - WAVELENGTHS_NM) / c.SPECTRUM_NM
    values, vectors = np.linalg.eigh(np.exp(-0.5 * apart**2))
    root: FloatArray = np.sqrt(np.maximum(values, 0.0))[:, None] * vectors.T
    return root
