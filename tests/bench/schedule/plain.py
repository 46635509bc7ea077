"""The schedules compared: the coach's own, and four plain ones.

Each says which skills to ask in a sitting, in order; who asks takes as many as
the minutes hold and then asks for more. All of them ask at the same measured
thresholds, so that only the choice of skills differs.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime
from itertools import count

from scores.skill.memory import SkillState
from scores.skill.model.settings import PRIOR_LEVEL
from scores.today.day_plan import plan_day, plan_session
from scores.today.offers import Offers


def estimated_level(state: SkillState | None) -> float:
    """The level a skill is thought to stand at; a newcomer's where nothing is known."""
    known = None if state is None else state.threshold
    return PRIOR_LEVEL if known is None else known.level


class Schedule:
    """``sitting`` yields the skills of one day; ``answered`` hears of each answer."""

    name = ""
    needs_memory = False
    """Whether the memory model must be kept for it."""

    def __init__(self, offers: Offers, seed: int) -> None:
        self.offers = offers
        self.seed = seed
        self.rng = random.Random(f"{self.name}/{seed}")

    def sitting(
        self,
        day: int,
        now: datetime,
        minutes: float,
        skills: Mapping[str, SkillState],
        times: Mapping[str, float],
    ) -> Iterator[str]:
        raise NotImplementedError

    def answered(self, skill: str, right: bool, day: int) -> None:
        """Hear of an answer."""


class Coach(Schedule):
    """The schedule of this project, planned as a session does.

    It is ``scores.today.day_plan.plan_day``, and then ``plan_session``.
    """

    name = "coach"
    needs_memory = True

    def sitting(
        self,
        day: int,
        now: datetime,
        minutes: float,
        skills: Mapping[str, SkillState],
        times: Mapping[str, float],
    ) -> Iterator[str]:
        asked: Counter[str] = Counter()
        kinds: list[str] = []
        left = minutes
        for turn in count():
            rng = random.Random(f"{self.seed}/{day}/plan/{turn}")
            plan = (
                plan_session(
                    skills, self.offers, times, now, left, rng, recent=kinds[-2:], asked=asked
                )
                if turn
                else plan_day(skills, self.offers, times, now, left, rng)
            )
            left = 1.0
            for item in plan:
                yield item.skill
                asked[item.skill] += 1
                kinds.append(item.kind)


class AtRandom(Schedule):
    """Any skill, each as likely as another."""

    name = "random"

    def sitting(
        self,
        day: int,
        now: datetime,
        minutes: float,
        skills: Mapping[str, SkillState],
        times: Mapping[str, float],
    ) -> Iterator[str]:
        while True:
            yield self.rng.choice(self.offers.skills)


class Rotation(Schedule):
    """Every skill in turn, in one shuffled order kept for good."""

    name = "rotation"

    def __init__(self, offers: Offers, seed: int) -> None:
        super().__init__(offers, seed)
        self.order = list(offers.skills)
        self.rng.shuffle(self.order)
        self.place = 0

    def sitting(
        self,
        day: int,
        now: datetime,
        minutes: float,
        skills: Mapping[str, SkillState],
        times: Mapping[str, float],
    ) -> Iterator[str]:
        while True:
            yield self.order[self.place % len(self.order)]

    def answered(self, skill: str, right: bool, day: int) -> None:
        self.place += 1


class Boxes(Schedule):
    """Boxes of fixed intervals: right moves a skill up a box, wrong moves it to the first.

    Due skills first, longest overdue first; then new ones; then what is due soonest.
    """

    name = "boxes"
    INTERVALS = (1, 2, 4, 8, 16, 32)

    def __init__(self, offers: Offers, seed: int) -> None:
        super().__init__(offers, seed)
        self.new = list(offers.skills)
        self.rng.shuffle(self.new)
        self.box: dict[str, int] = {}
        self.due: dict[str, int] = {}

    def sitting(
        self,
        day: int,
        now: datetime,
        minutes: float,
        skills: Mapping[str, SkillState],
        times: Mapping[str, float],
    ) -> Iterator[str]:
        while True:
            ripe = [skill for skill, due in self.due.items() if due <= day]
            if ripe:
                yield min(ripe, key=self.due.__getitem__)
            elif self.new:
                yield self.new[-1]
            else:
                yield min(self.due, key=self.due.__getitem__)

    def answered(self, skill: str, right: bool, day: int) -> None:
        if skill not in self.box:
            self.new.remove(skill)
        last = len(self.INTERVALS) - 1
        self.box[skill] = min(self.box.get(skill, -1) + 1, last) if right else 0
        self.due[skill] = day + self.INTERVALS[self.box[skill]]


class Weakest(Schedule):
    """Always the skill whose measured threshold is worst, but never one twice running."""

    name = "weakest"

    def __init__(self, offers: Offers, seed: int) -> None:
        super().__init__(offers, seed)
        self.order = list(offers.skills)
        self.rng.shuffle(self.order)

    def sitting(
        self,
        day: int,
        now: datetime,
        minutes: float,
        skills: Mapping[str, SkillState],
        times: Mapping[str, float],
    ) -> Iterator[str]:
        last = ""
        while True:
            last = min(
                (skill for skill in self.order if skill != last),
                key=lambda skill: estimated_level(skills.get(skill)),
            )
            yield last


SCHEDULES: tuple[type[Schedule], ...] = (Coach, AtRandom, Rotation, Boxes, Weakest)
