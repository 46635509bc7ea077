"""Other ways to the same colour, side by side: each what a teacher would show of its kind."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.palette import Palette
from drills.planning.choose import Weighed, perhaps_enough, to_show
from drills.planning.search.craft import FAR_STEPS
from drills.planning.search.finished_plans import Candidate

Way = Literal["by the complement", "by greys and earths", "with the fewest pencils", "nearest"]
WAYS: tuple[Way, ...] = (
    "by the complement",
    "by greys and earths",
    "with the fewest pencils",
    "nearest",
)
AS_GOOD = 2.0
"""ΔE00 of expected miss that another way may be worse by, and still be shown; our estimate."""
NEAREST = 10
"""Plans of least expected miss that are weighed once more, for the nearest to be so."""
EARTH_BELOW = 6.0
"""Strength (about Munsell chroma) under which a pencil is a grey or an earth."""


@dataclass(frozen=True)
class WayChoice:
    """One plan and the way it goes."""

    way: Way
    plan: Weighed


def ways(palette: Palette, plans: Sequence[Weighed], shown: Weighed) -> list[WayChoice]:
    """The other ways, in the order of ``WAYS``, no plan twice.

    "nearest" is the least expected miss of all, whatever the moves; it is left out where the
    plan shown is that already.
    """
    strong = strength(palette.lab)
    earths = frozenset(np.flatnonzero(strong < EARTH_BELOW).tolist())
    hued = _hued(palette)
    chosen: list[WayChoice] = []
    taken = {shown.candidate.moves}

    def add(way: Way, keeps: Callable[[Candidate], bool]) -> None:
        some = [one for one in plans if keeps(one.candidate)]
        if not some:
            return
        best = to_show(some)
        if best.expected <= shown.expected + AS_GOOD and best.candidate.moves not in taken:
            taken.add(best.candidate.moves)
            chosen.append(WayChoice(way, best))

    add("by the complement", lambda one: _by_complement(palette, hued, one))
    add("by greys and earths", lambda one: bool(one.kit & earths) and not one.kit <= earths)
    fewest = min(len(one.candidate.kit) for one in plans if _good(one, shown))
    if fewest < len(shown.candidate.kit):
        add("with the fewest pencils", lambda one: len(one.kit) == fewest)
    nearest = min(plans, key=lambda one: one.expected)
    if nearest.candidate.moves not in taken:
        chosen.append(WayChoice("nearest", nearest))
    return chosen


def to_print(palette: Palette, plans: Sequence[Weighed]) -> list[Weighed]:
    """Those of ``plans`` that may be printed or that say what a rule set aside would cost."""
    shown = to_show(plans)
    some = [
        shown,
        *perhaps_enough(plans, shown),
        *(one.plan for one in ways(palette, plans, shown)),
    ]
    for rule in {rule: None for one in some for rule in one.aside}:
        keeping = [one for one in plans if rule not in one.aside]
        some += sorted(keeping, key=lambda one: one.expected)[:1]
    some += sorted(plans, key=lambda one: one.expected)[:NEAREST]
    return list({one.candidate.moves: one for one in some}.values())


def way_of(palette: Palette, plan: Weighed) -> str:
    """The way a plan goes, in words; empty for one that neither mutes nor greys."""
    if _by_complement(palette, _hued(palette), plan.candidate):
        return "by the complement"
    earthy = (strength(palette.lab[sorted(plan.candidate.kit)]) < EARTH_BELOW).any()
    return "by greys and earths" if earthy and len(plan.candidate.kit) > 1 else ""


def _hued(palette: Palette) -> list[bool]:
    hued = (strength(palette.lab) >= NEUTRAL_BELOW) & (palette.family >= 0)
    return [bool(one) for one in hued]


def _good(one: Weighed, shown: Weighed) -> bool:
    return one.expected <= shown.expected + AS_GOOD


def _by_complement(palette: Palette, hued: Sequence[bool], one: Candidate) -> bool:
    """Whether one of its pencils lies across the wheel from its first."""
    lays = [move.pencil for move in one.moves if move.action == "lay"]
    if not lays or not hued[lays[0]]:
        return False
    first = float(palette.wheel[lays[0]])
    apart = [abs((float(palette.wheel[at]) - first + 6.0) % 12.0 - 6.0) for at in lays]
    return any(hued[at] and far >= FAR_STEPS for at, far in zip(lays, apart, strict=True))
