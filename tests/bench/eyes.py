"""Learners of another make than the model's, for the proof of ``scores.skill.model``.

An ``Eye`` has a true log10 threshold for each of some 150 skills. Levels (kind's easiest
step 0, hardest 1) are drawn by person, kind, family and skill; they move as ``course``
says, and every threshold of a day is shifted by the day's mood, an AR(1) series. Its
answers are thrown from a **logistic** function of the log step, right 0.8 of the time at
the threshold but for lapses, with a slope for each skill:

    ψ(x) = λγ + (1 − λ)(γ + (1 − γ) / (1 + exp(−b (x − θ) − logit q))),  q = (0.8 − γ)/(1 − γ)

None of this is the model's: that has Weibull functions, linear trends and random walks.
All numbers are our estimates.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field

from scores.skill.model.layout import Layout, layout_of
from scores.skill.skill_words import WHEEL

KINDS: dict[str, tuple[tuple[float, float], float, float, int]] = {
    "brighter-or-duller": ((25.0, 2.0), 0.5, 7.0, 12),
    "evenly-between": ((0.75, 0.12), 0.25, 12.0, 12),
    "grey-lean": ((7.0, 1.0), 1 / 6, 10.0, 3),
    "hold-in-mind": ((14.0, 1.5), 0.25, 13.0, 12),
    "hue-and-lean": ((0.5, 0.04), 0.2, 14.0, 12),
    "lighter-or-darker": ((20.0, 0.8), 0.5, 7.0, 12),
    "make-the-match": ((8.0, 1.5), 0.02, 60.0, 12),
    "mute-with-complement": ((6.0, 1.0), 0.25, 20.0, 12),
    "nearest-start": ((3.0, 0.25), 0.25, 12.0, 12),
    "order-of-layers": ((5.0, 1.0), 1 / 6, 20.0, 12),
    "surround-lies": ((12.0, 1.0), 1 / 3, 8.0, 13),
    "through-the-cast": ((0.85, 0.1), 0.2, 14.0, 12),
    "value-order": ((12.0, 1.5), 1 / 120, 25.0, 3),
    "what-is-off": ((12.0, 1.0), 1 / 6, 15.0, 12),
}
"""Each kind's (easiest, hardest) step, chance, usual seconds and regions."""
REVEAL_S = 6.0
SITTING_S = 600.0
FIRST = 740_000
"""The ordinal of day 0."""


def regions(count: int) -> tuple[str, ...]:
    """So many regions: the wheel's families, and a grey; or three of their own."""
    return (*WHEEL, "grey")[:count] if count >= len(WHEEL) else ("light", "middle", "dark")


def whole_layout() -> Layout:
    """All that the eyes can be asked: 151 skills."""
    kinds = {name: (steps, chance) for name, (steps, chance, *_) in KINDS.items()}
    pairs = [f"{name}:{region}" for name, row in KINDS.items() for region in regions(row[3])]
    return layout_of(kinds, pairs)


@dataclass
class Eye:
    """One learner. ``change`` is the log10 of now over then, fully reached.

    ``course`` gives the share of it reached on a day (0 to 1). ``level`` fixes the
    person's level; ``mood`` and ``tied`` are the days' spread (log10) and correlation.
    """

    seed: int
    change: float = 0.0
    course: Callable[[float], float] = lambda day: 0.0
    level: float | None = None
    mood: float = 0.06
    tied: float = 0.8
    uneven: float = 0.0
    lapse: float | None = None
    layout: Layout = field(default_factory=whole_layout)

    def __post_init__(self) -> None:
        rng = self.rng = random.Random(f"eye/{self.seed}")
        person = rng.gauss(0.30, 0.10) if self.level is None else self.level
        self.lapses = rng.uniform(0.01, 0.08) if self.lapse is None else self.lapse
        by_family = {family: rng.gauss(0.0, 0.06) for family in self.layout.families}
        by_kind = {kind.name: rng.gauss(0.0, 0.10) for kind in self.layout.kinds}
        self.start: list[float] = []
        self.slope: list[float] = []
        self.gain: list[float] = []
        for skill, of in zip(self.layout.skills, self.layout.kind.tolist(), strict=True):
            kind = self.layout.kinds[of]
            level = person + by_kind[kind.name] + by_family[skill.partition(":")[2]]
            self.start.append(kind.scale.at_level(level + rng.gauss(0.0, 0.09)))
            self.slope.append(rng.uniform(5.5, 13.0))
            # Finer by 1.1 to 2.5 times where the eye changes unevenly.
            uneven = self.change + rng.gauss(0.0, self.uneven)
            self.gain.append(min(max(uneven, -0.40), -0.04) if self.uneven else self.change)
        self.moods: list[float] = []

    def true(self, place: int, day: float) -> float:
        """The true log10 threshold of a skill on a day, mood apart."""
        return self.start[place] + self.gain[place] * self.course(day)

    def mood_on(self, day: int) -> float:
        """The day's shift of every threshold, log10."""
        while len(self.moods) <= day:
            fresh = self.rng.gauss(0.0, self.mood)
            before = self.moods[-1] if self.moods else fresh
            first = not self.moods
            tied = self.tied
            now = fresh if first else tied * before + math.sqrt(1.0 - tied * tied) * fresh
            self.moods.append(now)
        return self.moods[day]

    def proportion(self, place: int, step: float, day: int, shift: float = 0.0) -> float:
        """The proportion right at a step; ``shift`` raises the threshold, log10."""
        kind = self.layout.kinds[int(self.layout.kind[place])]
        chance = kind.chance
        q = (0.8 - chance) / (1.0 - chance)
        above = kind.scale.intensity(step) - self.true(place, day) - self.mood_on(day) - shift
        power = -self.slope[place] * above - math.log(q / (1.0 - q))
        seen = chance + (1.0 - chance) / (1.0 + math.exp(min(power, 60.0)))
        return self.lapses * chance + (1.0 - self.lapses) * seen

    def right(self, place: int, step: float, day: int, shift: float = 0.0) -> bool:
        """One answer."""
        return self.rng.random() < self.proportion(place, step, day, shift)


def seconds(skill: str) -> float:
    """What one question takes, its answer read."""
    return KINDS[skill.partition(":")[0]][2] + REVEAL_S


class Plan:
    """A fair stand-in for the day's plan: mixed kinds, cheap kinds oftener, long unmet first.

    Each question is the longest unmet of a few drawn with weight seconds^−0.7 (as
    ``scores.today.need`` weighs time), no kind thrice running.
    """

    FEW = 5

    def __init__(self, layout: Layout, seed: int) -> None:
        self.layout = layout
        self.rng = random.Random(f"plan/{seed}")
        self.last = [-1.0] * layout.size
        self.turn = 0
        self.weights = [seconds(skill) ** -0.7 for skill in layout.skills]

    def next(self) -> int:
        """The place of the next skill to ask."""
        drawn = self.rng.choices(range(self.layout.size), self.weights, k=self.FEW)
        place = min(drawn, key=lambda one: self.last[one])
        self.turn += 1
        self.last[place] = self.turn
        return place

    def sitting(self, minutes: float = 10.0) -> list[int]:
        """A day's skills, in order."""
        made, left = [], 60.0 * minutes
        while True:
            place = self.next()
            took = seconds(self.layout.skills[place]) * math.exp(self.rng.gauss(0.0, 0.2))
            if took > left:
                return made
            made.append(place)
            left -= took
