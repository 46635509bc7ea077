"""What isn't known of pencils, paper and hand: moves as they may come out, by many draws of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from drills.colour.spaces import xyz_to_lab
from drills.layering import constants as c
from drills.layering.doubt.drawn_films import (
    MOST_MOVES,
    SHARED,
    DrawnFilms,
    IntArray,
    balanced,
    draw_films,
    known_films,
)
from drills.layering.doubt.quick_layers import QuickFilms, SingleArray, coarse, coarse_weights
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.paper import Paper, deeper
from drills.layering.predict import as_arrays, check_move, sheet_lab
from drills.layering.sheet import Sheet, blank, blend, burnish, lay, reflectance


@dataclass(frozen=True, eq=False)
class Draws:
    """V draws of films and hands, for recipes that use some pencils of a palette.

    ``row_of`` (N + 1,) gives a pencil's place among those drawn, −1 for none; ``sway`` (V, n)
    what a hand does to the pressure of its nth move. ``paper`` is that they are laid on, at
    the bands that the films have.
    """

    palette: Palette
    films: DrawnFilms
    row_of: IntArray
    sway: FloatArray
    paper: Paper

    @classmethod
    def of(
        cls, palette: Palette, recipes: Sequence[Sequence[Move]], draws: int,
        rng: np.random.Generator,
    ) -> Draws:  # fmt: skip
        """Raises ValueError for a layer without a pencil, and a pencil that isn't there."""
        pencils, row_of = _used(palette, recipes)
        longest = max((len(moves) for moves in recipes), default=0)
        shared = balanced(rng, draws, SHARED + max(longest, MOST_MOVES))
        films = draw_films(palette, pencils, draws, rng, shared[:, :SHARED])
        return cls(palette, films, row_of, 1.0 + c.HAND_SD * shared[:, SHARED:], palette.paper)

    @classmethod
    def quick(
        cls, palette: Palette, recipes: Sequence[Sequence[Move]], draws: int, seed: int
    ) -> Draws:
        """At every other band (``quick_layers``); what was drawn once isn't drawn again.

        Raises ValueError as ``of`` does.
        """
        pencils, row_of = _used(palette, recipes)
        known = known_films(palette, draws, seed)
        return cls(palette, known.films(pencils), row_of, known.sway, coarse(palette.paper))

    def __len__(self) -> int:
        return len(self.sway)

    def blank(self) -> Sheet:
        """V sheets with nothing on them."""
        return blank(deeper(self.paper, self.films.tooth), len(self))

    def kinds(self, moves: Sequence[Move]) -> tuple[str, ...]:
        """What is done at each move; recipes laid together must do the same."""
        return tuple(
            "wax" if move.action == "lay" and self.row_of[move.pencil] < 0 else move.action
            for move in moves
        )

    def lab(self, sheet: Sheet) -> FloatArray:
        """Lab (B, 3) of the sheets."""
        if self.paper is self.palette.paper:
            return sheet_lab(sheet)
        return xyz_to_lab(reflectance(sheet) @ coarse_weights())

    def quick_films(self) -> QuickFilms:
        """The same draws for ``QuickFilms.lay``. They must be ``quick`` ones."""
        films = self.films
        shape = (len(self), -1, films.limit.shape[1])

        def single(part: FloatArray) -> SingleArray:
            return part.astype(np.float32).reshape(shape)

        return QuickFilms(
            limit=single(films.limit),
            pole=single(films.pole),
            fade=single(-films.decay),
            K=single(films.K),
            S=single(films.S),
            surface=films.surface.astype(np.float32).reshape(len(self), -1),
            lot_of=np.arange(len(self)),
            tooth=films.tooth,
            habit=films.habit,
            sway=self.sway,
            paper=self.paper,
        )

    def laid(self, sheet: Sheet, recipes: Sequence[Sequence[Move]], before: int = 0) -> Sheet:
        """Sheets (n·V) after n recipes, each laid on the V of ``sheet`` by its V hands.

        ``before`` is how many moves the hands have made already.
        """
        n, draws = len(recipes), len(self)
        sheet = replace(
            sheet.take(np.tile(np.arange(draws), n)),
            paper=deeper(self.paper, np.tile(self.films.tooth, n)),
        )
        each = int((self.row_of >= 0).sum())
        first, habit = np.tile(np.arange(draws) * each, n), np.tile(self.films.habit, n)
        for step, kind in enumerate(self.kinds(recipes[0])):
            these = [moves[step] for moves in recipes]
            sway = np.tile(self.sway[:, (before + step) % self.sway.shape[1]], n)
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


def _used(palette: Palette, recipes: Sequence[Sequence[Move]]) -> tuple[IntArray, IntArray]:
    """The coloured pencils (M,) that recipes use, and ``Draws.row_of``."""
    every = {move for moves in recipes for move in moves}
    for move in every:
        check_move(palette, move)
    used = sorted({move.pencil for move in every} & set(palette.colour_indices.tolist()))
    row_of = np.full(len(palette) + 1, -1)
    row_of[used] = np.arange(len(used))
    return np.array(used, dtype=np.int64), row_of


def many_in_doubt(
    palette: Palette, recipes: Sequence[Sequence[Move]], draws: int, seed: int
) -> FloatArray:
    """Lab (n, draws, 3) of n recipes, the same draws of films and hands for all of them.

    So two recipes may be compared by few draws. Each draw is laid by one hand. Raises
    ValueError for a layer without a pencil, and a pencil that isn't there.
    """
    drawn = Draws.quick(palette, recipes, draws, seed)
    out = np.empty((len(recipes), draws, 3))
    lays = np.array([bool(moves) and set(drawn.kinds(moves)) == {"lay"} for moves in recipes])
    for places, laid in ((np.flatnonzero(lays), _only_lays), (np.flatnonzero(~lays), _any_moves)):
        if places.size:
            out[places] = laid(drawn, [recipes[at] for at in places.tolist()])
    return out


def _any_moves(drawn: Draws, recipes: Sequence[Sequence[Move]]) -> FloatArray:
    return laid_in_doubt(drawn, drawn.blank(), recipes)


def _only_lays(drawn: Draws, recipes: Sequence[Sequence[Move]]) -> FloatArray:
    """Lab (n, V, 3); what several recipes begin with is laid once."""
    films = drawn.quick_films()
    out = np.empty((len(recipes), len(drawn), 3))
    lengths = np.array([len(moves) for moves in recipes])
    longest = int(lengths.max())
    pencil, pressure, _ = as_arrays([[*m, *[Move("lay")] * (longest - len(m))] for m in recipes])
    sheets, of = films.blank(1), np.zeros(len(recipes), dtype=np.int64)
    for step in range(longest):
        live = np.flatnonzero(lengths > step)
        each = np.column_stack([of[live], pencil[live, step], pressure[live, step]])
        each, first, of[live] = _distinct(each)
        rows, place = each[:, 0].astype(np.int64), drawn.row_of[pencil[live[first], step]]
        sheets = films.lay(sheets, rows, place, each[:, 2], step)
        done = live[lengths[live] == step + 1]
        out[done] = xyz_to_lab(films.xyz(sheets.take(of[done])))
    return out


def _distinct(each: FloatArray) -> tuple[FloatArray, IntArray, IntArray]:
    """The distinct rows, where each first is, and which of them every row is."""
    rows, first, which = np.unique(each, axis=0, return_index=True, return_inverse=True)
    return rows, first, which.reshape(-1)


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
        out[places] = drawn.lab(done).reshape(len(places), len(drawn), 3)
    return out
