"""The schedules compared: the coach's own, the one it had before, and plain ones.

Each says which skills to ask in a sitting, in order; who asks takes as many as
the minutes hold. All of them ask at the same measured thresholds, so that only the choice of
skills differs.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cached_property
from typing import ClassVar, NamedTuple

from coach.session.own_skills import AGAIN
from scores.learner.overlay import skills_told
from scores.skill.memory import SkillState, retrievability_on, review
from scores.skill.model.figures import LearnerFigures
from scores.skill.model.settings import PRIOR_LEVEL
from scores.today.back import days_away, minutes_back
from scores.today.day_plan import Item, minutes_to_plan, plan_day, plan_session, too_slow
from scores.today.offers import Offers
from scores.today.shares import USUAL
from scores.today.upcoming import next_item, with_room_for_the_match


class Asked(NamedTuple):
    """A skill to ask, and the proportion right it is asked for."""

    skill: str
    aim: float = USUAL


@dataclass(eq=False)
class Morning:
    """What is known before a sitting. ``times`` are the learner's median seconds by kind."""

    now: datetime
    minutes: float
    figures: LearnerFigures
    kept: Mapping[str, SkillState]
    times: Mapping[str, float]

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
        self.short_s = 0.0
        """Seconds by which the schedule itself ends the present sitting sooner."""

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        raise NotImplementedError

    def answered(self, skill: str, right: bool, day: date) -> None:
        """Hear of an answer."""

    def sat(self, seconds: float) -> None:
        """Hear how long a sitting was."""


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

    def _left_to_ask(self, morning: Morning) -> Offers:
        return self.offers

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
            *(morning.skills, self._left_to_ask(morning), morning.times, morning.now, minutes, rng),
            recent=kinds[-2:],
            asked=asked,
        )


class Coach(Former):
    """The schedule of this project: ``plan_day``, run as a session runs it, then more."""

    name = "coach"

    def __init__(self, offers: Offers, seed: int) -> None:
        super().__init__(offers, seed)
        self.plan: list[Item] = []
        self.item: Item | None = None
        self.sittings: list[float] = []

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        asked: Counter[str] = Counter()
        kinds: list[str] = []
        rng = random.Random(f"{self.seed}/{morning.now.date()}/plan")
        minutes = minutes_to_plan(morning.minutes, self.sittings)
        self.plan = list(
            plan_day(morning.skills, self.offers, morning.times, morning.now, minutes, rng)
        )
        back = days_away(morning.skills, morning.now) > 0
        self.short_s = 60 * (morning.minutes - minutes_back(morning.minutes)) if back else 0.0
        for turn in range(400):
            left = max(0.0, self.left_s - self.short_s)
            self.plan = with_room_for_the_match(self.plan, left)
            self.item = next_item(self.plan, kinds, left_s=left)
            if self.item is None:
                more = self._more(morning, turn, kinds, asked, left / 60)
                self.plan = list(more) or self.plan
                self.item = next_item(self.plan, kinds, False, left)
            if self.item is None or (back and left < self.item.seconds / 2):
                return
            self.plan.remove(self.item)
            asked[self.item.skill] += 1
            kinds.append(self.item.kind)
            yield Asked(self.item.skill, self.item.aim)

    def _left_to_ask(self, morning: Morning) -> Offers:
        left = max(0.0, self.left_s - self.short_s)
        return self.offers.only(without_kinds=too_slow(self.offers, morning.times, left))

    def answered(self, skill: str, right: bool, day: date) -> None:
        if self.item is not None and self.item.part == "match" and not right:
            again = Item(*(self.item.skill, self.item.kind, self.item.region, "", "practice"),
                         self.item.seconds, part="mixed")  # fmt: skip
            self.plan += [again] * AGAIN

    def sat(self, seconds: float) -> None:
        self.sittings.append(seconds)


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


SCHEDULES: tuple[type[Schedule], ...] = (Coach, Former, Rotation, Weakest, MemoryOnly, AtRandom)
