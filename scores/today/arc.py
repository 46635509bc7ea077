"""The day's practice as the craft in small: warm-up, one focus, what is due, one whole match.

Ten minutes are a warm-up of sure things, one focus in which like stands beside like
(interleaving helps where alike things follow one another: Kang & Pashler 2012, on painters'
styles; Birnbaum, Kornell, Bjork & Bjork 2013), what else calls for practice, and one colour
family taken from its hue to the laid pencils. Shorter and longer sessions scale; of twenty
minutes the last part is two matches, and so on.

The shares and weights are our estimates; ``python -m tests.bench schedule`` holds the whole
to simulated learners.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from drills.basics.days import practice_day
from scores.skill.memory import SkillState
from scores.skill.skill_words import WHEEL, skill_name
from scores.today.mix import Mix, kinds_owed
from scores.today.need import Need, new_quota
from scores.today.offers import Offers

Part = Literal["", "warm-up", "focus", "mixed", "match"]

STEPS = (
    "hue-and-lean",
    "nearest-start",
    "lighter-or-darker",
    "mute-with-complement",
    "order-of-layers",
    "make-the-match",
)
"""The drills that take a colour from its hue to the laid pencils, in the order of the work."""
CRAFT = frozenset(
    {"nearest-start", "mute-with-complement", "order-of-layers", "make-the-match", "what-is-off"}
)
"""The craft's own steps."""
CRAFT_SHARE = 0.42
"""Share of the time that they get at least, as far as questions divide it."""
WARM_UP, MATCH, SPARE = 0.08, 0.5, 0.04
"""Shares of the time: the warm-up's, the most a match takes, and what is left for a step that
goes wrong."""
FOCUS = 0.5
"""The focus's share of what is then left."""
MATCH_EVERY_S = 600.0
"""Seconds of practice that bring one whole match."""
WORTH: Mapping[str, float] = {
    **dict.fromkeys(("nearest-start", "mute-with-complement", "what-is-off"), 1.25),
    **dict.fromkeys(("lighter-or-darker", "hue-and-lean"), 1.15),
    **dict.fromkeys(("surround-lies", "hold-in-mind", "through-the-cast"), 0.7),
}
"""What a focus on a drill is thought to do for matching; 1 for those not named."""
FIRST_RUN, LEAST_RUN, MOST_FOCUS = 5, 3, 12
"""Questions of a focus: fewer make no run, more tire."""
SURE, USUAL = 0.9, 0.8
"""Proportion right that a warm-up, and any other question, is asked for."""
FIRST_DAY = ("hue-and-lean", "lighter-or-darker", "nearest-start", "make-the-match")
"""The drills of a first session."""
AWAY_DAYS, AWAY_SHARE = 14, 0.6
"""Days away after which the first session is short, by this share, and sure."""


@dataclass(frozen=True)
class Asked:
    """One question of the day: its need, its part, and the proportion right it is asked for."""

    need: Need
    part: Part
    aim: float


def day_arc(
    skills: Mapping[str, SkillState],
    offers: Offers,
    calls: Sequence[Need],
    cost: Mapping[str, float],
    now: datetime,
    seconds: float,
    rng: random.Random,
) -> list[Asked]:
    """The day's questions in order; empty when nothing can be asked.

    ``calls`` are the needs of all that can be asked, ``cost`` seconds by kind.
    """
    if not calls:
        return []
    day = practice_day(now)
    tried = [s.last_tried for s in skills.values() if s.last_tried is not None]
    last = max((practice_day(at.astimezone(now.tzinfo)) for at in tried), default=None)
    away = last is not None and (day - last).days >= AWAY_DAYS
    budget = seconds * (AWAY_SHARE if away else 1.0)
    arc = _Arc(skills, offers, calls, cost, now, budget, rng)
    if last is None:
        made = arc.first_day()
    else:
        match = arc.match()
        left = budget * (1.0 - WARM_UP - SPARE) - arc.taken(match)
        focus = arc.focus(left * FOCUS)
        mixed = arc.mixed(left - arc.taken(focus), [*match, *focus])
        made = [*arc.warm_up(), *focus, *mixed, *match]
    made = made or arc.mixed(budget, [])
    return [Asked(one.need, one.part, SURE) for one in made] if away else made


