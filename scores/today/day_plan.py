"""Today's practice: what to ask, in what order, and why.

What is asked next is what calls for it most (``scores.today.need``: forgotten, weak,
little known or new, for its time), as far as a good mix allows;
see ``scores.today.mix``. Response times sequence the skills too, by way of the memory: a
slow right answer is shaky and comes back sooner, a quick one later
(``scores.skill.outcome``; compare Mettler & Kellman 2014).
"""

from __future__ import annotations

import random
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from statistics import median
from typing import NamedTuple

from drills.basics.json_values import JSON
from scores.skill.memory import DESIRED_RETENTION, RETENTION_RANGE, SkillState
from scores.skill.skill_words import region_words
from scores.today.arc import day_arc
from scores.today.match_part import Part
from scores.today.mix import Mix, kinds_owed
from scores.today.need import TARGET, Reason, needs, new_quota
from scores.today.offers import Offers
from scores.today.shares import USUAL
from scores.today.why import usual_steps, why_words

REVEAL_S = 6.0
"""Seconds a learner reads the reveal (our estimate)."""
MINUTES_RANGE = (2.0, 60.0)
DEFAULT_MINUTES = 10.0
TARGET_RANGE = (0.3, 1.0)
LATE_S = 6.0
"""Seconds by which a last question may be expected to end late, where a quicker one is to be had;
our estimate."""
OWN = ""
"""The source of an item that the learner's own skills call for."""


@dataclass(frozen=True)
class Item:
    """One question to come. ``why`` is one plain sentence; ``seconds`` what it will take.

    ``source`` names what asks it, as the record keeps it: the learner's own skills
    (``OWN``), a deck by its fingerprint, a re-test. ``part`` is its part of the day's arc,
    ``aim`` the proportion right it is asked for. ``example_s`` are the seconds, of those, for a
    solved one before it (``scores.today.examples``); 0 where there is none.
    """

    skill: str
    kind: str
    region: str
    why: str
    reason: Reason
    seconds: float
    source: str = OWN
    part: Part = ""
    aim: float = USUAL
    example_s: float = 0.0

    @property
    def subject(self) -> tuple[str, ...]:
        """What it asks about; refused once, it is not asked again in the same session."""
        return (self.source, self.skill)


def _number(value: JSON, usual: float, bounds: tuple[float, float]) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or value != value:
        return usual
    return min(max(float(value), bounds[0]), bounds[1])


def minutes_of(settings: Mapping[str, JSON]) -> float:
    """The session's length from the settings, 2–60 minutes; 10 unless set."""
    return _number(settings.get("minutes"), DEFAULT_MINUTES, MINUTES_RANGE)


LATE_SESSIONS, FEWEST_SESSIONS, BROKEN_OFF = 5, 3, 0.7
"""Sessions of late that tell how long a learner really stays, the fewest of them, and the share
of the minutes set under which they count as broken off."""


def minutes_to_plan(minutes: float, sessions: Sequence[float]) -> float:
    """The minutes that a day's arc is laid for: those set, or fewer where a learner stops sooner.

    A match at the end of ten minutes never comes to who always leaves after four.
    ``sessions`` are seconds, the latest last.
    """
    late = sessions[-LATE_SESSIONS:]
    if len(late) < FEWEST_SESSIONS:
        return minutes
    usual = median(late) / 60.0
    return max(MINUTES_RANGE[0], usual) if usual < BROKEN_OFF * minutes else minutes


class Aims(NamedTuple):
    """What practice is for: the proportion to be still held on the day a skill is due, and
    the level (0 the kind's easiest step, 1 its hardest) under which a skill is weak."""

    retention: float = DESIRED_RETENTION
    target: float = TARGET


def aims_of(settings: Mapping[str, JSON]) -> Aims:
    """The aims from the settings ``desired_retention`` (0.7–0.97) and ``target_level`` (0.3–1)."""
    return Aims(
        _number(settings.get("desired_retention"), DESIRED_RETENTION, RETENTION_RANGE),
        _number(settings.get("target_level"), TARGET, TARGET_RANGE),
    )


