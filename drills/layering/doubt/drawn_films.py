"""What pencils may be that swatches don't say, drawn by lot: films as they may be in truth.

Every draw gives the swatches back, as the model itself does: it differs in what a swatch
doesn't say. Prior spreads stand in ``constants``; they are as wide about a learned hand.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import WAVELENGTHS_NM, weights
from drills.layering import constants as c
from drills.layering.calibrate import near_absorption, scatter_shape, surface_of
from drills.layering.doubt.quick_layers import EVERY_OTHER
from drills.layering.films import FloatArray, decay, masstone
from drills.layering.laying import LearnedHand
from drills.layering.palette import Palette
from drills.layering.paper import SURFACE, deeper, drawing_paper
from drills.layering.surface import ends

IntArray = NDArray[np.int64]
SHARED = 4
"""What all pencils share: tooth, habit, power of scattering, shine."""
MOST_MOVES = 8
"""Moves whose pressures are drawn whatever a recipe's length, so that each hand stays the same."""


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


class KnownFilms:
    """Draws of films at every other band, each pencil's made when it is first asked for.

    The same seed draws the same, as ``draw_films`` does of a generator of that seed, and the
    same hands: ``sway`` (draws, MOST_MOVES).
    """

    def __init__(self, palette: Palette, draws: int, seed: int) -> None:
        self._palette, self._draws, self._seed = palette, draws, seed
        self._shared = balanced(np.random.default_rng(seed), draws, SHARED + MOST_MOVES)
        self.sway: FloatArray = 1.0 + c.HAND_SD * self._shared[:, SHARED:]
        self._of: dict[int, tuple[FloatArray, ...]] = {}

    def films(self, pencils: IntArray) -> DrawnFilms:
        """As ``draw_films``."""
        new = np.array([at for at in pencils.tolist() if at not in self._of], dtype=np.int64)
        rng = np.random.default_rng([self._seed, 1])
        if new.size:
            made = draw_films(self._palette, new, self._draws, rng, self._shared, EVERY_OTHER)
            self._alike = made
            by_pencil = [
                part.reshape(self._draws, len(new), -1)
                for part in (made.K, made.S, made.limit, made.pole, made.decay, made.surface)
            ]
            for place, at in enumerate(new.tolist()):
                self._of[at] = tuple(part[:, place] for part in by_pencil)
        if not pencils.size:
            return draw_films(self._palette, pencils, self._draws, rng, self._shared, EVERY_OTHER)
        each = [self._of[at] for at in pencils.tolist()]
        parts = [np.stack(part, axis=1) for part in zip(*each, strict=True)]
        rows = (self._draws * len(pencils), -1)
        *films, surface = [part.reshape(rows) for part in parts]
        return replace(
            self._alike,
            K=films[0], S=films[1], limit=films[2], pole=films[3], decay=films[4],
            surface=surface.reshape(-1),
        )  # fmt: skip


@lru_cache(maxsize=3)
def known_films(palette: Palette, draws: int, seed: int) -> KnownFilms:
    """Those made before, where there are any."""
    return KnownFilms(palette, draws, seed)


