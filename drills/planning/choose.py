"""Of all finished plans, the one a good teacher would show.

Long searches find lucky recipes, right to a hundredth in a perfect hand with films just so.
No hand and no films are: so plans are ranked by the miss that must be expected
(``drills.layering.doubt``), and what an eye can't tell is never paid for. Of the plans
within ``PAID`` of the least expected miss the shortest is taken. One that sets no rule of
teaching aside goes before all that do, and may lie by ``CRAFT`` farther off for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drills.colour.difference import delta_e00
from drills.layering.doubt.draws import many_in_doubt
from drills.planning.plan import REACHED_WITHIN, LikelyMiss
from drills.planning.pressure_spread import as_it_may_be, in_doubt, miss_of
from drills.planning.request import Job
from drills.planning.search.finished_plans import Candidate
from drills.planning.teaching import Teaching

PAID = 0.5
"""ΔE00 of expected miss below which a longer plan isn't worth its moves."""
CRAFT = 0.4
"""ΔE00 of expected miss that keeping every rule of teaching may cost besides; our estimate. Both
together are less than can be seen."""
DRAWS = 32
"""Draws of films and hands that plans are first compared by."""
UNSURE = 0.3
"""ΔE00 by which so few draws may put one plan's expected miss too far above another's."""
ALIKE = 2
"""Plans of one effort and number of moves that are weighed by more draws for that."""


@dataclass(frozen=True, eq=False)
class Weighed:
    """A plan with its ``expected`` miss (ΔE00 from the aim) and the rules it sets aside;
    ``likely`` is its miss from the target, of a plan that may be printed."""

    candidate: Candidate
    expected: float
    aside: tuple[str, ...]
    likely: LikelyMiss | None = None

    @property
    def effort(self) -> tuple[bool, int, int, int, float]:
        """What is least in the plan to show, of those that come near enough."""
        astray = self.candidate.delta_e00 > REACHED_WITHIN
        moves = len(self.candidate.moves)
        cost = moves + len(self.aside) + astray
        return (bool(self.aside), cost, moves, len(self.candidate.kit), self.expected)

    def near_enough(self, least: float) -> bool:
        """Whether it may be shown where the ``least`` expected miss of any plan is that."""
        return self.expected <= least + PAID + (0.0 if self.aside else CRAFT)


def weighed(job: Job, plans: Sequence[Candidate]) -> list[Weighed]:
    """The plans, weighed by the same draws of films and hands for all."""
    labs = many_in_doubt(job.palette, [one.moves for one in plans], DRAWS, job.seed)
    expected: list[float] = delta_e00(labs, job.aim).mean(axis=1).tolist()
    teaching = Teaching.of(job.palette, job.target)
    return [
        Weighed(one, miss, teaching.set_aside(one.moves))
        for one, miss in zip(plans, expected, strict=True)
    ]


def settled(job: Job, plans: Sequence[Weighed]) -> list[Weighed]:
    """The same plans, weighed by the draws whose figures are printed.

    A target's doubt is in what is told of each, and in no choice: it is the same for all.
    """
    labs = in_doubt(job.palette, [one.candidate.moves for one in plans], job.seed)
    expected: list[float] = delta_e00(labs, job.aim).mean(axis=1).tolist()
    goals = as_it_may_be(job.target, job.target_sd, job.seed)
    return [
        replace(one, expected=mean, likely=miss_of(off))
        for one, mean, off in zip(plans, expected, delta_e00(labs, goals), strict=True)
    ]


def perhaps_enough(plans: Sequence[Weighed], shown: Weighed) -> list[Weighed]:
    """Plans of less effort than the one ``shown``, which may be near enough by more draws."""
    least = min(one.expected for one in plans) + UNSURE
    some: dict[tuple[bool, int, int], list[Weighed]] = {}
    for one in sorted(plans, key=lambda one: one.expected):
        if one.near_enough(least) and one.effort[:3] < shown.effort[:3]:
            some.setdefault(one.effort[:3], []).append(one)
    return [one for alike in some.values() for one in alike[:ALIKE]]


def to_show(plans: Sequence[Weighed]) -> Weighed:
    """The shortest that can't be told from the best, as a teacher would lay it."""
    least = min(one.expected for one in plans)
    return min((one for one in plans if one.near_enough(least)), key=lambda one: one.effort)
