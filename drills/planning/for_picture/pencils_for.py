"""Which pencils to take out for a picture, how near each main colour then comes, and one more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import predict
from drills.pencils.pencil import Lab
from drills.pictures.main_colours import MainColour
from drills.planning.for_picture.choose_pencils import best_addition, choose
from drills.planning.for_picture.recipe_lists import Layers, RecipeLists, layers_of, lists_of
from drills.planning.plan import LikelyMiss
from drills.planning.pressure_spread import in_doubt, miss_of

FEWEST, MOST = 1, 24
"""Pencils that may be asked for."""
_SEED: Final = 7
_WORTH = 0.1
"""ΔE00 that one more pencil must bring to be named."""
_NO_NEARER = 0.5
"""ΔE00 nearer that layers must be expected to come than bare paper does, to be laid on it: half
of what an eye can just tell; our estimate."""


@dataclass(frozen=True)
class Reached:
    """A main colour of the picture, what to lay for it, and what that comes to.

    ``miss`` is the model's ΔE00, ``likely`` what to count on; ``moves`` is empty for bare paper.
    """

    colour: MainColour
    moves: tuple[Move, ...]
    lab: Lab
    miss: float
    likely: LikelyMiss


@dataclass(frozen=True)
class OneMore:
    """What a further pencil would bring: the mean miss with it, and the colour it helps most."""

    pencil: int
    mean_miss: float
    helps: MainColour
    before: float
    after: float


@dataclass(frozen=True, eq=False)
class PencilsFor:
    """The pencils chosen, by place. ``mean_miss`` weighs colours by the root of their share.

    ``layers`` are all that these pencils were found to make.
    """

    pencils: tuple[int, ...]
    reached: tuple[Reached, ...]
    mean_miss: float
    one_more: OneMore | None
    layers: Layers


def pencils_for(palette: Palette, colours: Sequence[MainColour], most: int) -> PencilsFor:
    """The pencils, ``most`` at most, that leave the least mean miss over the main colours.

    Raises InputError for a number out of range, or no colours.
    """
    if not FEWEST <= most <= MOST:
        raise InputError("pencils", f"{most} is out of range", f"Give {FEWEST} to {MOST}.")
    if not colours:
        raise InputError("main colours", "there are none", "Ask for one or more.")
    targets = np.array([colour.lab for colour in colours])
    weights = np.sqrt([colour.share for colour in colours])
    usable = palette.at_hand
    lists = lists_of(layers_of(palette, usable, targets), palette, targets, weights)
    chosen = choose(lists, usable, min(most, len(usable)))
    places = np.array(chosen.pencils, dtype=np.int64)
    layers = layers_of(palette, places, targets)
    off = np.array([delta_e00(layers.lab, target) for target in targets])
    least, best = off.min(axis=1), off.argmin(axis=1)
    likely = _likely(palette, [layers.moves(int(at)) for at in best], targets)
    for m, one in enumerate(likely):
        if off[m, 0] < one.expected + _NO_NEARER:
            best[m], likely[m] = 0, _of_bare_paper(palette, targets[m])
    moves = [layers.moves(int(at)) for at in best]
    reached = tuple(
        Reached(colour, moves[m], _lab(layers.lab[best[m]]), float(off[m, best[m]]), likely[m])
        for m, colour in enumerate(colours)
    )
    used = {move.pencil for one in moves for move in one}
    kept = tuple(pencil for pencil in chosen.pencils if pencil in used)
    mean = float(lists.weights @ least)
    more = _one_more(lists, palette, chosen.pencils, colours, least)
    return PencilsFor(kept or chosen.pencils[:1], reached, mean, more, layers)


def _likely(
    palette: Palette, moves: Sequence[tuple[Move, ...]], targets: FloatArray
) -> list[LikelyMiss]:
    laid = [m for m, one in enumerate(moves) if one]
    drawn: dict[int, FloatArray] = {}
    if laid:
        labs = in_doubt(palette, [moves[m] for m in laid], _SEED)
        drawn = dict(zip(laid, labs, strict=True))
    found = []
    for m, target in enumerate(targets):
        if m in drawn:
            found.append(miss_of(delta_e00(drawn[m], target)))
        else:
            found.append(_of_bare_paper(palette, target))
    return found


def _of_bare_paper(palette: Palette, target: FloatArray) -> LikelyMiss:
    bare = float(delta_e00(predict(palette, ()), target))
    return LikelyMiss(bare, bare, bare)


def _one_more(
    lists: RecipeLists,
    palette: Palette,
    pencils: tuple[int, ...],
    colours: Sequence[MainColour],
    before: FloatArray,
) -> OneMore | None:
    """``before`` (M,) are the least misses with the pencils chosen: what comes is looked for as
    they were, so that the two can be held against each other."""
    more = best_addition(lists, palette.at_hand, pencils)
    if more is None:
        return None
    targets = np.array([colour.lab for colour in colours])
    layers = layers_of(palette, np.array([*pencils, *more.pencils], dtype=np.int64), targets)
    found = np.array([delta_e00(layers.lab, target).min() for target in targets])
    after = np.minimum(before, found)
    if float(lists.weights @ (before - after)) < _WORTH:
        return None
    at = int(np.argmax(before - after))
    mean = float(lists.weights @ after)
    return OneMore(more.pencils[0], mean, colours[at], float(before[at]), float(after[at]))


def _lab(row: FloatArray) -> Lab:
    L, a, b = row.tolist()
    return (L, a, b)
