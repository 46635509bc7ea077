"""Of all finished plans, the one a good teacher would show.

Long searches find lucky recipes, right to a hundredth in a perfect hand with films just so.
No hand and no films are: so plans are ranked by the miss that must be expected
(``drills.layering.doubt``), and what an eye can't tell is never paid for. Of the plans
within ``PAID`` of the least expected miss the shortest is taken, a rule of teaching set
aside counting as a move more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from drills.colour.difference import delta_e00
from drills.layering.doubt import many_in_doubt
from drills.layering.films import FloatArray
from drills.layering.predict import predict_many
from drills.planning.plan import LikelyMiss
from drills.planning.plan_words import as_lab
from drills.planning.pressure_spread import in_doubt, miss_of
from drills.planning.request import Job
from drills.planning.rules import broken_rules
from drills.planning.search.finished_plans import Candidate
from drills.planning.teaching import Teaching

PAID = 0.5
"""ΔE00 of expected miss below which a longer plan isn't worth its moves."""
FEW_DRAWS, DRAWS = 6, 32
"""Draws of films and hands that all plans found, and then the likely ones, are compared by;
the same for all."""
LOOKED_AT = 240
"""Plans found that are looked at, the nearest first."""
LIKELY = 9
"""Plans of each length, and as many that each have a set of pencils of their own, of which
more draws are made."""
SHORTENED = 4
"""Plans of each length that are made by leaving a move out."""


@dataclass(frozen=True, eq=False)
class Weighed:
    """A plan with its ``expected`` miss (ΔE00 from the aim) and the rules it sets aside;
    ``likely`` is its miss from the target, of a plan that may be printed."""

    candidate: Candidate
    expected: float
    aside: tuple[str, ...]
    likely: LikelyMiss | None = None

    @property
    def effort(self) -> tuple[int, int, float]:
        """What is least in the plan to show, of those that come as near as can be told."""
        moves = len(self.candidate.moves) + len(self.aside)
        return (moves, len(self.candidate.kit), self.expected)


def weighed(job: Job, ranked: Sequence[Candidate]) -> list[Weighed]:
    """The plans worth a look, in no order, of those ``ranked`` nearest first. At least one
    where there is any."""
    found = list(ranked)
    some = _likely(found, _expected(job, found, FEW_DRAWS))
    some += _shorter(job, some)
    teaching = Teaching.of(job.palette, job.target)
    return [
        Weighed(one, miss, teaching.set_aside(one.moves))
        for one, miss in zip(some, _expected(job, some, DRAWS), strict=True)
    ]


def _expected(job: Job, plans: Sequence[Candidate], draws: int) -> list[float]:
    """The mean miss of each plan over the same draws, ΔE00 from the aim."""
    rng = np.random.default_rng(job.seed)
    labs = many_in_doubt(job.palette, [one.moves for one in plans], draws, rng)
    expected: list[float] = delta_e00(labs, job.aim).mean(axis=1).tolist()
    return expected


def settled(job: Job, plans: Sequence[Weighed]) -> list[Weighed]:
    """The same plans, weighed by the draws whose figures are printed."""
    labs = in_doubt(job.palette, [one.candidate.moves for one in plans], job.seed)
    expected: list[float] = delta_e00(labs, job.aim).mean(axis=1).tolist()
    return [
        replace(one, expected=mean, likely=miss_of(off))
        for one, mean, off in zip(plans, expected, delta_e00(labs, job.target), strict=True)
    ]


def to_show(plans: Sequence[Weighed]) -> Weighed:
    """The shortest that can't be told from the best, as a teacher would lay it."""
    least = min(one.expected for one in plans)
    return min((one for one in plans if one.expected <= least + PAID), key=lambda one: one.effort)


def _likely(plans: Sequence[Candidate], expected: Sequence[float]) -> list[Candidate]:
    """Of each length those with the least expected miss, and the best of other sets of pencils."""
    order = np.argsort(expected, kind="stable").tolist()
    chosen: list[Candidate] = []
    for length in sorted({len(one.moves) for one in plans}):
        these = [plans[at] for at in order if len(plans[at].moves) == length]
        known = {one.kit for one in these[:LIKELY]}
        kits: dict[frozenset[int], Candidate] = {}
        for one in these[LIKELY:]:
            if one.kit not in known:
                kits.setdefault(one.kit, one)
        chosen += [*these[:LIKELY], *list(kits.values())[:LIKELY]]
    return chosen


def _shorter(job: Job, plans: Sequence[Candidate]) -> list[Candidate]:
    """The plans with any one move left out that still keep the craft.

    A muting layer may matter no more once others lie on it.
    """
    known = {one.moves for one in plans}
    recipes = {
        (*one.moves[:at], *one.moves[at + 1 :]): None
        for one in plans
        if len(one.moves) > 2
        for at in range(len(one.moves))
    }
    tried = [moves for moves in recipes if moves not in known]
    found: list[Candidate] = []
    for length in sorted({len(moves) for moves in tried}):
        some = [moves for moves in tried if len(moves) == length]
        off: FloatArray = delta_e00(predict_many(job.palette, some), job.aim)
        alike = [one.delta_e00 for one in plans if len(one.moves) == length]
        worst = max(alike, default=np.inf)
        for at in np.argsort(off, kind="stable")[:SHORTENED].tolist():
            one = Candidate(some[at], float(off[at]))
            keeps = job.limits.insist <= one.kit and one.delta_e00 <= worst
            if keeps and not broken_rules(
                job.palette, one.moves, as_lab(job.target), job.places.tolist()
            ):
                found.append(one)
    return found
