"""Today's practice: what to ask, in what order, and why.

First what is due, likeliest forgotten first; then what is weak; then new skills,
as many as the backlog leaves room for; and if time remains, what was met longest
ago again. One kind is never asked three times running, as long as two kinds can
be asked at all; with one kind alone the rule can't hold and is dropped. Regions
are mixed: the same one does not come twice running where another serves.

New skills: at most ``NEW_PER_TEN_MINUTES``, times the share of the time that is
not taken by what is due. While fewer than ``NEW_PER_TEN_MINUTES`` skills have
been met (a first session), every question may be new, spread over kinds and
families.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from scores.jsons import JSON
from scores.memory import SkillState
from scores.need import (
    Entry,
    Reason,
    in_order_of_need,
    least_asked,
    why_words,
)
from scores.offers import Offers
from scores.words import skill_name

REVEAL_S = 6.0
"""Seconds a learner reads the reveal (our estimate)."""
LOOK_AHEAD = 6
"""How far down the order of need a better mix is looked for."""
MINUTES_RANGE = (2.0, 60.0)
DEFAULT_MINUTES = 10.0


@dataclass(frozen=True)
class Item:
    """One question to come. ``why`` is one plain sentence; ``seconds`` what it will take."""

    skill: str
    kind: str
    region: str
    why: str
    reason: Reason
    seconds: float


def minutes_of(settings: Mapping[str, JSON]) -> float:
    """The session's length from the settings, 2–60 minutes; 10 unless set."""
    value = settings.get("minutes")
    if isinstance(value, bool) or not isinstance(value, int | float) or value != value:
        return DEFAULT_MINUTES
    return min(max(float(value), MINUTES_RANGE[0]), MINUTES_RANGE[1])


def plan_session(
    skills: Mapping[str, SkillState],
    offers: Offers,
    times: Mapping[str, float],
    now: datetime,
    minutes: float,
    rng: random.Random,
    recent: Sequence[str] = (),
    asked: Mapping[str, int] | None = None,
) -> tuple[Item, ...]:
    """The questions that fill ``minutes``, in order; empty when nothing can be asked.

    ``times`` are the learner's own median seconds per kind (the kind's estimate
    serves until they are known). ``now`` is an aware local time. ``recent`` are
    the kinds just asked, the last one last, and ``asked`` how often each skill
    was asked already, when a session runs on.
    """
    pairs = list(offers.pairs)
    rng.shuffle(pairs)
    cost = {
        kind: max(1.0, times.get(kind, facts.seconds)) + REVEAL_S
        for kind, facts in offers.kinds.items()
    }
    budget = minutes * 60.0
    already = Counter(asked or {})
    queue = in_order_of_need(skills, pairs, already, now, cost, budget)
    kinds_running = list(recent[-2:])
    last_region = ""
    used = 0.0
    plan: list[Item] = []
    while pairs:
        if not queue:
            # All that was called for has been asked: the least asked again.
            every = least_asked(skills, pairs, already, now)
            queue = [entry for entry in every if entry[0] == "practice"] or every
        place = _pick(queue, kinds_running, last_region)
        if place is None:
            others = [
                entry
                for entry in least_asked(skills, pairs, already, now)
                if not _third_running(entry[1][0], kinds_running)
            ]
            if others:
                reason, (kind, region) = others[0]
            else:
                # One kind alone can be asked.
                reason, (kind, region) = queue.pop(0)
        else:
            reason, (kind, region) = queue.pop(place)
        if plan and used + cost[kind] / 2 > budget:
            break
        skill = skill_name(kind, region)
        why = why_words(reason, region, skills.get(skill), now)
        plan.append(Item(skill, kind, region, why, reason, cost[kind]))
        used += cost[kind]
        already[skill] += 1
        kinds_running = [*kinds_running, kind][-2:]
        last_region = region
        if used >= budget:
            break
    return tuple(plan)


def _third_running(kind: str, running: Sequence[str]) -> bool:
    return len(running) >= 2 and running[-1] == running[-2] == kind


def _pick(queue: Sequence[Entry], running: Sequence[str], last_region: str) -> int | None:
    """The place in the queue to take from: need first, a better mix within a few places.

    None when every place would be one kind for the third time running.
    """
    allowed = [
        place for place, (_, (kind, _)) in enumerate(queue) if not _third_running(kind, running)
    ]
    if not allowed:
        return None
    first = queue[allowed[0]][0]
    near = [p for p in allowed if p < allowed[0] + LOOK_AHEAD and queue[p][0] == first]
    last_kind = running[-1] if running else ""

    def clash(place: int) -> tuple[int, int]:
        kind, region = queue[place][1]
        return (2 * (region == last_region) + (kind == last_kind), place)

    return min(near, key=clash)
