"""The search for plans by the miss to be expected, hands and films being what they are.

As ``search``, layer by layer; but what half-made plans come to is laid by eight draws of them
(``in_doubt``), and those are gone on with that end near for all eight. A narrow beam will do, for
what it lets go of the ``neighbours`` of the best plans find again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from drills.colour.spaces import lab_to_xyz, reflectance_to_lab
from drills.layering.films import FloatArray
from drills.planning.search.craft import LAYERS_BEFORE_BLEND, BoolArray
from drills.planning.search.finished_plans import FinishedPlan, best
from drills.planning.search.half_made import FIRM_AT, PRESSURES, IntArray, Trails, begin
from drills.planning.search.in_doubt import InDoubt, varied
from drills.planning.search.lengthen import blended, laid, may_blend, may_end
from drills.planning.search.neighbours import neighbours
from drills.planning.search.next_layer import Looker, SingleArray
from drills.planning.search.next_moves import (
    NextMoves,
    Screen,
    SearchTask,
    as_plans,
    burnished,
    firm,
    kits,
    look,
    may_be_burnished,
    shares,
)
from drills.planning.search.prospects import Promise

BEAMS = (100, 120, 120, 80)
"""Half-made plans kept of one move, of two, of three, and of four or more."""
BLENDS, BURNISHES = 20, 8
"""Half-made plans that are blended, or pressed flat, at each step."""
FIRM_SHARE = 0.35
"""Of a beam, the share of plans with a firm layer: they look steady, but only firm layers may
follow, so that they lead to fewer plans."""
WEIGHT = 0.9
"""Of the spread of a half-made plan, against how near it may come."""
SPREAD = {1: 0.3, 2: 0.1, 3: 0.1}
"""Of the squared spread where firm layers are to come, by how many layers are: they cover it."""
FILLED = {1: 10.0, 2: 100.0, 3: 0.0}
"""Squared ΔE00 that a unit of pressure already laid is worth there: on a full tooth a firm layer
ends steadily. Both are rounded from fits to how near 2,600 half-made plans came at last."""
LONGEST_LOOK = 3
"""Layers to come from which on a plan is judged by two firm ones rather than one."""
FIRM_TO_COME = 0.75
"""Of the plans without a firm layer, the share chosen by where firm layers would bring them; the
others by where any one layer would."""
TRIED = 2
"""Half-made plans laid by all draws, times those that are kept."""
SCREENED = 3
"""Next layers whose colour is worked out, times those that are laid by all draws."""
ENDS = (120, 32, 60)
"""Finished plans laid by all draws at each step: those that promise most, those of each
number of pencils, and those that each have a set of pencils of their own."""
KEPT = (100, 24, 60)
"""Of these, the finished plans that are kept."""
ROUNDS = (120, 120)
"""Neighbours of the best finished plans that are laid by all draws, round by round."""


@dataclass(frozen=True, eq=False)
class Scores:
    """What is least in the k half-made plans to go on with.

    ``firm`` (k,) are those that have a firm layer. ``any_layer`` (k,) judges a plan by how near
    one layer more would bring it, ``firm_layers`` by firm ones: the steadiest plans end with
    these, and look far from their target till then.
    """

    firm: BoolArray
    any_layer: FloatArray
    firm_layers: FloatArray


def likely_search(task: SearchTask, rounds: Sequence[int] = ROUNDS) -> list[FinishedPlan]:
    """Finished plans, of every length to ``max_layers``, each with its ``expected`` miss.

    What is burnished at last isn't laid by all draws: its spread is taken to stay.
    """
    palette, roles = task.palette, task.roles
    looker = Looker.of(palette, task.places, PRESSURES, quick=True)
    promise = Promise(task.target)
    trails = begin(palette, len(task.places), reflectance_to_lab(palette.paper.reflectance))
    doubt = InDoubt.begin(palette, task.places, promise.metric)
    found: list[FinishedPlan] = []
    for step in range(task.max_layers):
        left, beam = task.max_layers - step, BEAMS[min(step, len(BEAMS) - 1)]
        if task.burnish and step >= LAYERS_BEFORE_BLEND:
            flat = may_be_burnished(task, trails, BURNISHES)
            if flat.size:
                found.append(burnished(task, trails, flat, doubt.spread[flat].astype(np.float64)))
        seen = looker.xyz(trails.sheet, np.where(trails.firms > 0, FIRM_AT, 0))
        if step > 0 and left > 1:
            promise.fit(lab_to_xyz(trails.lab), seen)
        after = look(task, trails, seen, left, _screen(trails, doubt, promise, beam, left))
        ends = may_end(trails, roles)[after.row, after.pencil] & (after.missing == 0)
        found.append(_finished(task, trails, after.take(np.flatnonzero(ends)), doubt, promise))
        if left == 1:
            break
        # A plan of several layers doesn't begin firm.
        fits = (step > 0) | (after.press != FIRM_AT)
        fits &= (after.missing <= left - 1) & (after.missing <= task.max_pencils - after.count)
        go, doubt_next = _promising(
            np.flatnonzero(fits), trails, after, promise, beam, doubt, left - 1
        )
        following = laid(
            palette, task.places, trails, roles,
            after.row[go], after.press[go], after.pencil[go], after.lab[go], after.off[go],
        )  # fmt: skip
        if task.blender and left >= 3 and step >= LAYERS_BEFORE_BLEND:
            can = np.flatnonzero(may_blend(trails))
            can = can[best(trails.off[can], BLENDS)]
            if can.size:
                rubbed = blended(trails, can, task.target)
                following = Trails.join(following, rubbed)
                also = doubt.blended(can, trails, lab_to_xyz(rubbed.lab))
                doubt_next = InDoubt.join(doubt_next, also)
        trails, doubt = following, doubt_next
        if not len(trails):
            break
    found = [some for some in found if len(some)]
    if found:
        found += neighbours(task, found, doubt.films, promise, rounds)
    return found


def _screen(trails: Trails, doubt: InDoubt, promise: Promise, beam: int, left: int) -> Screen:
    def screen(every: NextMoves) -> IntArray:
        mean, spread = doubt.guessed(every.row, every.xyz)
        most = SCREENED * ENDS[0]
        near = shares(promise.squares(mean) + spread, every.missing, most)
        if left == 1:
            return near
        rows = np.arange(len(every.row))
        score = _score(promise, mean, spread, trails, every, rows, left - 1)
        worth = np.zeros(len(rows), dtype=np.bool_)
        worth[near] = True
        worth[_kept(score, every.missing, SCREENED * TRIED * beam)] = True
        return np.flatnonzero(worth)

    return screen


def _score(
    promise: Promise, mean: SingleArray, spread: SingleArray, trails: Trails, after: NextMoves,
    rows: IntArray, to_come: int,
) -> Scores:  # fmt: skip
    """Of the plans ``rows`` (k,), of these ``mean`` XYZ (k, 3), with so many layers ``to_come``."""
    has = firm(trails, after, rows)
    near = promise.distance(mean, has).astype(np.float64)
    any_layer: FloatArray = near**2 + WEIGHT**2 * spread
    if not promise.ready:
        return Scores(has, any_layer, any_layer)
    soft = np.flatnonzero(~has)
    if to_come >= LONGEST_LOOK:
        near = promise.two_firm(mean[soft]).astype(np.float64)
    elif to_come > 1:
        near = promise.distance(mean[soft], np.ones(len(soft), dtype=np.bool_)).astype(np.float64)
    else:
        near = near[soft]
    by, at = min(to_come, LONGEST_LOOK), rows[soft]
    pressed = trails.pressure.sum(axis=1)[after.row[at]] + PRESSURES[after.press[at]]
    firm_layers = any_layer.copy()
    firm_layers[soft] = near**2 + SPREAD[by] * spread[soft] - FILLED[by] * pressed
    return Scores(has, any_layer, firm_layers)


def _kept(scores: Scores, missing: IntArray, most: int) -> IntArray:
    """Places of some ``most`` of least score, in order; ``missing`` (k,) pencils insisted on."""
    taken = np.zeros(len(missing), dtype=np.bool_)
    for score, these, share in (
        (scores.any_layer, scores.firm, FIRM_SHARE),
        (scores.firm_layers, ~scores.firm, (1.0 - FIRM_SHARE) * FIRM_TO_COME),
        (scores.any_layer, ~scores.firm, (1.0 - FIRM_SHARE) * (1.0 - FIRM_TO_COME)),
    ):
        free = np.flatnonzero(these & ~taken)
        taken[free[shares(score[free], missing[free], round(share * most))]] = True
    return np.flatnonzero(taken)


def _promising(
    rows: IntArray,
    trails: Trails,
    after: NextMoves,
    promise: Promise,
    beam: int,
    doubt: InDoubt,
    to_come: int,
) -> tuple[IntArray, InDoubt]:
    """Which of the next layers ``rows`` the beam goes on with, laid by all draws."""
    if len(rows) > TRIED * beam:
        mean, spread = doubt.guessed(after.row[rows], after.xyz[rows])
        score = _score(promise, mean, spread, trails, after, rows, to_come)
        rows = rows[_kept(score, after.missing[rows], TRIED * beam)]
    xyz, pressure = after.xyz[rows], PRESSURES[after.press[rows]]
    now = doubt.laid(after.row[rows], after.pencil[rows], pressure, trails.moves, xyz)
    if len(rows) <= beam:
        return rows, now
    score = _score(promise, xyz + now.shift, now.spread, trails, after, rows, to_come)
    kept = _kept(score, after.missing[rows], beam)
    return rows[kept], now.take(kept)


def _finished(
    task: SearchTask, trails: Trails, ended: NextMoves, doubt: InDoubt, promise: Promise
) -> FinishedPlan:
    """The best of the plans ``ended``, laid by all draws, as finished plans."""
    mean, spread = doubt.guessed(ended.row, ended.xyz)
    kit = kits(task, trails, ended)
    tried = varied(promise.squares(mean) + spread, ended.count, kit, *ENDS)
    ended, kit = ended.take(tried), kit[tried]
    pressure = PRESSURES[ended.press]
    now = doubt.laid(ended.row, ended.pencil, pressure, trails.moves, ended.xyz)
    expected = now.expected(task.target)
    kept = varied(expected, ended.count, kit, *KEPT)
    return as_plans(task, trails, ended.take(kept), kit[kept], expected[kept])
