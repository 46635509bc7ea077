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
from typing import Literal

from scores.jsons import JSON
from scores.memory import SkillState, is_due, retrievability
from scores.offers import Offers
from scores.when import practice_day
from scores.words import ago_words, region_words, skill_name

Reason = Literal["due", "weak", "new", "practice"]

REVEAL_S = 6.0
"""Seconds a learner reads the reveal (our estimate)."""
WEAK_SCORE = 0.7
"""A mean score under this is weak: the staircase aims at four right in five."""
WEAK_TRIES = 3
NEW_PER_TEN_MINUTES = 6
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
    queue = _in_order_of_need(skills, pairs, already, now, cost, budget)
    kinds_running = list(recent[-2:])
    last_region = ""
    used = 0.0
    plan: list[Item] = []
    while pairs:
        if not queue:
            # All that was called for has been asked: the least asked again.
            every = _again(skills, pairs, already, now)
            queue = [entry for entry in every if entry[0] == "practice"] or every
        place = _pick(queue, kinds_running, last_region)
        if place is None:
            again = [
                entry
                for entry in _again(skills, pairs, already, now)
                if not _third_running(entry[1][0], kinds_running)
            ]
            if again:
                reason, (kind, region) = again[0]
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


Entry = tuple[Reason, tuple[str, str]]


def _in_order_of_need(
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
    queue += _again(skills, rest, already, now)
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


def _again(
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
