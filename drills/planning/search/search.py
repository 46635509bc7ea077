"""The search: layer by layer, keeping the half-made plans that promise most."""

from __future__ import annotations

import numpy as np

from drills.colour.spaces import lab_to_xyz, reflectance_to_lab
from drills.layering.films import FloatArray
from drills.planning.search.craft import LAYERS_BEFORE_BLEND
from drills.planning.search.finished_plans import FinishedPlan, best, worth_keeping
from drills.planning.search.half_made import FIRM_AT, PRESSURES, IntArray, Trails, begin
from drills.planning.search.lengthen import blended, laid, may_blend, may_end
from drills.planning.search.next_layer import Looker
from drills.planning.search.next_moves import (
    NextMoves,
    SearchTask,
    Width,
    as_plans,
    burnished,
    firm,
    kits,
    look,
    may_be_burnished,
    shares,
)
from drills.planning.search.prospects import Promise


def search(task: SearchTask, width: Width) -> list[FinishedPlan]:
    """Finished plans, of every length to ``max_layers``."""
    palette, roles = task.palette, task.roles
    looker = Looker.of(palette, task.places, PRESSURES)
    promise = Promise(task.target)
    trails = begin(palette, len(task.places), reflectance_to_lab(palette.paper.reflectance))
    found: list[FinishedPlan] = []
    for step in range(task.max_layers):
        left = task.max_layers - step
        if task.burnish and step >= LAYERS_BEFORE_BLEND:
            flat = may_be_burnished(task, trails, width.burnishes)
            if flat.size:
                found.append(burnished(task, trails, flat))
        seen = looker.xyz(trails.sheet, np.where(trails.firms > 0, FIRM_AT, 0))
        after = look(task, trails, seen, left)
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


def _promising(
    rows: IntArray, trails: Trails, after: NextMoves, promise: Promise, beam: int
) -> IntArray:
    """Which of the next layers ``rows`` the beam goes on with."""
    if len(rows) <= beam:
        return rows
    score: FloatArray = after.off[rows]
    if promise.ready:
        score = promise.distance(after.xyz[rows], firm(trails, after, rows)).astype(np.float64)
    return rows[shares(score, after.missing[rows], beam)]


def _finished(task: SearchTask, trails: Trails, after: NextMoves, done: IntArray) -> FinishedPlan:
    """The best of the next layers ``done``, as finished plans."""
    ended = after.take(done)
    kit = kits(task, trails, ended)
    stride = np.sqrt(((ended.lab - trails.lab[ended.row]) ** 2).sum(axis=1))
    kept = worth_keeping(ended.off, stride, ended.count, kit)
    return as_plans(task, trails, ended.take(kept), kit[kept])
