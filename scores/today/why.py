"""Why each question is asked, in one plain sentence."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from drills.basics.counted import counted
from drills.basics.days import practice_day
from scores.skill.memory import SkillState
from scores.skill.skill_words import ago_words, region_words
from scores.today.need import Need
from scores.today.offers import KindFacts


def why_words(
    need: Need,
    state: SkillState | None,
    facts: KindFacts,
    usual: Mapping[str, float],
    now: datetime,
) -> str:
    """Why an item is asked, in one plain sentence; ``usual`` as from ``usual_steps``."""
    what = region_words(need.region)
    if need.reason == "new" or state is None:
        return f"{what}: new to you here"
    if need.reason == "due":
        if state.last_right is None:
            return f"{what} due: not yet right"
        return f"{what} due: last right {_ago(state.last_right, now)}"
    if need.reason == "weak":
        return f"{what} weak: {_weak_words(state, facts, usual.get(need.kind))}"
    if need.reason == "unsure":
        count = counted(state.tries, "answer")
        return f"{what}: little known yet ({count})"
    seen = f"last met {_ago(state.last_tried, now)}" if state.last_tried else "not met of late"
    return f"{what} once more: {seen}"


def _weak_words(state: SkillState, facts: KindFacts, usual: float | None) -> str:
    if state.threshold is None:
        return f"{round(10 * state.mean_score)} points in 10 of late"
    step = state.threshold.step
    here = measure_words(step, facts.unit)
    coarser = facts.steps[0] > facts.steps[1]
    if usual is not None and (step > usual if coarser else step < usual):
        return f"seen down to {here}, elsewhere to {measure_words(usual, facts.unit)}"
    return f"seen down to {here} so far"


def measure_words(step: float, unit: str) -> str:
    """A step with its unit, to two figures: "ΔL* 4.2", "0.25 wheel steps"."""
    figure = f"{step:.2g}" if step < 10 else f"{step:.0f}"
    if unit.startswith("Δ") or "*" in unit:
        return f"{unit} {figure}"
    return f"{figure} {unit}".strip()


def _ago(moment: datetime, now: datetime) -> str:
    return ago_words(practice_day(moment.astimezone(now.tzinfo)), practice_day(now))


def usual_steps(skills: Mapping[str, SkillState]) -> dict[str, float]:
    """The median threshold of each kind with at least four measured skills."""
    found: dict[str, list[float]] = {}
    for state in skills.values():
        if state.threshold is not None:
            found.setdefault(state.kind, []).append(state.threshold.step)
    return {kind: sorted(s)[len(s) // 2] for kind, s in found.items() if len(s) >= 4}
