"""Plans that differ by one layer from the best found: another pencil or hand, or a layer more.

A search layer by layer now and then lets go of a half-made plan that would have ended best. What
ended well shows where to look once more: the neighbours of the best plans are laid as foretold,
those that promise most are laid by all draws, and the best of all are gone on from.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.spaces import xyz_to_lab
from drills.layering import constants as c
from drills.layering.doubt.quick_layers import QuickFilms, QuickSheets, SingleArray, nominal
from drills.layering.films import FloatArray
from drills.layering.paper import fill
from drills.planning.search.craft import DARK_GROUND_BELOW, GAIN, BoolArray
from drills.planning.search.finished_plans import FinishedPlan, best, distinct, kinds
from drills.planning.search.half_made import FIRM_AT, PRESSURES, IntArray
from drills.planning.search.in_doubt import mean_and_spread
from drills.planning.search.next_moves import SearchTask
from drills.planning.search.prospects import Promise
from drills.planning.search.recipes import Recipes, lawful, recipes_as_plans, recipes_of

SEEDS = (4, 12)
"""Plans whose neighbours are looked at in each round: so many of the best, and as the best that
each begin with another pencil or have another number of firm layers."""
PENCILS = 40
"""Pencils tried in a neighbour: those of the best plans."""


@dataclass(frozen=True, eq=False)
class Neighbours:
    """m ``recipes``, each that of a seed, ``parent`` (m,), up to layer ``at`` (m,)."""

    recipes: Recipes
    parent: IntArray
    at: IntArray

    def __len__(self) -> int:
        return len(self.parent)

    def take(self, rows: IntArray) -> Neighbours:
        """Those of these rows."""
        return Neighbours(self.recipes.take(rows), self.parent[rows], self.at[rows])


def neighbours(
    task: SearchTask, found: Sequence[FinishedPlan], films: QuickFilms, promise: Promise,
    rounds: Sequence[int],
) -> list[FinishedPlan]:  # fmt: skip
    """More finished plans, each with its ``expected`` miss: neighbours of the best ``found``.

    In each of the ``rounds`` so many are laid by all draws.
    """
    every, expected = recipes_of(task, found)
    plain = nominal(task.palette, task.places)
    pencils = _worth_trying(len(task.places), every, expected)
    gone_on_from = np.empty(0, dtype=np.int64)
    more: list[FinishedPlan] = []
    for laid in rounds:
        seeds = every.take(_seeds(every, expected, gone_on_from))
        if not len(seeds):
            break
        gone_on_from = np.concatenate([gone_on_from, seeds.keys])
        near = one_off(task, seeds, pencils)
        near = near.take(np.flatnonzero(lawful(task, near.recipes)))
        near = near.take(_fresh(near.recipes.keys, every.keys))
        before = prefixes(plain, seeds)
        ends, leads = foretold(task, plain, before, near)
        drawn = prefixes(films, seeds)
        shift, spread = _off_course(plain, films, before[-1], drawn[-1], promise)
        near, ends = near.take(leads), ends[leads]
        guess = promise.squares(ends + shift[near.parent]) + spread[near.parent]
        tried = best(guess, laid)
        near, ends = near.take(tried), ends[tried]
        if not len(near):
            break
        seen = all_draws(films, drawn, near)
        misses = delta_e00(xyz_to_lab(seen), task.target).mean(axis=1)
        off = delta_e00(xyz_to_lab(ends), task.target)
        more += recipes_as_plans(task, near.recipes, off, misses)
        every, expected = Recipes.join(every, near.recipes), np.concatenate([expected, misses])
    return more


def _worth_trying(n: int, every: Recipes, expected: FloatArray) -> IntArray:
    if n <= PENCILS:
        return np.arange(n)
    least = np.full(n + 1, np.inf)
    np.minimum.at(least, every.pencil, expected[:, None])
    return np.sort(best(least[:n], PENCILS))


def _seeds(every: Recipes, expected: FloatArray, done: IntArray) -> IntArray:
    left = np.flatnonzero(~_among(every.keys, done))
    order = left[np.argsort(expected[left], kind="stable")]
    some = every.take(order)
    kind = kinds(some.pencil[:, 0], (some.press == FIRM_AT).sum(axis=1))
    own = order[np.sort(np.unique(kind, return_index=True)[1])]
    return distinct(np.concatenate([order[: SEEDS[0]], own[: SEEDS[1]]]))


def _fresh(keys: IntArray, known: IntArray) -> IntArray:
    """Places of the first of each of ``keys`` that isn't ``known``."""
    first = np.sort(np.unique(keys, return_index=True)[1])
    return first[~_among(keys[first], known)]


def _among(keys: IntArray, known: IntArray) -> BoolArray:
    """Which of ``keys`` (m,) are ``known`` (k,). ``numpy.isin`` would bring in ``numpy.ma``."""
    if not len(known):
        return np.zeros(len(keys), dtype=np.bool_)
    ordered = np.sort(known)
    at = np.minimum(np.searchsorted(ordered, keys), len(ordered) - 1)
    among: BoolArray = ordered[at] == keys
    return among


