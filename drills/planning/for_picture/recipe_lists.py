"""For each colour of a picture, what layers of these pencils come to it, and how near.

Every pencil at three pressures, every two of them laid one over the other, and, for the pairs
that come nearest to each colour, a third layer of every pencil. Of all recipes with the same
pencils a colour keeps the nearest, and none that fewer of its pencils do as well without.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.layering.films import FloatArray
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import Palette
from drills.layering.predict import sheet_lab
from drills.layering.sheet import Sheet, blank, lay

IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

PRESSURES = np.array([LIGHT, MIDDLE, FIRM])
LAYERS = 3
EXTENDED = 24
"""Pairs of pencils that each colour lays a third layer on."""
_MANY = 60
"""Pencils beyond which a pair is tried at fewer pressures."""
_ALL_THREES = 600
"""Pairs of layers up to which every one of them gets a third."""


@dataclass(frozen=True, eq=False)
class Layers:
    """R recipes of up to three layers: ``pencils`` (R, 3), −1 where there is none, ``pressures``
    (R, 3), and the Lab (R, 3) they come to. The first is bare paper."""

    pencils: IntArray
    pressures: FloatArray
    lab: FloatArray

    def moves(self, at: int) -> tuple[Move, ...]:
        """The moves of one recipe."""
        laid = zip(self.pencils[at].tolist(), self.pressures[at].tolist(), strict=True)
        return tuple(Move("lay", pencil, press) for pencil, press in laid if pencil >= 0)


@dataclass(frozen=True, eq=False)
class RecipeLists:
    """What each of M colours may be made by, colour after colour.

    ``needs`` (R, 3) are the different pencils of a recipe, −1 for none; ``miss`` (R,) how far
    it lands from its colour, ΔE00; ``of`` (R,) the colour, and ``starts`` (M,) where each
    colour's begin. The first of each colour needs none: bare paper. ``weights`` (M,) sum to 1.
    """

    needs: IntArray
    miss: FloatArray
    of: IntArray
    starts: IntArray
    weights: FloatArray
    pencils: int


def layers_of(palette: Palette, places: IntArray, targets: FloatArray) -> Layers:
    """Recipes of one, two and three layers of the pencils at ``places``.

    All of the first two; a third on the pairs nearest to any of the targets (M, 3).
    """
    n = len(places)
    pencils = np.repeat(places, len(PRESSURES))
    pressures = np.tile(PRESSURES, n)
    first = lay(blank(palette.paper, len(pencils)), palette, pencils, pressures)
    ones = _rows(pencils, pressures)
    grounds = np.arange(len(pencils))
    if n > _MANY:
        grounds = grounds[pressures == MIDDLE]
    second, twos = _over(palette, places, first, ones, grounds, 1)
    lab = sheet_lab(second)
    if len(lab) <= _ALL_THREES:
        near = np.arange(len(lab))
    else:
        near = _nearest_pairs(twos[0][:, :2], lab, targets)
    third, threes = _over(palette, places, second, twos, near, 2)
    parts = [(np.full((1, LAYERS), -1), np.zeros((1, LAYERS))), ones, twos, threes]
    labs = [reflectance_to_lab(palette.paper.reflectance[None]), sheet_lab(first), lab]
    return Layers(
        np.concatenate([part[0] for part in parts]),
        np.concatenate([part[1] for part in parts]),
        np.concatenate([*labs, sheet_lab(third)]),
    )


def lists_of(
    layers: Layers, palette: Palette, targets: FloatArray, weights: FloatArray
) -> RecipeLists:
    """The recipes worth keeping for each of the targets, Lab (M, 3)."""
    sets = np.sort(_different(layers.pencils), axis=1)
    base = len(palette) + 1
    code = ((sets[:, 0] + 1) * base + sets[:, 1] + 1) * base + sets[:, 2] + 1
    needs, misses, of = [], [], []
    for m, target in enumerate(targets):
        miss = delta_e00(layers.lab, target)
        order = np.lexsort((miss, code))
        firsts = order[np.unique(code[order], return_index=True)[1]]
        kept = firsts[_undominated(sets[firsts], miss[firsts], miss[0], len(palette))]
        # Bare paper first.
        kept = np.concatenate([[0], kept[kept != 0]])
        needs.append(sets[kept])
        misses.append(miss[kept])
        of.append(np.full(len(kept), m))
    lengths = [len(part) for part in misses]
    return RecipeLists(
        np.concatenate(needs),
        np.concatenate(misses),
        np.concatenate(of),
        np.concatenate([[0], np.cumsum(lengths)[:-1]]).astype(np.int64),
        weights / weights.sum(),
        len(palette),
    )


def _rows(pencils: IntArray, pressures: FloatArray) -> tuple[IntArray, FloatArray]:
    """One layer each as rows of three."""
    none = np.full((len(pencils), LAYERS), -1, dtype=np.int64)
    none[:, 0] = pencils
    press = np.zeros((len(pencils), LAYERS))
    press[:, 0] = pressures
    return none, press


def _over(
    palette: Palette,
    places: IntArray,
    sheet: Sheet,
    laid: tuple[IntArray, FloatArray],
    grounds: IntArray,
    layer: int,
) -> tuple[Sheet, tuple[IntArray, FloatArray]]:
    """Every pencil at every pressure over each of the grounds, but for the one laid last.

    ``layer`` many lie on each. Of one pencil alone nothing comes.
    """
    ground, pencil, press = (
        part.ravel()
        for part in np.meshgrid(grounds, places, np.arange(len(PRESSURES)), indexing="ij")
    )
    other = laid[0][ground, layer - 1] != pencil
    ground, pencil, press = ground[other], pencil[other], press[other]
    worked = lay(sheet.take(ground), palette, pencil, PRESSURES[press])
    pencils, pressures = laid[0][ground].copy(), laid[1][ground].copy()
    pencils[:, layer], pressures[:, layer] = pencil, PRESSURES[press]
    return worked, (pencils, pressures)


def _nearest_pairs(pencils: IntArray, lab: FloatArray, targets: FloatArray) -> IntArray:
    """Of each two pencils, at the pressures that come nearest, those nearest to any target."""
    low, high = pencils.min(axis=1), pencils.max(axis=1)
    code = low * (high.max() + 1) + high
    chosen = set()
    for target in targets:
        miss = delta_e00(lab, target)
        order = np.lexsort((miss, code))
        firsts = order[np.unique(code[order], return_index=True)[1]]
        chosen.update(firsts[np.argsort(miss[firsts], kind="stable")[:EXTENDED]].tolist())
    return np.array(sorted(chosen), dtype=np.int64)


def _different(pencils: IntArray) -> IntArray:
    """Each row's pencils once, −1 in place of what comes again."""
    found = pencils.copy()
    found[found[:, 1] == found[:, 0], 1] = -1
    again = (found[:, 2] == found[:, 0]) | (found[:, 2] == found[:, 1])
    found[again, 2] = -1
    return found


def _undominated(sets: IntArray, miss: FloatArray, bare: float, count: int) -> BoolArray:
    """Which recipes (ascending rows of pencils, each set once) do better than any with fewer."""
    single = np.full(count + 1, bare)
    ones = (sets[:, 1] < 0) & (sets[:, 2] >= 0)
    single[sets[ones, 2]] = np.minimum(miss[ones], bare)
    pair = np.minimum(single[:, None], single[None, :])
    twos = (sets[:, 0] < 0) & (sets[:, 1] >= 0)
    better = np.minimum(miss[twos], pair[sets[twos, 1], sets[twos, 2]])
    pair[sets[twos, 1], sets[twos, 2]] = better
    a, b, c = sets.T
    fewer = np.full(len(sets), np.inf)
    fewer[ones] = bare
    fewer[twos] = np.minimum(single[b[twos]], single[c[twos]])
    threes = a >= 0
    ta, tb, tc = a[threes], b[threes], c[threes]
    fewer[threes] = np.minimum(np.minimum(pair[ta, tb], pair[ta, tc]), pair[tb, tc])
    kept: BoolArray = miss < fewer
    return kept
