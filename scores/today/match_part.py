"""The match of a day: a family taken from its hue to the laid pencils, step by step.

On short days its steps are spread over the next ones: each comes again once in ten minutes of
practice, the laying oftener.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from drills.basics.days import practice_day
from scores.skill.memory import SkillState
from scores.skill.skill_words import skill_name
from scores.today.need import Need
from scores.today.offers import Offers
from scores.today.shares import (
    AGAIN_S,
    BLOCK,
    CRAFT,
    LAYING_EVERY_S,
    MATCH,
    MATCH_EVERY_S,
    MOST_CRAFT,
    STEPS,
    USUAL,
    WISHED,
)

Part = Literal["", "warm-up", "focus", "mixed", "match"]


@dataclass(frozen=True)
class Asked:
    """One question of the day: its need, its part, and the proportion right it is asked for."""

    need: Need
    part: Part
    aim: float


class MatchPart:
    """What a day begins from, and the match that is made of it.

    ``budget`` is in seconds. ``last`` is each kind's last day, ``days`` those practised, as far
    as the skills tell; ``wished`` are the families of colours the learner can't get.
    """

    def __init__(
        self,
        skills: Mapping[str, SkillState],
        offers: Offers,
        calls: Sequence[Need],
        cost: Mapping[str, float],
        now: datetime,
        budget: float,
        rng: random.Random,
        wished: Collection[str] = (),
    ) -> None:
        self.skills, self.offers, self.cost, self.now = skills, offers, cost, now
        self.budget, self.rng, self.wished = budget, rng, wished
        self.calls = {need.skill: need for need in calls}
        self.by_kind: dict[str, list[Need]] = {}
        for need in calls:
            self.by_kind.setdefault(need.kind, []).append(need)
        self.last: dict[str, date] = {}
        self.days: set[date] = set()
        for state in skills.values():
            if state.last_tried is not None:
                day = practice_day(state.last_tried.astimezone(now.tzinfo))
                self.last[state.kind] = max(day, self.last.get(state.kind, day))
                self.days.add(day)
            if state.last_right is not None:
                # A day may be known by what was right then and wrong since.
                self.days.add(practice_day(state.last_right.astimezone(now.tzinfo)))

    def taken(self, some: Sequence[Asked]) -> float:
        """Seconds."""
        return sum(self.cost[one.need.kind] for one in some)

    def match(self) -> list[Asked]:
        """Families taken from their hue to the laid pencils, as many as the time brings."""
        count = max(1, round(self.budget / MATCH_EVERY_S))
        made: list[Asked] = []
        for region in self._to_match(count):
            made += self._one_match(region, MATCH * self.budget / count)
        return made

    def _to_match(self, count: int, kind: str = STEPS[-1]) -> list[str]:
        """The families that call for it most, of those that ``kind`` can be asked of."""
        laid = self.by_kind.get(kind, self.by_kind.get(STEPS[-2], []))

        def call(need: Need) -> float:
            steps = [self.calls.get(skill_name(kind, need.region)) for kind in STEPS]
            each = [one.value * self._per_answer(one.kind) for one in steps if one is not None]
            wished = WISHED if need.region in self.wished else 1.0
            return wished * sum(each) * self.rng.lognormvariate(0.0, 0.15)

        ordered = sorted(laid, key=call, reverse=True)
        return [need.region for need in ordered[:count]]

    def _per_answer(self, kind: str) -> float:
        """What brings a need, which is for its time, back to what one answer gains."""
        return float(self.cost[kind] ** 0.7)

    def _one_match(self, region: str, seconds: float) -> list[Asked]:
        """The steps in order; where they don't fit, the laying first, then as they come."""
        steps = [need for kind in STEPS if (need := self._step(kind, region)) is not None]
        chosen: list[Need] = []
        used = 0.0
        turn = practice_day(self.now).toordinal() % max(len(steps) - 1, 1)
        others = steps[:-1]
        for need in [*steps[-1:], *others[turn:], *others[:turn]]:
            if not chosen or used + self.cost[need.kind] <= seconds:
                chosen.append(need)
                used += self.cost[need.kind]
        return [Asked(need, "match", USUAL) for need in steps if need in chosen]

    def _step(self, kind: str, region: str) -> Need | None:
        """The need of a kind in a region; where it has none there, its greatest."""
        here = self.calls.get(skill_name(kind, region))
        return here or max(self.by_kind.get(kind, []), key=lambda n: n.value, default=None)

    def steps_owed(self, kept_s: float = 0.0) -> list[Asked]:
        """Of a match spread over short days, the steps whose turn it is, on one family.

        ``kept_s`` are seconds that are kept from it.
        """
        owed = [kind for kind in STEPS if self._turn_of(kind)]
        if not owed:
            return []
        region = self._to_match(1, owed[-1])
        steps = [self._step(kind, region[0]) for kind in owed] if region else []
        return self._fitting([need for need in steps if need is not None], kept_s)

    def _turn_of(self, kind: str) -> bool:
        """Whether a kind must come today, to come once in each ten minutes of practice."""
        since = self.days_since(kind)
        every = LAYING_EVERY_S if kind == STEPS[-1] else MATCH_EVERY_S
        return since is None or (since + 1) * self.budget >= BLOCK * every

    def days_since(self, kind: str) -> int | None:
        """Practised days since a kind was last asked; None where it never was."""
        last = self.last.get(kind)
        return None if last is None else sum(day > last for day in self.days)

    def waited(self, kind: str) -> tuple[float, float]:
        """Sorts kinds: those that waited longest first, of alike ones the quick first."""
        since = self.days_since(kind)
        return (-float("inf") if since is None else -since, self.cost[kind])

    def _fitting(self, needs: Sequence[Need], kept_s: float) -> list[Asked]:
        """Those that fit in a match's share of the time, the first at least; the rest wait."""
        chosen: list[Need] = []
        most = MATCH * self.budget
        for need in sorted(needs, key=lambda need: self.waited(need.kind)):
            taken = sum(self.cost[one.kind] for one in chosen) + self.cost[need.kind]
            if not chosen or taken <= min(most, self.budget - kept_s):
                chosen.append(need)
        return [Asked(need, "match", USUAL) for need in needs if need in chosen]

    def laid_again(self, match: Sequence[Asked]) -> list[Asked]:
        """Layings of other families that were laid before, so that they hold, as far as there is
        time for them."""
        left = MOST_CRAFT * self.budget
        left -= self.taken([one for one in match if one.need.kind in CRAFT])
        room = int(max(0.0, left) / self.cost.get(STEPS[-1], AGAIN_S))
        count = min(int(self.budget / AGAIN_S), room)
        today = {one.need.region for one in match}
        laid = [need for need in self.by_kind.get(STEPS[-1], []) if need.region not in today]
        laid = [need for need in laid if need.skill in self.skills]
        laid.sort(key=lambda need: -need.value)
        return [Asked(need, "mixed", USUAL) for need in laid[:count]]