def plan_day(
    skills: Mapping[str, SkillState],
    offers: Offers,
    times: Mapping[str, float],
    now: datetime,
    minutes: float,
    rng: random.Random,
    aims: Aims | None = None,
    reveal_s: float = REVEAL_S,
    wished: Collection[str] = (),
) -> tuple[Item, ...]:
    """The day's arc (``scores.today.arc``) as items, in order; empty when nothing can be asked.

    ``times`` are the learner's own median seconds per kind, ``reveal_s`` to read a reveal,
    ``wished`` the families of colours the learner can't get.
    ``now`` is an aware local time.
    """
    cost = _cost(offers, times, reveal_s)
    calls = needs(skills, offers, cost, now, *(aims or Aims()))
    usual = usual_steps(skills)
    seen: set[str] = set()
    plan: list[Item] = []
    for one in day_arc(skills, offers, calls, cost, now, minutes * 60.0, rng, wished):
        need = one.need
        again = need.skill in seen
        seen.add(need.skill)
        why = (
            f"{region_words(need.region)} once more today"
            if again
            else why_words(need, skills.get(need.skill), offers.kinds[need.kind], usual, now)
        )
        reason: Reason = "practice" if again else need.reason
        seconds = cost[need.kind]
        item = Item(need.skill, need.kind, need.region, why, reason, seconds)
        plan.append(replace(item, part=one.part, aim=one.aim))
    return tuple(plan)


def _cost(offers: Offers, times: Mapping[str, float], reveal_s: float) -> dict[str, float]:
    """Seconds that a question of each kind takes, its reveal read."""
    return {
        kind: max(1.0, times.get(kind, facts.seconds)) + reveal_s
        for kind, facts in offers.kinds.items()
    }


def too_slow(
    offers: Offers, times: Mapping[str, float], seconds: float, reveal_s: float = REVEAL_S
) -> frozenset[str]:
    """The kinds that would end too late where so many seconds are left; none where all would."""
    cost = _cost(offers, times, reveal_s)
    slow = frozenset(kind for kind, takes in cost.items() if takes > seconds + LATE_S)
    return frozenset() if slow >= {kind for kind, _ in offers.pairs} else slow


def plan_session(
    skills: Mapping[str, SkillState],
    offers: Offers,
    times: Mapping[str, float],
    now: datetime,
    minutes: float,
    rng: random.Random,
    recent: Sequence[str] = (),
    asked: Mapping[str, int] | None = None,
    aims: Aims | None = None,
    reveal_s: float = REVEAL_S,
) -> tuple[Item, ...]:
    """The questions that fill ``minutes``, in order; empty when nothing can be asked.

    ``times`` are the learner's own median seconds per kind (the kind's estimate
    serves until they are known). ``now`` is an aware local time. ``recent`` are
    the kinds just asked, the last one last, and ``asked`` how often each skill
    was asked already, when a session runs on. ``aims`` are the learner's settings.
    """
    cost = _cost(offers, times, reveal_s)
    budget = minutes * 60.0
    calls = needs(skills, offers, cost, now, *(aims or Aims()))
    mix = Mix(calls, offers, rng, recent, asked or {}, kinds_owed(skills, offers, now))
    new = new_quota(skills, offers, cost, now, budget)
    usual = usual_steps(skills)
    plan: list[Item] = []
    used = 0.0
    while (need := mix.best(new > 0)) is not None:
        seconds = cost[need.kind]
        if plan and used + seconds / 2 > budget:
            break
        again = bool(mix.asked[need.skill])
        reason: Reason = "practice" if again else need.reason
        why = (
            f"{region_words(need.region)} once more today"
            if again
            else why_words(need, skills.get(need.skill), offers.kinds[need.kind], usual, now)
        )
        plan.append(Item(need.skill, need.kind, need.region, why, reason, seconds))
        mix.take(need)
        used += seconds
        new -= reason == "new"
        if used >= budget:
            break
    return tuple(plan)
