"""A known change of the whole eye, in the unit of each drill: its threshold then, and today."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from scores.progress.claim import Claim
from scores.progress.lines import DRAWN_FROM
from scores.skill.model.figures import LearnerFigures
from scores.skill.psychometric import scale_of
from scores.today.offers import KindFacts


@dataclass(frozen=True)
class ThenNow:
    """A drill's threshold ``now`` and what it comes to ``then``, on ``since``, in ``unit``.

    ``then`` is today's threshold less the change of the whole eye, the only change that is
    ever told: nothing is claimed of the drill alone.
    """

    kind: str
    title: str
    unit: str
    since: date
    then: float
    now: float


def then_and_now(
    change: Claim | None, figures: LearnerFigures, kinds: Mapping[str, KindFacts]
) -> tuple[ThenNow, ...]:
    """Every drill with answers enough, the most answered first; none while no change is told."""
    if change is None or change.direction is None:
        return ()
    since = date.fromordinal(change.since)
    found = []
    for name, kind in figures.kinds.items():
        scale, facts = scale_of(kind.steps, kind.chance), kinds.get(name)
        if scale is None or facts is None or kind.pooled.answers < DRAWN_FROM:
            continue
        then, now = (scale.step(kind.pooled.mean - by) for by in (change.change, 0.0))
        one = ThenNow(name, facts.title, facts.unit, since, then, now)
        found.append((-kind.pooled.answers, name, one))
    return tuple(one for *_, one in sorted(found, key=lambda found: found[:2]))