class _Arc:
    def __init__(
        self,
        skills: Mapping[str, SkillState],
        offers: Offers,
        calls: Sequence[Need],
        cost: Mapping[str, float],
        now: datetime,
        budget: float,
        rng: random.Random,
    ) -> None:
        self.skills, self.offers, self.cost, self.now = skills, offers, cost, now
        self.budget, self.rng = budget, rng
        self.calls = {need.skill: need for need in calls}
        self.by_kind: dict[str, list[Need]] = {}
        for need in calls:
            self.by_kind.setdefault(need.kind, []).append(need)

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

    def _to_match(self, count: int) -> list[str]:
        """The families that call for it most, of those that the laying can be asked of."""
        laid = self.by_kind.get(STEPS[-1], self.by_kind.get(STEPS[-2], []))

        def call(need: Need) -> float:
            steps = [self.calls.get(skill_name(kind, need.region)) for kind in STEPS]
            each = [one.value * self._per_answer(one.kind) for one in steps if one is not None]
            return sum(each) * self.rng.lognormvariate(0.0, 0.15)

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

    def focus(self, seconds: float) -> list[Asked]:
        """One drill in a run of neighbours on the wheel, or of its own regions."""
        best: tuple[float, str] | None = None
        for kind, some in self.by_kind.items():
            facts = self.offers.kinds[kind]
            if not facts.of_the_eye or kind == STEPS[-1]:
                continue
            if self.cost[kind] * LEAST_RUN > seconds:
                continue
            top = sorted((need.value for need in some), reverse=True)[:3]
            gain = sum(top) / len(top) * self._per_answer(kind) * WORTH.get(kind, 1.0)
            gain *= self.rng.lognormvariate(0.0, 0.1)
            if best is None or gain > best[0]:
                best = gain, kind
        if best is None:
            return []
        kind = best[1]
        count = min(MOST_FOCUS, max(LEAST_RUN, int(seconds / self.cost[kind])))
        return [Asked(need, "focus", USUAL) for need in self._run(kind, count)]

    def _run(self, kind: str, count: int) -> list[Need]:
        """Runs of like beside like: a needy region, the one beside it, it again, its other side."""
        left = sorted(self.by_kind[kind], key=lambda need: -need.value)
        run: list[Need] = []
        while left and len(run) < count:
            first = left.pop(0)
            beside = self._beside(first, self.by_kind[kind])
            left = [need for need in left if need not in beside]
            some = [first, beside[0], first, beside[-1]] if beside else [first] * LEAST_RUN
            run += some
        return run[:count]

    def _beside(self, first: Need, some: Sequence[Need]) -> list[Need]:
        """The needs of the regions beside one; of two others where it is not on the wheel."""
        if first.region not in WHEEL:
            return sorted((n for n in some if n is not first), key=lambda n: -n.value)[:2]
        place = WHEEL.index(first.region)
        near = [WHEEL[(place + turn) % 12] for turn in (1, -1)]
        return [need for region in near for need in some if need.region == region]

    def mixed(self, seconds: float, planned: Sequence[Asked]) -> list[Asked]:
        """What calls for practice most, the craft's own steps keeping their share."""
        asked = {one.need.skill: 0 for one in planned}
        for one in planned:
            asked[one.need.skill] += 1
        owed = kinds_owed(self.skills, self.offers, self.now) - {one.need.kind for one in planned}
        mix = Mix(list(self.calls.values()), self.offers, self.rng, (), asked, owed)
        new = new_quota(self.skills, self.offers, self.cost, self.now, self.budget)
        craft = self.taken([one for one in planned if one.need.kind in CRAFT])
        made: list[Asked] = []
        used = 0.0
        while True:
            wanting = craft < CRAFT_SHARE * self.budget
            need = mix.best(new > 0, CRAFT if wanting else None) or mix.best(new > 0)
            if need is None or used + self.cost[need.kind] / 2 > seconds:
                return made
            new -= need.reason == "new" and not mix.asked[need.skill]
            mix.take(need)
            used += self.cost[need.kind]
            craft += self.cost[need.kind] if need.kind in CRAFT else 0.0
            made.append(Asked(need, "mixed", USUAL))

    def warm_up(self) -> list[Asked]:
        """Quick things that are held best."""
        quick = sorted({self.cost[need.kind] for need in self.calls.values()})
        bound = quick[len(quick) // 2] if quick else 0.0
        sure = [
            need
            for need in self.calls.values()
            if self.cost[need.kind] <= bound
            and (state := self.skills.get(need.skill)) is not None
            and state.threshold is not None
        ]
        sure.sort(key=lambda need: need.value)
        made: list[Asked] = []
        for need in sure:
            if any(one.need.kind == need.kind for one in made):
                continue
            if made and self.taken(made) + self.cost[need.kind] > WARM_UP * self.budget:
                break
            made.append(Asked(need, "warm-up", SURE))
        return made

    def first_day(self) -> list[Asked]:
        """Four drills, easy at first, and a first match as often as the time allows."""
        kinds = [kind for kind in FIRST_DAY if kind in self.by_kind]
        if len(kinds) < 2:
            return []
        laying = kinds[-1]
        count = max(1, round(self.budget / MATCH_EVERY_S))
        left = self.budget - count * self.cost[laying]
        queues = {kind: list(self.by_kind[kind]) for kind in (*kinds[:-1], laying)}
        for queue in queues.values():
            self.rng.shuffle(queue)
        made: list[Asked] = []
        while left > 0 and any(queues[kind] for kind in kinds[:-1]):
            part: Part = "mixed" if made else "warm-up"
            for kind in kinds[:-1]:
                many = FIRST_RUN if part == "warm-up" else LEAST_RUN
                some, queues[kind] = queues[kind][:many], queues[kind][many:]
                aim = SURE if part == "warm-up" else USUAL
                made += [Asked(need, part, aim) for need in some]
                left -= len(some) * self.cost[kind]
                part = "mixed"
                if left <= 0:
                    break
        return [*made, *(Asked(need, "match", SURE) for need in queues[laying][:count])]
