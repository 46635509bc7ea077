"""The few pencils that serve a picture best: those with the least mean miss over its colours.

Which K of n pencils to take is a problem that grows beyond any trying out; this searches by
exchanging one pencil for another while that helps, from many starts, and goes on from the best
of those with two or three let go (iterated local search; Lourenço, Martin & Stützle 2003). Tests
hold it to scipy's exact mixed-integer solver over the same lists of recipes. That solver isn't
used here, for it would double what an install weighs and takes up to 5 s.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Final

import numpy as np

from drills.layering.films import FloatArray
from drills.planning.for_picture.recipe_lists import BoolArray, IntArray, RecipeLists

SCATTERED: Final = 30
KEPT: Final = 10
ROUNDS: Final = 10
"""Starts by lot beside two that are built up and thinned out, how many of the best are gone on
from, and how often."""
_SEED = 14
_FAR = 1e6
_SLACK = 1.05


@dataclass(frozen=True)
class Choice:
    """The pencils chosen, by place, and the mean miss (ΔE00, weighted) with them."""

    pencils: tuple[int, ...]
    mean_miss: float


def choose(lists: RecipeLists, usable: IntArray, most: int) -> Choice:
    """At most ``most`` of the ``usable`` pencils that leave the least mean miss.

    The same lists, the same choice.
    """
    search = _Search(lists, usable)
    if most >= len(usable):
        return search.choice(search.with_pencils(usable.tolist()))
    dice = random.Random(_SEED)
    starts = [
        search.filled(search.with_pencils([]), most),
        search.thinned(search.with_pencils(usable.tolist()), most),
    ]
    for _ in range(SCATTERED):
        some = dice.sample(usable.tolist(), most // 2)
        starts.append(search.filled(search.with_pencils(some), most))
    settled = sorted(
        (search.settled(start) for start in starts),
        key=lambda mask: (search.cost(mask), mask.tobytes()),
    )
    found = [_gone_on(search, mask, most, dice) for mask in settled[:KEPT]]
    return search.choice(min(found, key=lambda mask: (search.cost(mask), mask.tobytes())))


def _gone_on(search: _Search, best: BoolArray, most: int, dice: random.Random) -> BoolArray:
    """The best that is found from a settled set by letting two or three pencils go, again."""
    least = search.cost(best)
    now, cost_now = best, least
    for _ in range(ROUNDS):
        members = np.flatnonzero(now[:-1]).tolist()
        gone = dice.sample(members, min(len(members), dice.choice((2, 3))))
        trial = now.copy()
        trial[gone] = False
        others = [p for p in search.usable.tolist() if not trial[p] and p not in gone]
        if len(gone) == 3 and others:
            trial[dice.choice(others)] = True
        trial = search.settled(search.filled(trial, most))
        cost = search.cost(trial)
        if cost < least - 1e-12:
            best, least = trial, cost
        # A little worse is gone on from too, but not far from the best.
        if cost <= cost_now * _SLACK:
            now, cost_now = trial, cost
        if cost_now > least * _SLACK:
            now, cost_now = best, least
    return best


def least_misses(lists: RecipeLists, pencils: tuple[int, ...]) -> FloatArray:
    """The least miss (M,) of each colour with these pencils, ΔE00."""
    search = _Search(lists, np.arange(lists.pencils))
    return search.least(search.with_pencils(list(pencils)))


def best_addition(lists: RecipeLists, usable: IntArray, pencils: tuple[int, ...]) -> Choice | None:
    """The one more pencil that would lower the mean miss most; None where none is left."""
    search = _Search(lists, usable)
    at_hand = search.with_pencils(list(pencils))
    costs = search.with_one_more(at_hand)
    if not np.isfinite(costs).any():
        return None
    one = int(np.argmin(costs))
    return Choice((one,), float(costs[one]))


class _Search:
    """Sets of pencils are masks (n + 1,), their last place, for no pencil, always true."""

    def __init__(self, lists: RecipeLists, usable: IntArray) -> None:
        self.lists = lists
        self.usable = usable
        self.columns = lists.needs.T.copy()
        self.weights = lists.weights

    def with_pencils(self, pencils: list[int]) -> BoolArray:
        mask = np.zeros(self.lists.pencils + 1, dtype=bool)
        mask[pencils] = True
        mask[-1] = True
        return mask

    def choice(self, mask: BoolArray) -> Choice:
        return Choice(tuple(np.flatnonzero(mask[:-1]).tolist()), self.cost(mask))

    def cost(self, mask: BoolArray) -> float:
        return float(self.weights @ self.least(mask))

    def least(self, mask: BoolArray) -> FloatArray:
        """The least miss (M,) of each colour with these pencils."""
        return self._least(self._lacking(mask) == 0)

    def _lacking(self, mask: BoolArray) -> IntArray:
        """How many of its pencils each recipe lacks."""
        free = ~mask
        lacking: IntArray = np.zeros(len(self.lists.miss), dtype=np.int64)
        for column in self.columns:
            lacking += free[column]
        return lacking

    def _least(self, can: BoolArray) -> FloatArray:
        """The least miss (M,) of each colour by the recipes that can be laid."""
        return np.minimum.reduceat(np.where(can, self.lists.miss, _FAR), self.lists.starts)

    def with_one_more(self, mask: BoolArray) -> FloatArray:
        """The cost (n,) with each pencil added; infinite for those that can't be."""
        costs = np.full(self.lists.pencils, np.inf)
        free = self.usable[~mask[self.usable]]
        costs[free] = self.weights @ self._after_one(mask, self._lacking(mask))[:, free]
        return costs

    def _after_one(self, mask: BoolArray, lacking: IntArray) -> FloatArray:
        """The least miss (M, n) of each colour with each pencil added."""
        lists = self.lists
        least = np.repeat(self._least(lacking == 0)[:, None], lists.pencils, axis=1)
        lone = np.flatnonzero(lacking == 1)
        needs = lists.needs[lone]
        missing = needs[np.arange(len(lone)), np.argmax(~mask[needs], axis=1)]
        flat = lists.of[lone] * lists.pencils + missing
        np.minimum.at(least.reshape(-1), flat, lists.miss[lone])
        return least

    def best_two_more(self, mask: BoolArray) -> tuple[int, int]:
        """The two pencils that lower the cost most together."""
        lists = self.lists
        lacking = self._lacking(mask)
        after = self._after_one(mask, lacking)
        free = self.usable[~mask[self.usable]]
        # Two that no recipe wants together do as well as each does alone.
        low, high = (free[part] for part in np.triu_indices(len(free), 1))
        least = np.minimum(after[:, low], after[:, high])
        place = np.zeros((lists.pencils, lists.pencils), dtype=np.int64)
        place[low, high] = place[high, low] = np.arange(len(low))
        usable = np.zeros(lists.pencils + 1, dtype=bool)
        usable[free] = True
        both = np.flatnonzero(lacking == 2)
        wanted = usable[lists.needs[both]]
        both = both[wanted.sum(axis=1) == 2]
        needs = lists.needs[both]
        pairs = needs[usable[needs]].reshape(-1, 2)
        at = place[pairs[:, 0], pairs[:, 1]]
        np.minimum.at(least.reshape(-1), lists.of[both] * len(low) + at, lists.miss[both])
        best = int(np.argmin(self.weights @ least))
        return int(low[best]), int(high[best])

    def filled(self, mask: BoolArray, most: int) -> BoolArray:
        """Pencils added up to ``most``, each the best there is; the last two as a pair."""
        mask = mask.copy()
        while (room := most - int(mask[:-1].sum())) > 0:
            if room == 2:
                mask[list(self.best_two_more(mask))] = True
            else:
                mask[int(np.argmin(self.with_one_more(mask)))] = True
        return mask

    def thinned(self, mask: BoolArray, most: int) -> BoolArray:
        """Pencils let go one by one, each the least missed, down to ``most``."""
        mask = mask.copy()
        while int(mask[:-1].sum()) > most:
            costs = {}
            for pencil in np.flatnonzero(mask[:-1]).tolist():
                mask[pencil] = False
                costs[pencil] = self.cost(mask)
                mask[pencil] = True
            mask[min(costs, key=lambda pencil: (costs[pencil], pencil))] = False
        return mask

    def settled(self, mask: BoolArray) -> BoolArray:
        """One pencil exchanged for another, the best exchange there is, while that helps."""
        mask, least = mask.copy(), self.cost(mask)
        while True:
            found: tuple[int, int] | None = None
            for out in np.flatnonzero(mask[:-1]).tolist():
                mask[out] = False
                costs = self.with_one_more(mask)
                mask[out] = True
                into = int(np.argmin(costs))
                if costs[into] < least - 1e-12:
                    found, least = (out, into), float(costs[into])
            if found is None:
                return mask
            mask[found[0]], mask[found[1]] = False, True