def draw_films(
    palette: Palette, pencils: IntArray, draws: int, rng: np.random.Generator,
    shared: FloatArray | None = None, bands: slice = slice(None),
) -> DrawnFilms:  # fmt: skip
    """``draws`` draws of what ``pencils`` (M,) of the palette may be; none of them a blender.

    ``shared`` (draws, SHARED) are standard normal draws of what all pencils share; the films
    have these ``bands`` of 31. The same generator draws the same of a pencil, whichever others
    are asked for: so what is expected of a recipe doesn't hang on what it is compared with.
    """
    M, every = len(pencils), len(palette)
    if shared is None:
        shared = balanced(rng, draws, SHARED)
    tooth = np.exp(c.TOOTH_SD * shared[:, 0])
    habit = 1.0 + c.HABIT_SD * shared[:, 1]
    hand = palette.hand or LearnedHand(())
    power = np.clip(hand.scatter_power + c.SCATTER_POWER_SD * shared[:, 2], 0.0, 1.5)
    shine = hand.shine * np.exp(c.MATT_SD * shared[:, 3])
    of = [palette.set.pencils[i] for i in pencils.tolist()]
    sd = np.array([c.SCATTERING_SD if one.on_black is None else c.MEASURED_SD for one in of])
    scale = np.exp(sd * lots(rng, draws, every)[:, pencils])
    guessed = np.array([0.0 if one.reflectance is not None else 1.0 for one in of])
    sizes = lots(rng, draws, every)[:, pencils]
    waves = lots(rng, draws, every, palette.reflectance.shape[1])[:, pencils]
    target = _other_spectra(palette.reflectance[pencils], guessed, sizes, waves)
    # Last, so that what is drawn of pencils without doubt in their swatch is what it always was.
    laid = np.repeat(np.log(palette.pressed)[None, pencils], draws, axis=0)
    if palette.pressed_sd.any():
        laid += palette.pressed_sd[pencils] * lots(rng, draws, every)[:, pencils]
    usual = scatter_shape(palette.reflectance[pencils], hand.scatter_power).max(axis=1)
    most = palette.S[pencils].max(axis=1) / usual * scale
    S = np.clip(most, *c.S_SCALES)[:, :, None] * scatter_shape(target, power[:, None, None])
    surface = surface_of(target, SURFACE * shine[:, None])
    target, S = target[:, :, bands], S[:, :, bands]
    rows = (draws * M, target.shape[2])
    target, S, surface = target.reshape(rows), S.reshape(rows), surface.reshape(-1)
    white = drawing_paper()
    white = replace(white, reflectance=white.reflectance[bands])
    # Where a film hides, K keeps step with S; where it is clear, it stays: begin between.
    K = np.tile(palette.K[pencils][:, bands], (draws, 1))
    K *= np.sqrt(S / np.tile(palette.S[pencils][:, bands], (draws, 1)))
    K = near_absorption(
        target,
        S,
        surface,
        deeper(white, np.repeat(hand.tooth * tooth, M)),
        K,
        np.exp(laid).reshape(-1),
    )
    limit, pole = ends(masstone(K, S))
    return DrawnFilms(K, S, limit, pole, decay(K, S), surface, tooth, habit)


def lots(rng: np.random.Generator, draws: int, *shape: int) -> FloatArray:
    """Standard normal draws (draws, *shape), in pairs of opposite sign: fewer tell as much."""
    half = rng.standard_normal((-(-draws // 2), *shape))
    made: FloatArray = np.concatenate([half, -half])[:draws]
    return made


def balanced(rng: np.random.Generator, draws: int, n: int) -> FloatArray:
    """Standard normal draws (draws, n) as ``lots`` has them, in n directions of which none is
    drawn wider than another nor leans on another, where there are draws enough: what n small
    errors come to together is then told by far fewer draws."""
    half = rng.standard_normal((n, -(-draws // 2))).T
    if len(half) >= n + 4:
        values, vectors = np.linalg.eigh(half.T @ half / len(half))
        half = half @ (vectors / np.sqrt(values)) @ vectors.T
    return np.concatenate([half, -half])[:draws]


def _other_spectra(
    given: FloatArray, guessed: FloatArray, sizes: FloatArray, waves: FloatArray
) -> FloatArray:
    """Spectra (draws, M, 31) of the same colour as ``given`` (M, 31) where that is ``guessed``.

    A smooth wave, its size drawn from pencil to pencil, less what of it could be seen.
    ``sizes`` (draws, M) and ``waves`` (draws, M, 31) are standard normal draws.
    """
    if not guessed.any():
        return np.repeat(given[None], len(sizes), axis=0)
    size = guessed * c.SPECTRUM * np.exp(c.SPECTRUM_SD * sizes)
    wave = waves @ _smooth() * size[:, :, None]
    yields = given * (1.0 - given)  # what a spectrum gives way by, as the logit counts
    W = yields[:, :, None] * weights("D50")
    seen = np.linalg.solve(np.einsum("mlj,mlk->mjk", W, W), np.swapaxes(W, 1, 2))
    wave -= np.swapaxes(np.swapaxes(wave, 0, 1) @ W @ seen, 0, 1)
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
