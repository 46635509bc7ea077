"""Finished plans of layers alone, of any length, many at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from drills.layering.films import FloatArray
from drills.planning.search.craft import MOST_FIRM, BoolArray
from drills.planning.search.finished_plans import FinishedPlan
from drills.planning.search.half_made import FIRM_AT, LIGHT_AT, PRESSURES, IntArray
from drills.planning.search.next_moves import SearchTask, tags


@dataclass(frozen=True, eq=False)
class Recipes:
    """m plans of layers: ``pencil`` of the search's list and ``press`` of ``PRESSURES``, (m, D),
    −1 past the end of each."""

    pencil: IntArray
    press: IntArray

    def __len__(self) -> int:
        return len(self.pencil)

    @property
    def length(self) -> IntArray:
        """Layers (m,) of each."""
        layers: IntArray = (self.pencil >= 0).sum(axis=1)
        return layers

    @property
    def keys(self) -> IntArray:
        """A number (m,) for each plan (but for rare chance)."""
        code = np.where(self.pencil >= 0, self.pencil * len(PRESSURES) + self.press + 1, 0)
        place = np.arange(1, code.shape[1] + 1, dtype=np.uint64)
        mixed = code.astype(np.uint64) * np.uint64(64) + place
        for shift, by in ((30, 0xBF58476D1CE4E5B9), (27, 0x94D049BB133111EB), (31, 1)):
            mixed = (mixed ^ (mixed >> np.uint64(shift))) * np.uint64(by)
        key: IntArray = np.where(code > 0, mixed, np.uint64(0)).sum(axis=1).view(np.int64)
        return key

    @property
    def pencils(self) -> IntArray:
        """How many different pencils (m,) each has."""
        count: IntArray = self.different[1].sum(axis=1)
        return count

    @property
    def different(self) -> tuple[IntArray, BoolArray]:
        """The pencils (m, D) of each in order, and which of them are there for the first time."""
        pencil = np.sort(self.pencil, axis=1)
        fresh = pencil >= 0
        fresh[:, 1:] &= pencil[:, 1:] != pencil[:, :-1]
        return pencil, fresh

    def take(self, rows: IntArray | BoolArray) -> Recipes:
        """The plans of these rows."""
        return Recipes(self.pencil[rows], self.press[rows])

    @staticmethod
    def join(first: Recipes, second: Recipes) -> Recipes:
        """Both as one."""
        return Recipes(
            np.concatenate([first.pencil, second.pencil]),
            np.concatenate([first.press, second.press]),
        )


def recipes_of(task: SearchTask, found: Sequence[FinishedPlan]) -> tuple[Recipes, FloatArray]:
    """Those of ``found`` that are all layers, with the miss to be expected of each."""
    back = np.full(len(task.palette) + 1, -1)
    back[task.places] = np.arange(len(task.places))
    pencils, presses, misses = [], [], []
    for some in found:
        rows = np.flatnonzero((some.pencil >= 0).all(axis=1))
        if rows.size and some.expected is not None:
            room = ((0, 0), (0, task.max_layers - some.pencil.shape[1]))
            press = np.searchsorted(PRESSURES, some.pressure[rows] - 1e-6)
            pencils.append(np.pad(back[some.pencil[rows]], room, constant_values=-1))
            presses.append(np.pad(press, room, constant_values=-1))
            misses.append(some.expected[rows])
    if not misses:
        none = np.empty((0, task.max_layers), dtype=np.int64)
        return Recipes(none, none), np.empty(0)
    return Recipes(np.concatenate(pencils), np.concatenate(presses)), np.concatenate(misses)


def lawful(task: SearchTask, recipes: Recipes) -> BoolArray:
    """Which plans (m,) the craft allows, as far as can be told without laying them."""
    roles, pencil, press = task.roles, recipes.pencil, recipes.press
    there = pencil >= 0
    main = pencil[:, 0]
    firm, soft = press == FIRM_AT, press == LIGHT_AT
    lawful: BoolArray = roles.start[main] & (firm.sum(axis=1) <= MOST_FIRM)
    lawful &= recipes.pencils <= task.max_pencils
    lawful &= (soft | ~(roles.touch[pencil] & there)).all(axis=1)
    white, black = roles.white[pencil] & there, roles.black[pencil] & there
    lawful &= ~(white.any(axis=1) & black.any(axis=1))
    for one in np.flatnonzero(task.insist):
        lawful &= (pencil == one).any(axis=1)
    bare = np.zeros(len(pencil), dtype=np.bool_)
    for at in range(1, pencil.shape[1]):
        now, on = pencil[:, at], there[:, at]
        lawful &= ~on | (firm[:, at - 1] <= firm[:, at])
        mutes = roles.mutes[main, now] & on
        lawful &= ~mutes | (soft[:, at] & ~bare)
        bare = mutes | (bare & ~(roles.covers[main, now] & on))
        if at == 1:
            lawful &= ~on | ~firm[:, 0]
        else:
            lawful &= ~on | (now != pencil[:, at - 1]) | (now != pencil[:, at - 2])
    return lawful & ~bare


def recipes_as_plans(
    task: SearchTask, recipes: Recipes, off: FloatArray, expected: FloatArray
) -> list[FinishedPlan]:
    """The plans, ``off`` (m,) by ΔE00 were all as foretold, with the miss ``expected`` (m,)."""
    length, pencils = recipes.length, recipes.pencils
    every, fresh = recipes.different
    kits = (tags(len(task.places))[every] * fresh).sum(axis=1)
    plans = []
    for layers in range(1, recipes.pencil.shape[1] + 1):
        rows = np.flatnonzero(length == layers)
        if rows.size:
            plans.append(
                FinishedPlan(
                    task.places[recipes.pencil[rows, :layers]],
                    PRESSURES[recipes.press[rows, :layers]],
                    np.zeros((len(rows), layers), dtype=np.int64),
                    off[rows],
                    pencils[rows],
                    kits[rows],
                    expected[rows],
                )
            )
    return plans
