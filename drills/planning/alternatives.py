"""Other ways to the same colour that are really different."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from drills.planning.choose import FEW_HANDS, effort
from drills.planning.other_light import misses
from drills.planning.pressure_spread import expected_miss, wandering
from drills.planning.request import Job
from drills.planning.search.finished_plans import Candidate
from drills.planning.search.finished_spectra import finished

MOST_ALTERNATIVES = 3
AS_GOOD = 2.0
"""ΔE00 that an alternative may be worse by; our estimate."""
WARM_TRIED = 60
WARM_GAIN = 0.3
"""ΔE00 under the warm lamp that an alternative for it must gain."""
STEADY_TRIED = 16
STEADIER = 0.7
"""Share of the main plan's expected miss that a steadier one must come down to."""


@dataclass(frozen=True)
class PlanChoice:
    """One alternative and what it is for."""

    label: str
    candidate: Candidate


def alternatives(job: Job, ranked: Sequence[Candidate], main: Candidate) -> list[PlanChoice]:
    """Two or three other plans, where there are any. None is a shuffle of another."""
    chosen: list[PlanChoice] = []
    taken = {(main.kit, main.blends)}

    def add(label: str, pick: Callable[[Sequence[Candidate]], Candidate | None]) -> None:
        if len(chosen) == MOST_ALTERNATIVES:
            return
        one = pick([one for one in ranked if (one.kit, one.blends) not in taken])
        if one is not None:
            chosen.append(PlanChoice(label, one))
            taken.add((one.kit, one.blends))

    add("fewer pencils", lambda rest: _fewer(rest, main))
    if main.blends:
        add("no blender", lambda rest: _easiest([one for one in rest if not one.blends]))
    if job.spectrum is not None:
        add("best under warm light", lambda rest: _warm(job, rest, main))
    add("steadier in the hand", lambda rest: _steadier(job, rest, main))
    add("with other pencils", lambda rest: _other(rest, main))
    return chosen


def _easiest(rest: Sequence[Candidate]) -> Candidate | None:
    """The plan whose miss and effort come to the least."""
    return min(rest, key=lambda one: one.delta_e00 + effort(one), default=None)


def _fewer(rest: Sequence[Candidate], main: Candidate) -> Candidate | None:
    """The fewest pencils that still do nearly as well; else the best of fewer."""
    fewer = [one for one in rest if len(one.kit) < len(main.kit)]
    good = [one for one in fewer if one.delta_e00 <= main.delta_e00 + AS_GOOD]
    least = min((len(one.kit) for one in good), default=0)
    return _easiest([one for one in good if len(one.kit) == least] or fewer)


def _warm(job: Job, rest: Sequence[Candidate], main: Candidate) -> Candidate | None:
    """The nearest under the warm lamp, of plans that hold in daylight too."""
    close = [one for one in rest if one.delta_e00 <= main.delta_e00 + AS_GOOD][:WARM_TRIED]
    if not close or job.spectrum is None:
        return None
    spectra = finished(job.palette, [one.moves for one in (main, *close)])
    off = misses(spectra, job.spectrum, ("A",))["A"]
    least = int(np.argmin(off[1:]))
    return close[least] if off[1 + least] <= off[0] - WARM_GAIN else None


def _steadier(job: Job, rest: Sequence[Candidate], main: Candidate) -> Candidate | None:
    close = [one for one in rest if one.delta_e00 <= main.delta_e00 + AS_GOOD][:STEADY_TRIED]
    hands = wandering(job.palette, [one.moves for one in (main, *close)], job.seed, FEW_HANDS)
    off = [expected_miss(job.aim, hand) for hand in hands]
    if not close or min(off[1:]) > STEADIER * off[0]:
        return None
    return close[int(np.argmin(off[1:]))]


def _other(rest: Sequence[Candidate], main: Candidate) -> Candidate | None:
    """A plan that does without the main plan's first pencil, or else any other."""
    first = main.moves[0].pencil
    return _easiest([one for one in rest if first not in one.kit] or rest)
