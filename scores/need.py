"""What calls for practice, and in what order: due, weak, new, and the rest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Literal

from scores.memory import SkillState, is_due, retrievability
from scores.when import practice_day
from scores.words import ago_words, region_words, skill_name

Reason = Literal["due", "weak", "new", "practice"]
WEAK_SCORE = 0.7
"""A mean score under this is weak: the staircase aims at four right in five."""
WEAK_TRIES = 3
NEW_PER_TEN_MINUTES = 6
"""New skills begun in a session, at most (our choice; a due backlog lowers it)."""


def is_weak(state: SkillState) -> bool:
    """Whether the scores of late lie under what practice aims at."""
    return state.tries >= WEAK_TRIES and state.mean_score < WEAK_SCORE


def why_words(reason: Reason, region: str, state: SkillState | None, now: datetime) -> str:
    """Why an item is asked, in one plain sentence."""
    what = region_words(region)
    if reason == "new":
        return f"{what}: new to you here"
    if state is None:
        return f"{what} once more"
    seen = f"last met {_ago(state.last_tried, now)}" if state.last_tried else "not met yet"
    if reason == "due":
        if state.last_right is None:
            return f"{what} due: not yet right"
        return f"{what} faded: last right {_ago(state.last_right, now)}"
    if reason == "weak":
        return f"{what} weak: {round(10 * state.mean_score)} points in 10 of late"
    return f"{what} once more: {seen}"


def _ago(moment: datetime, now: datetime) -> str:
    return ago_words(practice_day(moment.astimezone(now.tzinfo)), practice_day(now))


Entry = tuple[Reason, tuple[str, str]]


def in_order_of_need(
    skills: Mapping[str, SkillState],
    pairs: Sequence[tuple[str, str]],
    already: Mapping[str, int],
    now: datetime,
    cost: Mapping[str, float],
    budget: float,
) -> list[Entry]:
    """Each skill once: due, weak, new (as many as there is room for), then the rest."""
    due: list[tuple[float, tuple[str, str]]] = []
    weak: list[tuple[float, tuple[str, str]]] = []
    rest: list[tuple[str, str]] = []
    new: list[tuple[str, str]] = []
    for pair in pairs:
        skill = skill_name(*pair)
        state = skills.get(skill)
        if already.get(skill):
            continue
        if state is None or state.tries == 0 or state.due is None:
            new.append(pair)
        elif is_due(state, now):
            due.append((retrievability(state, now), pair))
        elif is_weak(state):
            weak.append((state.mean_score, pair))
        else:
            rest.append(pair)
    # Ties keep the shuffled order: the sort looks at the measure alone.
    due.sort(key=lambda entry: entry[0])
    weak.sort(key=lambda entry: entry[0])
    met = sum(1 for state in skills.values() if state.tries)
    backlog = sum(cost[kind] for _, (kind, _) in due)
    room = max(0.0, 1.0 - backlog / budget) if budget > 0 else 0.0
    quota = len(new)
    if met >= NEW_PER_TEN_MINUTES:
        quota = round(NEW_PER_TEN_MINUTES * budget / 600.0 * room)
    most = int(budget / min(cost.values())) + 1 if cost else 0
    spread = _spread(new, min(quota, most), [skill.partition(":") for skill in skills])
    queue: list[Entry] = [("due", pair) for _, pair in due]
    queue += [("weak", pair) for _, pair in weak]
    queue += [("new", pair) for pair in spread]
    queue += least_asked(skills, rest, already, now)
    return queue


def _spread(
    new: Sequence[tuple[str, str]], count: int, met: Sequence[tuple[str, str, str]]
) -> list[tuple[str, str]]:
    """The new skills to begin with: kinds and regions met least come first."""
    kinds = Counter(kind for kind, _, _ in met)
    regions = Counter(region for _, _, region in met)
    left = list(new)
    chosen: list[tuple[str, str]] = []
    while left and len(chosen) < count:
        best = min(left, key=lambda pair: (kinds[pair[0]], regions[pair[1]]))
        left.remove(best)
        chosen.append(best)
        kinds[best[0]] += 1
        regions[best[1]] += 1
    return chosen


def least_asked(
    skills: Mapping[str, SkillState],
    pairs: Sequence[tuple[str, str]],
    already: Mapping[str, int],
    now: datetime,
) -> list[Entry]:
    """Skills to practise although nothing calls for it: least asked, likeliest forgotten, weakest.

    Skills never met come last, as new ones: they stand here only when nothing else is left.
    """

    def need(pair: tuple[str, str]) -> tuple[bool, int, float, float]:
        skill = skill_name(*pair)
        state = skills.get(skill)
        if state is None:
            return (not already.get(skill), already.get(skill, 0), 0.0, 0.0)
        return (False, already.get(skill, 0), retrievability(state, now), state.mean_score)

    ordered = sorted(pairs, key=need)
    return [
        ("practice" if skill_name(*p) in skills or already.get(skill_name(*p)) else "new", p)
        for p in ordered
    ]