def one_off(task: SearchTask, seeds: Recipes, pencils: IntArray) -> Neighbours:
    """Every plan that differs from a seed by one layer, lawful or not."""
    D, length = task.max_layers, seeds.length
    q, p = len(pencils), len(PRESSURES)
    parents, places, added = [], [], []
    for more in (False, True):
        row, at = np.nonzero(np.arange(D)[None] < (length + more)[:, None])
        ok = length[row] + more <= D
        parents.append(row[ok])
        places.append(at[ok])
        added.append(np.full(int(ok.sum()), more))
    parent = np.repeat(np.concatenate(parents), q * p)
    at = np.repeat(np.concatenate(places), q * p)
    more_by = np.repeat(np.concatenate(added), q * p)
    count = len(parent) // (q * p)
    rows, steps = np.arange(len(parent)), np.arange(D)[None]
    of = steps - (more_by[:, None] & (steps > at[:, None]))
    pencil, press = seeds.pencil[parent[:, None], of], seeds.press[parent[:, None], of]
    pencil[rows, at] = np.tile(np.repeat(pencils, p), count)
    press[rows, at] = np.tile(np.arange(p), q * count)
    return Neighbours(Recipes(pencil, press), parent, at)


def prefixes(films: QuickFilms, seeds: Recipes) -> list[QuickSheets]:
    """The seeds' sheets before their first layer, after it, and so on to the last."""
    sheets = films.blank(len(seeds))
    out = [sheets]
    for at in range(seeds.pencil.shape[1]):
        rows = np.flatnonzero(seeds.pencil[:, at] >= 0)
        pressure = PRESSURES[seeds.press[rows, at]]
        on = films.lay(sheets, rows, seeds.pencil[rows, at], pressure, at)
        places = np.arange(len(seeds))
        places[rows] = len(seeds) + np.arange(len(rows))
        sheets = QuickSheets.join(sheets, on).take(places)
        out.append(sheets)
    return out


def _lay_on(
    films: QuickFilms, before: Sequence[QuickSheets], near: Neighbours, alive: BoolArray
) -> Iterator[tuple[int, IntArray, QuickSheets]]:
    """Layer by layer (from 0), the neighbours (k,) laid on and their sheets.

    Those not ``alive`` (m,) any more are gone no further with.
    """
    length = near.recipes.length
    going, sheets = np.empty(0, dtype=np.int64), before[0].take(np.empty(0, dtype=np.int64))
    for step in range(near.recipes.pencil.shape[1]):
        begin = np.flatnonzero(near.at == step)
        on = np.flatnonzero(alive[going] & (length[going] > step))
        active = np.concatenate([begin, going[on]])
        if not active.size:
            continue
        under = QuickSheets.join(before[step], sheets)
        rows = np.concatenate([near.parent[begin], len(before[step]) + on])
        pencil, press = near.recipes.pencil[active, step], near.recipes.press[active, step]
        sheets = films.lay(under, rows, pencil, PRESSURES[press], step)
        going = active
        yield step, active, sheets


def foretold(
    task: SearchTask, plain: QuickFilms, before: Sequence[QuickSheets], near: Neighbours
) -> tuple[SingleArray, IntArray]:
    """The XYZ (m, 3) neighbours come to, and the places of those whose every layer leads on, on
    an open tooth."""
    roles, pencil = task.roles, near.recipes.pencil
    main = pencil[:, 0]
    alive = np.ones(len(near), dtype=np.bool_)
    ends = np.empty((len(near), 3), dtype=np.float32)
    looks = [_look(task, plain, sheets)[1:] for sheets in before]
    off, dark, full = (np.stack(part)[near.at, near.parent] for part in zip(*looks, strict=True))
    off[near.at == 0] = np.inf
    for step, active, sheets in _lay_on(plain, before, near, alive):
        xyz, off_now, dark_now, full_now = _look(task, plain, sheets)
        laid = pencil[active, step]
        leads: BoolArray = off_now <= off[active] - GAIN
        if step:
            leads |= roles.mutes[main[active], laid]
        alive[active] = leads & ~full[active] & ~(dark[active] & roles.pale[laid])
        ends[active] = xyz
        off[active], dark[active], full[active] = off_now, dark_now, full_now
    return ends, np.flatnonzero(alive)


def _look(
    task: SearchTask, plain: QuickFilms, sheets: QuickSheets
) -> tuple[SingleArray, FloatArray, BoolArray, BoolArray]:
    """XYZ (m, 3) of sheets, their ΔE00 (m,) from the target, which are dark and which full."""
    xyz = plain.xyz(sheets)[:, 0]
    lab = xyz_to_lab(xyz)
    filled = fill(sheets.thickness[:, 0].astype(np.float64), plain.paper.laying) @ plain.paper.areas
    return xyz, delta_e00(lab, task.target), lab[:, 0] < DARK_GROUND_BELOW, filled >= c.FULL


def all_draws(films: QuickFilms, before: Sequence[QuickSheets], near: Neighbours) -> SingleArray:
    """XYZ (m, V, 3) that the V draws come to; ``before`` are the seeds' sheets (``prefixes``)."""
    seen = np.empty((len(near), len(films), 3), dtype=np.float32)
    for _, active, sheets in _lay_on(films, before, near, np.ones(len(near), dtype=np.bool_)):
        seen[active] = films.xyz(sheets)
    return seen


def _off_course(
    plain: QuickFilms, films: QuickFilms, foretold: QuickSheets, drawn: QuickSheets,
    promise: Promise,
) -> tuple[SingleArray, SingleArray]:  # fmt: skip
    """By how much the mean XYZ of all draws is off what was foretold (m, 3), and the mean square
    (m,) of what they differ from it by, in ΔE00's metric at the target."""
    mean, spread = mean_and_spread(films.xyz(drawn), promise.metric)
    return mean - plain.xyz(foretold)[:, 0], spread
