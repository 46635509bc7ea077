"""What may come next in a search, of many half-made plans, and finished plans of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.spaces import xyz_to_lab
from drills.layering.films import FloatArray
from drills.layering.moves import BURNISH
from drills.layering.palette import Palette
from drills.layering.predict import sheet_lab
from drills.layering.sheet import burnish
from drills.planning.search.craft import BoolArray, Roles
from drills.planning.search.finished_plans import FinishedPlan, best, distinct
from drills.planning.search.half_made import FIRM_AT, PRESSURES, IntArray, Trails
from drills.planning.search.lengthen import leads_on, may_burnish, may_lay
from drills.planning.search.next_layer import SingleArray


@dataclass(frozen=True)
class Width:
    """``beam`` half-made plans kept at each step, and ``blends`` more of them blended;
    ``burnishes`` pressed flat at each step."""

    beam: int
    blends: int
    burnishes: int


@dataclass(frozen=True, eq=False)
class SearchTask:
    """What is searched for.

    ``places`` (n,) of the pencils that may be used, in the palette; ``roles`` and
    ``insist`` (n,) speak of those n. ``target`` is a Lab (3,).
    """

    palette: Palette
    places: IntArray
    target: FloatArray
    roles: Roles
    insist: BoolArray
    max_layers: int
    max_pencils: int
    blender: bool
    burnish: bool


@dataclass(frozen=True, eq=False)
class NextMoves:
    """k layers that may come next: of trail ``row``, at ``press``, ``pencil`` of the n.

    ``xyz``, ``lab`` (k, 3) and ``off`` (k,), ΔE00 from the target, are what they
    lead to; ``count`` the different pencils then used, ``missing`` the insisted
    ones not yet.
    """

    row: IntArray
    press: IntArray
    pencil: IntArray
    xyz: SingleArray
    lab: FloatArray
    off: FloatArray
    count: IntArray
    missing: IntArray

    def take(self, rows: IntArray) -> NextMoves:
        """Only these; ``lab`` and ``off`` may not be known yet."""
        known = len(self.off) > 0
        return NextMoves(
            self.row[rows],
            self.press[rows],
            self.pencil[rows],
            self.xyz[rows],
            self.lab[rows] if known else self.lab,
            self.off[rows] if known else self.off,
            self.count[rows],
            self.missing[rows],
        )


Screen = Callable[["NextMoves"], IntArray]


def look(
    task: SearchTask, trails: Trails, seen: SingleArray, left: int, screen: Screen | None = None
) -> NextMoves:
    """All next layers that the craft allows, of ``left`` moves; ``seen`` (B, P, n, 3) is XYZ.

    ``screen`` says which are worth a look, before their ``lab`` and ``off`` are known.
    """
    may = may_lay(trails, task.roles, left, task.max_pencils)
    row, press, pencil = np.nonzero(may)
    fresh = ~trails.used[row, pencil]
    missing = np.zeros(len(row), dtype=np.int64)
    if task.insist.any():
        missing = (task.insist & ~trails.used).sum(axis=1)[row] - (task.insist[pencil] & fresh)
    count = trails.used.sum(axis=1)[row] + fresh
    none = np.empty((0, 3))
    every = NextMoves(
        row, press, pencil, seen[row, press, pencil], none, none[:, 0], count, missing
    )
    if screen is not None:
        every = every.take(screen(every))
    lab = xyz_to_lab(every.xyz)
    every = replace(every, lab=lab, off=delta_e00(lab, task.target))
    on = leads_on(trails, task.roles, every.row, every.pencil, every.off)
    return every.take(np.flatnonzero(on))


def firm(trails: Trails, after: NextMoves, rows: IntArray) -> BoolArray:
    """Whether the plans ``rows`` of ``after`` have a firm layer."""
    has: BoolArray = (trails.firms[after.row[rows]] > 0) | (after.press[rows] == FIRM_AT)
    return has


def shares(score: FloatArray, missing: IntArray, most: int) -> IntArray:
    """Places of the ``most`` least scores, in order.

    Where pencils are insisted on, plans that still lack one look worse than they
    are: each number still missing has its own share.
    """
    counts = distinct(missing)
    kept = []
    for count in counts:
        these = np.flatnonzero(missing == count)
        kept.append(these[best(score[these], max(1, most // len(counts)))])
    return np.sort(np.concatenate(kept)) if kept else np.empty(0, dtype=np.int64)


def kits(task: SearchTask, trails: Trails, after: NextMoves) -> IntArray:
    """A number for the set of pencils of each of the plans ``after``."""
    tag = tags(len(task.places))
    row, pencil = after.row, after.pencil
    kit: IntArray = (trails.used @ tag)[row] + np.where(trails.used[row, pencil], 0, tag[pencil])
    return kit


def as_plans(
    task: SearchTask, trails: Trails, after: NextMoves, kit: IntArray,
    expected: FloatArray | None = None,
) -> FinishedPlan:  # fmt: skip
    """The plans ``after`` as finished ones."""
    before = trails.pencil[after.row]
    return FinishedPlan(
        np.column_stack(
            [np.where(before >= 0, task.places[before], -1), task.places[after.pencil]]
        ),
        np.column_stack([trails.pressure[after.row], PRESSURES[after.press]]),
        np.column_stack([trails.action[after.row], np.zeros(len(after.row), dtype=np.int64)]),
        after.off,
        after.count,
        kit,
        expected,
    )


def may_be_burnished(task: SearchTask, trails: Trails, most: int) -> IntArray:
    """The ``most`` nearest of the trails that may be pressed flat now, which ends them."""
    ready = may_burnish(trails) & trails.used[:, task.insist].all(axis=1)
    rows = np.flatnonzero(ready)
    return rows[best(trails.off[rows], most)]


def burnished(
    task: SearchTask, trails: Trails, rows: IntArray, spread: FloatArray | None = None
) -> FinishedPlan:
    """The trails ``rows`` pressed flat. Of a known ``spread`` (k,), squared ΔE00, the miss to
    be expected is had."""
    some = trails.take(rows)
    k = len(rows)
    off = delta_e00(sheet_lab(burnish(some.sheet)), task.target)
    return FinishedPlan(
        np.column_stack([np.where(some.pencil >= 0, task.places[some.pencil], -1), np.full(k, -1)]),
        np.column_stack([some.pressure, np.ones(k)]),
        np.column_stack([some.action, np.full(k, BURNISH)]),
        off,
        some.used.sum(axis=1),
        some.used @ tags(len(task.places)),
        None if spread is None else np.sqrt(off**2 + spread),
    )


@lru_cache(maxsize=8)
def tags(n: int) -> IntArray:
    """Numbers for n pencils whose sums tell sets of pencils apart (but for rare chance)."""
    return np.random.default_rng(n).integers(1, 2**55, n)
