"""What isn't known of pencils, paper and hand, drawn by lot: films as they may be in truth.

Every draw gives the swatches back, as the model itself does: it differs in what a swatch
doesn't say. Prior spreads stand in ``constants``; they are as wide about a learned hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
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
from drills.layering.sheet import Sheet, blank, blend, burnish, lay
from drills.layering.surface import ends

IntArray = NDArray[np.int64]
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


@dataclass(frozen=True, eq=False)
class Draws:
    """V draws of films and hands, for recipes that use some pencils of a palette.

    ``row_of`` (N + 1,) gives a pencil's place among those drawn, −1 for none; ``sway`` (V, n)
    what a hand does to the pressure of its nth move.
    """

    palette: Palette
    films: DrawnFilms
    row_of: IntArray
    sway: FloatArray

    @classmethod
    def of(
        cls, palette: Palette, recipes: Sequence[Sequence[Move]], draws: int,
        rng: np.random.Generator,
    ) -> Draws:  # fmt: skip
        """Raises ValueError for a layer without a pencil, and a pencil that isn't there."""
        every = {move for moves in recipes for move in moves}
        for move in every:
            check_move(palette, move)
        used = sorted({move.pencil for move in every} & set(palette.colour_indices.tolist()))
        films = draw_films(palette, np.array(used, dtype=np.int64), draws, rng)
        row_of = np.full(len(palette) + 1, -1)
        row_of[used] = np.arange(len(used))
        longest = max((len(moves) for moves in recipes), default=0)
        sway = 1.0 + c.HAND_SD * lots(rng, draws, max(longest, MOST_MOVES))
        return cls(palette, films, row_of, sway)

    def __len__(self) -> int:
        return len(self.sway)

    def blank(self) -> Sheet:
        """V sheets with nothing on them."""
        return blank(deeper(self.palette.paper, self.films.tooth), len(self))

    def kinds(self, moves: Sequence[Move]) -> tuple[str, ...]:
        """What is done at each move; recipes laid together must do the same."""
        return tuple(
            "wax" if move.action == "lay" and self.row_of[move.pencil] < 0 else move.action
            for move in moves
        )

    def laid(self, sheet: Sheet, recipes: Sequence[Sequence[Move]], before: int = 0) -> Sheet:
        """Sheets (n·V) after n recipes, each laid on the V of ``sheet`` by its V hands.

        ``before`` is how many moves the hands have made already.
        """
        n, draws = len(recipes), len(self)
        sheet = replace(
            sheet.take(np.tile(np.arange(draws), n)),
            paper=deeper(self.palette.paper, np.tile(self.films.tooth, n)),
        )
        each = int((self.row_of >= 0).sum())
        first, habit = np.tile(np.arange(draws) * each, n), np.tile(self.films.habit, n)
        for step, kind in enumerate(self.kinds(recipes[0])):
            these = [moves[step] for moves in recipes]
            sway = np.tile(self.sway[:, before + step], n)
            meant = np.repeat([max(move.pressure, 0.0) for move in these], draws)
            rows = first + np.repeat(self.row_of[[move.pencil for move in these]], draws)
            if kind == "lay":
                sheet = lay(sheet, self.films, rows, meant**habit * sway)
            elif kind == "burnish":
                weight = np.where(rows < first, 0.0, c.HEAVIEST**habit * sway)
                coloured = weight.any()  # a pencil burnishes with all its weight
                sheet = burnish(lay(sheet, self.films, rows, weight) if coloured else sheet)
            else:
                sheet = blend(sheet, meant**habit * sway)
        return sheet


def many_in_doubt(
    palette: Palette, recipes: Sequence[Sequence[Move]], draws: int, rng: np.random.Generator
) -> FloatArray:
    """Lab (n, draws, 3) of n recipes, the same draws of films and hands for all of them.

    So two recipes may be compared by few draws. Each draw is laid by one hand. Raises
    ValueError for a layer without a pencil, and a pencil that isn't there.
    """
    drawn = Draws.of(palette, recipes, draws, rng)
    return laid_in_doubt(drawn, drawn.blank(), recipes)


def laid_in_doubt(
    drawn: Draws, sheet: Sheet, recipes: Sequence[Sequence[Move]], before: int = 0
) -> FloatArray:
    """Lab (n, V, 3) of n recipes laid on the V of ``sheet``; ``before`` as in ``Draws.laid``."""
    out = np.empty((len(recipes), len(drawn), 3))
    alike: dict[tuple[str, ...], list[int]] = {}
    for at, moves in enumerate(recipes):
        alike.setdefault(drawn.kinds(moves), []).append(at)
    for places in alike.values():
        done = drawn.laid(sheet, [recipes[at] for at in places], before)
        out[places] = sheet_lab(done).reshape(len(places), len(drawn), 3)
    return out


def draw_films(
    palette: Palette, pencils: IntArray, draws: int, rng: np.random.Generator
) -> DrawnFilms:
    """``draws`` draws of what ``pencils`` (M,) of the palette may be; none of them a blender.

    The same generator draws the same of a pencil, whichever others are asked for: so what
    is expected of a recipe doesn't hang on what it is compared with.
    """
    M, every = len(pencils), len(palette)
    tooth = np.exp(c.TOOTH_SD * lots(rng, draws))
    habit = 1.0 + c.HABIT_SD * lots(rng, draws)
    hand = palette.hand or LearnedHand(())
    power = np.clip(hand.scatter_power + c.SCATTER_POWER_SD * lots(rng, draws), 0.0, 1.5)
    shine = hand.shine * np.exp(c.MATT_SD * lots(rng, draws))
    of = [palette.set.pencils[i] for i in pencils.tolist()]
    sd = np.array([c.SCATTERING_SD if one.on_black is None else c.MEASURED_SD for one in of])
    scale = np.exp(sd * lots(rng, draws, every)[:, pencils])
    guessed = np.array([0.0 if one.reflectance is not None else 1.0 for one in of])
    sizes = lots(rng, draws, every)[:, pencils]
    waves = lots(rng, draws, every, palette.reflectance.shape[1])[:, pencils]
    target = _other_spectra(palette.reflectance[pencils], guessed, sizes, waves)
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


def lots(rng: np.random.Generator, draws: int, *shape: int) -> FloatArray:
    """Standard normal draws (draws, *shape), in pairs of opposite sign: fewer tell as much."""
    half = rng.standard_normal((-(-draws // 2), *shape))
    made: FloatArray = np.concatenate([half, -half])[:draws]
    return made


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
