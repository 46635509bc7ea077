"""Of all finished plans, the one to follow: near, steady, and no longer than it need be."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.colour.difference import delta_e00
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import predict_many
from drills.planning.plan_words import as_lab
from drills.planning.pressure_spread import expected_miss, wandering
from drills.planning.request import Job
from drills.planning.rules import broken_rules
from drills.planning.search.finished_plans import Candidate

BAND = 0.15
"""ΔE00 that the nearest plan may be missed by for the sake of a steadier, simpler one."""
BAND_SHARE = 0.1
"""The same as a share of a large miss, where a little more isn't seen."""
PASSES = 0.8
"""ΔE00 under which every plan passes for exact: the steadiest and simplest is taken."""
SHORT_MOVES = 3
"""Whatever is taken is not ``BAND`` worse than the nearest plan of so few moves."""
FINALISTS = 48
FEW_HANDS = 8
MOVE_COST, PENCIL_COST, BURNISH_COST = 0.2, 0.15, 0.2
"""What a move, a pencil more or a burnishing must earn, in ΔE00; our estimate."""


def effort(one: Candidate) -> float:
    """What a plan costs to carry out, in the ΔE00 that it must earn."""
    return MOVE_COST * len(one.moves) + PENCIL_COST * len(one.kit) + BURNISH_COST * one.burnishes


def main_plan(job: Job, ranked: Sequence[Candidate]) -> Candidate:
    """Of the plans that come as near as can be seen, the one that holds best for its effort.

    Long searches find lucky recipes, right to a hundredth in a perfect hand. So
    plans are weighed by the miss that wandering hands must expect, and by effort; and
    each is tried with every move left out, for a muting layer may matter no more once
    others lie on it.
    """
    limit = near_enough(ranked)
    near = finalists(ranked, limit)
    first = near[int(np.argmin(_costs(job, near)))]
    pool = [first, *_shorter(job, near, limit)]
    # Those from the search keep the craft; the shortened ones must be asked.
    order: list[int] = np.argsort(_costs(job, pool), kind="stable").tolist()
    for at in order:
        if pool[at] is first or _sound(job, pool[at].moves):
            return pool[at]
    return first


def near_enough(ranked: Sequence[Candidate]) -> float:
    """ΔE00 up to which a plan may be the main one."""
    least = ranked[0].delta_e00
    limit = max(least + max(BAND, BAND_SHARE * least), PASSES)
    short = [one.delta_e00 for one in ranked if len(one.moves) <= SHORT_MOVES]
    return min(limit, short[0] + BAND) if short else limit


def finalists(ranked: Sequence[Candidate], limit: float) -> list[Candidate]:
    """Some of each length of the plans within ``limit``, evenly over their misses.

    Evenly, for the nearest may all be touchy.
    """
    by_length: dict[int, list[Candidate]] = {}
    for one in ranked:
        if one.delta_e00 <= limit:
            by_length.setdefault(len(one.moves), []).append(one)
    share = max(1, FINALISTS // len(by_length))
    chosen = []
    for length in sorted(by_length):
        these = by_length[length]
        chosen += these[:: max(1, len(these) // share)][:share]
    return chosen


def _costs(job: Job, plans: Sequence[Candidate]) -> list[float]:
    hands = wandering(job.palette, [one.moves for one in plans], job.seed, FEW_HANDS)
    return [
        expected_miss(job.aim, hand) + effort(one) for one, hand in zip(plans, hands, strict=True)
    ]


def _shorter(job: Job, plans: Sequence[Candidate], limit: float) -> list[Candidate]:
    """The plans with any one move left out that still come within ``limit``."""
    recipes = {
        (*one.moves[:at], *one.moves[at + 1 :]): None
        for one in plans
        if len(one.moves) > 1
        for at in range(len(one.moves))
    }
    known = {one.moves for one in plans}
    by_length: dict[int, list[tuple[Move, ...]]] = {}
    for moves in recipes:
        if moves not in known:
            by_length.setdefault(len(moves), []).append(moves)
    out = []
    for some in by_length.values():
        for moves, off in zip(some, _misses(job.palette, some, job.aim), strict=True):
            one = Candidate(moves, off)
            if off <= limit and job.limits.insist <= one.kit:
                out.append(one)
    return out


def _misses(palette: Palette, recipes: Sequence[tuple[Move, ...]], aim: FloatArray) -> list[float]:
    off: list[float] = delta_e00(predict_many(palette, recipes), aim).tolist()
    return off


def _sound(job: Job, moves: Sequence[Move]) -> bool:
    return not broken_rules(job.palette, moves, as_lab(job.target), job.places.tolist())
