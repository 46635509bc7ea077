"""The search: layer by layer, keeping the half-made plans that promise most."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.spaces import lab_to_xyz, reflectance_to_lab, xyz_to_lab
from drills.layering.films import FloatArray
from drills.layering.moves import BURNISH
from drills.layering.palette import Palette
from drills.layering.predict import sheet_lab
from drills.layering.sheet import burnish
from drills.planning.search.craft import LAYERS_BEFORE_BLEND, BoolArray, Roles
from drills.planning.search.finished_plans import FinishedPlan, best, worth_keeping
from drills.planning.search.half_made import FIRM_AT, PRESSURES, IntArray, Trails, begin
from drills.planning.search.lengthen import (
    blended,
    laid,
    leads_on,
    may_blend,
    may_burnish,
    may_end,
    may_lay,
)
from drills.planning.search.next_layer import Looker, SingleArray
from drills.planning.search.prospects import Promise


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
    width: Width


@dataclass(frozen=True, eq=False)
class _Next:
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


def search(task: SearchTask) -> list[FinishedPlan]:
    """Finished plans, of every length to ``max_layers``."""
    palette, roles, width = task.palette, task.roles, task.width
    looker = Looker.of(palette, task.places, PRESSURES)
    promise = Promise(task.target)
    trails = begin(palette, len(task.places), reflectance_to_lab(palette.paper.reflectance))
    found: list[FinishedPlan] = []
    for step in range(task.max_layers):
        left = task.max_layers - step
        if task.burnish and step >= LAYERS_BEFORE_BLEND:
            found += _burnished(task, trails)
        seen = looker.xyz(trails.sheet, np.where(trails.firms > 0, FIRM_AT, 0))
        after = _look(task, trails, seen, left)
        ends = may_end(trails, roles)[after.row, after.pencil] & (after.missing == 0)
        found.append(_finished(task, trails, after, np.flatnonzero(ends)))
        if left == 1:
            break
        # A plan of several layers doesn't begin firm.
        fits = (step > 0) | (after.press != FIRM_AT)
        fits &= (after.missing <= left - 1) & (after.missing <= task.max_pencils - after.count)
        if np.count_nonzero(fits) > width.beam:
            promise.fit(lab_to_xyz(trails.lab), seen)
        go = _promising(np.flatnonzero(fits), trails, after, promise, width.beam)
        following = laid(
            palette, task.places, trails, roles,
            after.row[go], after.press[go], after.pencil[go], after.lab[go], after.off[go],
        )  # fmt: skip
        if task.blender and left >= 3 and step >= LAYERS_BEFORE_BLEND:
            can = np.flatnonzero(may_blend(trails))
            can = can[best(trails.off[can], width.blends)]
            if can.size:
                following = Trails.join(following, blended(trails, can, task.target))
        trails = following
        if not len(trails):
            break
    return [some for some in found if len(some)]


def _look(task: SearchTask, trails: Trails, seen: SingleArray, left: int) -> _Next:
    may = may_lay(trails, task.roles, left, task.max_pencils)
    row, press, pencil = np.nonzero(may)
    xyz = seen[row, press, pencil]
    lab = xyz_to_lab(xyz)
    off = delta_e00(lab, task.target)
    on = leads_on(trails, task.roles, row, pencil, off)
    row, press, pencil = row[on], press[on], pencil[on]
    fresh = ~trails.used[row, pencil]
    missing = np.zeros(len(row), dtype=np.int64)
    if task.insist.any():
        missing = (task.insist & ~trails.used).sum(axis=1)[row] - (task.insist[pencil] & fresh)
    return _Next(
        row,
        press,
        pencil,
        xyz[on],
        lab[on],
        off[on],
        trails.used.sum(axis=1)[row] + fresh,
        missing,
    )


def _promising(
    rows: IntArray, trails: Trails, after: _Next, promise: Promise, beam: int
) -> IntArray:
    """Which of the next layers ``rows`` the beam goes on with.

    Where pencils are insisted on, plans that still lack one look worse than they
    are: each number still missing has its own share of the beam.
    """
    if len(rows) <= beam:
        return rows
    if promise.ready:
        firm = (trails.firms[after.row[rows]] > 0) | (after.press[rows] == FIRM_AT)
        score: FloatArray = promise.distance(after.xyz[rows], firm).astype(np.float64)
    else:
        score = after.off[rows]
    missing = after.missing[rows]
    counts = np.unique(missing)
    kept = []
    for count in counts:
        these = np.flatnonzero(missing == count)
        kept.append(rows[these[best(score[these], max(1, beam // len(counts)))]])
    return np.sort(np.concatenate(kept))


def _finished(task: SearchTask, trails: Trails, after: _Next, done: IntArray) -> FinishedPlan:
    """The best of the next layers ``done``, as finished plans."""
    tag = _tags(len(task.places))
    row, pencil = after.row[done], after.pencil[done]
    kit = (trails.used @ tag)[row] + np.where(trails.used[row, pencil], 0, tag[pencil])
    stride = np.sqrt(((after.lab[done] - trails.lab[row]) ** 2).sum(axis=1))
    kept = worth_keeping(after.off[done], stride, after.count[done], kit)
    chosen = done[kept]
    row, pencil = after.row[chosen], after.pencil[chosen]
    before = trails.pencil[row]
    return FinishedPlan(
        np.column_stack([np.where(before >= 0, task.places[before], -1), task.places[pencil]]),
        np.column_stack([trails.pressure[row], PRESSURES[after.press[chosen]]]),
        np.column_stack([trails.action[row], np.zeros(len(chosen), dtype=np.int64)]),
        after.off[chosen],
        after.count[chosen],
        kit[kept],
    )


def _burnished(task: SearchTask, trails: Trails) -> list[FinishedPlan]:
    """The nearest of the trails pressed flat, as finished plans."""
    ready = may_burnish(trails) & trails.used[:, task.insist].all(axis=1)
    rows = np.flatnonzero(ready)
    rows = rows[best(trails.off[rows], task.width.burnishes)]
    if not rows.size:
        return []
    some = trails.take(rows)
    k = len(rows)
    return [
        FinishedPlan(
            np.column_stack(
                [
                    np.where(some.pencil >= 0, task.places[some.pencil], -1),
                    -np.ones(k, dtype=np.int64),
                ]
            ),
            np.column_stack([some.pressure, np.ones(k)]),
            np.column_stack([some.action, np.full(k, BURNISH)]),
            delta_e00(sheet_lab(burnish(some.sheet)), task.target),
            some.used.sum(axis=1),
            some.used @ _tags(len(task.places)),
        )
    ]


def _tags(n: int) -> IntArray:
    """Numbers for n pencils whose sums tell sets of pencils apart (but for rare chance)."""
    return np.random.default_rng(n).integers(1, 2**55, n)
