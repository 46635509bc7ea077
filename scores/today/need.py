"""What calls for practice: one figure a skill, and why.

A skill's need is what one more answer is thought to gain, for its time:

    weakness × (1 − built × held) / seconds^0.7

built
    1 − e^(−n/12), n being the answers of late: each answer builds a share of what
    is left, so that practice gains less the more there was, and what had none for
    long comes up again.
held
    the share of it that the memory still holds: the retrievability, counted so that
    on the day a skill is due, ``HELD_WHEN_DUE`` is left. The desired retention says
    when that is.
weakness
    grows as the level lies lower under the target. The level is where the measured
    threshold lies between the kind's easiest step (0) and its hardest (1), less a
    share of its standard deviation, so that a skill little known is looked into. A
    skill never met stands where its kind does. The lowest eighth count more again.

Every constant is our estimate; those marked "tuned" were set on the simulated
learners of ``tests/bench/schedule/learners.py`` called "consolidating".
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from datetime import date, datetime
from typing import Literal, NamedTuple

from drills.basics.days import practice_day
from scores.skill.memory import DESIRED_RETENTION, SkillState, is_due_on, retrievability_on
from scores.skill.skill_words import skill_name
from scores.today.offers import Offers

Reason = Literal["due", "weak", "new", "unsure", "practice"]

TARGET = 1.0
"""The level practice aims at, unless a setting says otherwise: the kind's hardest step."""
PER_LEVEL = 0.05
"""How much more a skill counts a whole level under the target (tuned)."""
DOUBT = 0.5
"""Standard deviations taken from the level of a skill (tuned)."""
LOWEST_SHARE, LOWEST = 1 / 8, 1.3
"""Share of the skills that count as the weakest, and times that they count more (tuned)."""
APART = 0.02
"""Levels under the middle skill from which one can count as weak."""
COST_POWER = 0.7
"""Power of the seconds: time counts, but a slow kind is not starved for it (tuned)."""
BUILDS = 12.0
"""Answers of late that build all but a share 1/e (tuned)."""
HELD_WHEN_DUE = 0.9
"""Share of what was built that counts as held on the day a skill is due (tuned)."""
NEWCOMER = 0.35
"""The level of a skill never met, in a kind never met (``scores.skill.model.settings``)."""
NEWCOMER_WEIGHT = 0.5
"""How much that counts against one skill met of the kind."""
NEWCOMER_SD = 0.2
"""Standard deviation, in levels, of what is known of a skill never met."""
UNMEASURED_ANSWERS = 24
"""Answers a skill that can't be measured counts at most as its practice of late."""

NEW_PER_TEN_MINUTES = 12
"""New skills begun in ten minutes, at most, once the first two sessions are over."""
FIRST_SKILLS = 40
"""Skills to meet before that, so that a newcomer is placed in about two sessions."""
NEW_LEAST = 1 / 3
"""Share of that number left, however much is due."""

WEAK_SCORE = 0.7
"""A mean score under this is weak where no threshold can be measured."""
WEAK_TRIES = 3
UNSURE_ANSWERS = 4
"""Answers of late under which a threshold counts as not yet known."""


class Need(NamedTuple):
    """How much a skill calls for practice, and why; ``value`` compares with other needs only."""

    value: float
    reason: Reason
    skill: str
    kind: str
    region: str


class SkillStanding(NamedTuple):
    """Where a skill stands: level, its standard deviation, and answers of late."""

    level: float
    sd: float
    late: float


