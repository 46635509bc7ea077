"""Whether a colour can be made with some pencils at all, and what comes nearest: no plan, no why.

Reached is what ``planner.plan`` counts as reached: within ``REACHED_WITHIN`` of the target, were
hand and films exact.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.layering.palette import Palette
from drills.layering.predict import predict
from drills.pencils.pencil import Lab
from drills.planning.missing import direction
from drills.planning.plan import REACHED_WITHIN, Direction
from drills.planning.plan_limits import Limits
from drills.planning.plan_words import as_lab
from drills.planning.request import QUICK, Job, likely, make_job, ranked
from drills.planning.search.finished_plans import Candidate

_QUICK_LIMITS = Limits(burnish=False)
_FAR = 12.0
"""ΔE00 left by the narrow search beyond which the wide ones are not tried: of 140 colours drawn
at random they brought none from over 5 within reach."""


@dataclass(frozen=True)
class Reach:
    """The nearest that some pencils come to a colour: ``miss`` in ΔE00, the ``lab`` they make,
    and in what the target differs from that most."""

    miss: float
    lab: Lab
    way: Direction

    @property
    def reached(self) -> bool:
        return self.miss <= REACHED_WITHIN


def reach(palette: Palette, target: Lab) -> Reach:
    """The nearest these pencils come to ``target``.

    A narrow search first; where that doesn't reach it, the planner's own two. Raises InputError
    for a target that is no colour.
    """
    job = make_job(palette, target, _QUICK_LIMITS, 0, None, spectral=False)
    paper = as_lab(job.paper)
    best = Reach(job.bare_miss, paper, _way(job, paper))
    best = _better(job, best, ranked(job, QUICK, most=1))
    if best.reached or best.miss > _FAR:
        return best
    job = make_job(palette, target, Limits(), 0, None, spectral=False)
    best = _better(job, best, likely(job)[:1])
    return best if best.reached else _better(job, best, ranked(job, most=1))


def _better(job: Job, best: Reach, found: list[Candidate]) -> Reach:
    for one in found:
        lab = predict(job.palette, one.moves)
        miss = float(delta_e00(lab, job.target))
        if miss < best.miss:
            best = Reach(miss, lab, _way(job, lab))
    return best


def _way(job: Job, lab: Lab) -> Direction:
    return direction(np.asarray(lab), job.target)
