"""The schedules compared with the coach's own (``ours``): the one before it, and plain ones.

Each says which skills to ask in a sitting, in order; who asks takes as many as
the minutes hold. All of them ask at the same measured thresholds, so that only the choice of
skills differs.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cached_property
from typing import ClassVar, NamedTuple

from scores.learner.overlay import skills_told
from scores.skill.memory import SkillState, retrievability_on, review
from scores.skill.model.figures import LearnerFigures
from scores.skill.model.settings import PRIOR_LEVEL
from scores.today.day_plan import Item, plan_session
from scores.today.offers import Offers
from scores.today.shares import USUAL


class Asked(NamedTuple):
    """A skill to ask, the proportion right it is asked for, and the coach's item where it is
    the coach's own: only then help or a solved question may come before it."""

    skill: str
    aim: float = USUAL
    item: Item | None = None


@dataclass(eq=False)
class Morning:
    """What is known before a sitting. ``times`` are the learner's median seconds by kind,
    ``reveal_s`` those to read a reveal, ``shown`` the days of examples, ``sittings`` the seconds
    of earlier ones."""

    now: datetime
    minutes: float
    figures: LearnerFigures
    kept: Mapping[str, SkillState]
    times: Mapping[str, float]
    reveal_s: float
    shown: Mapping[str, date]
    sittings: Sequence[float]

    @cached_property
    def skills(self) -> dict[str, SkillState]:
        """Every skill met, with what the learner's model knows of it."""
        return skills_told(self.kept, self.figures, self.now.date())


class Schedule:
    """``sitting`` yields the skills of one day; ``answered`` hears of each answer."""

    name: ClassVar[str] = ""
    needs_memory: ClassVar[bool] = False
    """Whether the memory model must be kept for it."""

    def __init__(self, offers: Offers, seed: int) -> None:
        self.offers = offers
        self.seed = seed
        self.rng = random.Random(f"{self.name}/{seed}")
        self.left_s = 0.0
        """Seconds left of the sitting, kept by who asks."""

    def minutes(self, morning: Morning) -> float:
        """How long the sitting is to be."""
        return morning.minutes

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        raise NotImplementedError

    def answered(self, skill: str, right: bool, day: date) -> None:
        """Hear of an answer."""


class Former(Schedule):
    """The schedule before the arc: what is needed most, mixed (``plan_session``)."""

    name = "former"
    needs_memory = True

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        asked: Counter[str] = Counter()
        kinds: list[str] = []
        for turn in range(40):
            for item in self._more(morning, turn, kinds, asked, morning.minutes if not turn else 1):
                yield Asked(item.skill)
                asked[item.skill] += 1
                kinds.append(item.kind)

    def _more(
        self,
        morning: Morning,
        turn: int,
        kinds: list[str],
        asked: Counter[str],
        minutes: float,
    ) -> tuple[Item, ...]:
        rng = random.Random(f"{self.seed}/{morning.now.date()}/plan/{turn}")
        return plan_session(
            *(morning.skills, self.offers, morning.times, morning.now, minutes, rng),
            recent=kinds[-2:],
            asked=asked,
            reveal_s=morning.reveal_s,
        )


class AtRandom(Schedule):
    """Any skill, each as likely as another."""

    name = "random"

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        while True:
            yield Asked(self.rng.choice(self.offers.skills))


class Rotation(Schedule):
    """Every skill in turn, in one shuffled order kept for good."""

    name = "rotation"

    def __init__(self, offers: Offers, seed: int) -> None:
        super().__init__(offers, seed)
        self.order = list(offers.skills)
        self.rng.shuffle(self.order)
        self.place = 0

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        while True:
            yield Asked(self.order[self.place % len(self.order)])

    def answered(self, skill: str, right: bool, day: date) -> None:
        self.place += 1


class MemoryOnly(Schedule):
    """The memory model alone, by right and wrong: what is due, most faded first; then what is
    new; then what is most faded."""

    name = "fsrs only"

    def __init__(self, offers: Offers, seed: int) -> None:
        super().__init__(offers, seed)
        self.new = list(offers.skills)
        self.rng.shuffle(self.new)
        self.states: dict[str, SkillState] = {}

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        day = morning.now.date()
        while True:
            held = {skill: retrievability_on(state, day) for skill, state in self.states.items()}
            faded = sorted(held, key=held.__getitem__)
            due = [skill for skill in faded if (self.states[skill].due or day) <= day]
            for skill in due or self.new[-8:] or faded[:8]:
                yield Asked(skill)

    def answered(self, skill: str, right: bool, day: date) -> None:
        before = self.states.get(skill) or SkillState(skill)
        at = datetime(day.year, day.month, day.day, 12, tzinfo=UTC)
        self.states[skill] = review(before, "held" if right else "lost", at)
        if skill in self.new:
            self.new.remove(skill)


class Weakest(Schedule):
    """Always the skill whose measured threshold is worst, but never one twice running."""

    name = "weakest"

    def __init__(self, offers: Offers, seed: int) -> None:
        super().__init__(offers, seed)
        # A card to remember has no threshold that could rise.
        self.order = [
            f"{kind}:{region}" for kind, region in offers.pairs if offers.kinds[kind].of_the_eye
        ]
        self.rng.shuffle(self.order)

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        level = {
            skill: morning.figures.level(skill) if skill in morning.kept else PRIOR_LEVEL
            for skill in self.order
        }
        ordered = sorted(self.order, key=level.__getitem__)
        while True:
            # The two worst by turns: levels are as of the morning.
            yield from map(Asked, ordered[:2])


OTHERS: tuple[type[Schedule], ...] = (Former, Rotation, Weakest, MemoryOnly, AtRandom)