def standings(skills: Mapping[str, SkillState], offers: Offers) -> dict[str, SkillStanding]:
    """Where every skill that can be asked stands; those never met where their kind does."""
    made: dict[str, SkillStanding] = {}
    by_kind: dict[str, list[float]] = {}
    for skill in offers.skills:
        state = skills.get(skill)
        if state is None or not state.tries:
            continue
        known = state.threshold
        if known is None:
            late = float(min(state.tries, UNMEASURED_ANSWERS))
            made[skill] = SkillStanding(state.mean_score, 0.0, late)
        else:
            made[skill] = SkillStanding(known.level, known.level_sd, known.late)
        by_kind.setdefault(state.kind, []).append(made[skill].level)
    for kind, region in offers.pairs:
        met = by_kind.get(kind, [])
        level = (sum(met) + NEWCOMER_WEIGHT * NEWCOMER) / (len(met) + NEWCOMER_WEIGHT)
        made.setdefault(skill_name(kind, region), SkillStanding(level, NEWCOMER_SD, 0.0))
    return made


def needs(
    skills: Mapping[str, SkillState],
    offers: Offers,
    cost: Mapping[str, float],
    now: datetime,
    retention: float = DESIRED_RETENTION,
    target: float = TARGET,
) -> list[Need]:
    """Every skill that can be asked, in the order of the offers. ``cost`` is seconds by kind."""
    day = practice_day(now)
    stand = standings(skills, offers)
    lowest = _lowest(stand, target)
    levels = sorted(here.level for here in stand.values())
    middle = levels[len(levels) // 2] if levels else 0.0
    made = []
    for kind, region in offers.pairs:
        skill = skill_name(kind, region)
        state, here = skills.get(skill), stand[skill]
        weakness = 1.0 + PER_LEVEL * max(0.0, target - here.level + DOUBT * here.sd)
        if skill in lowest:
            weakness *= LOWEST
        built = 1.0 - math.exp(-here.late / BUILDS)
        gain = 1.0 - built * _held(state, day, retention)
        behind = skill in lowest and here.level + here.sd / 2 < middle
        reason = _reason(state, here, behind, day)
        value = weakness * gain / cost[kind] ** COST_POWER
        made.append(Need(value, reason, skill, kind, region))
    return made


def _held(state: SkillState | None, day: date, retention: float) -> float:
    if state is None or not state.tries:
        return 0.0
    if is_due_on(state, day) and state.reviewed is not None and state.reviewed > day:
        # Dated ahead by a clock that was wrong: its memory says nothing.
        return 0.0
    left = retrievability_on(state, day)
    return float(left ** (math.log(HELD_WHEN_DUE) / math.log(retention)))


def _lowest(stand: Mapping[str, SkillStanding], target: float) -> Collection[str]:
    """The weakest skills, as far as they lie under the target and under the middle one."""
    held_low = {skill: here.level - DOUBT * here.sd for skill, here in stand.items()}
    ordered = sorted(held_low, key=lambda skill: (held_low[skill], skill))
    if not ordered:
        return ()
    bound = held_low[ordered[len(ordered) // 2]] - APART
    return {
        skill
        for skill in ordered[: round(LOWEST_SHARE * len(ordered))]
        if stand[skill].level < target and held_low[skill] < bound
    }


def _reason(state: SkillState | None, here: SkillStanding, behind: bool, day: date) -> Reason:
    if state is None or not state.tries:
        return "new"
    if state.tries >= WEAK_TRIES:
        struggling = state.threshold is None and state.mean_score < WEAK_SCORE
        if struggling or (behind and state.threshold is not None):
            return "weak"
    if is_due_on(state, day):
        return "due"
    unsure = state.threshold is not None and here.late < UNSURE_ANSWERS
    return "unsure" if unsure else "practice"


def new_quota(
    skills: Mapping[str, SkillState],
    offers: Offers,
    cost: Mapping[str, float],
    now: datetime,
    budget: float,
) -> int:
    """How many new skills ``budget`` seconds may begin: the fewer, the more is due."""
    states = [skills[skill] for skill in offers.skills if skill in skills]
    if len(states) < FIRST_SKILLS:
        return len(offers.pairs)
    day = practice_day(now)
    due = sum(cost[state.kind] for state in states if is_due_on(state, day))
    room = max(NEW_LEAST, 1.0 - due / budget) if budget > 0 else NEW_LEAST
    return max(1, round(NEW_PER_TEN_MINUTES * budget / 600.0 * room))
