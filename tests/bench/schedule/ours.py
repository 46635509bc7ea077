"""The coach's own schedule: a day and a session laid by the app's own code."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from datetime import date

from coach.session.feed import SoFar
from coach.session.own_skills import OwnSkills
from coach.session.today_plan import plan_rng
from scores.learner.overlay import skills_told
from scores.today.back import days_away, minutes_back
from scores.today.day_plan import Aims, Item, minutes_to_plan, plan_day
from scores.today.examples import planned_with_examples
from scores.today.offers import Offers
from scores.today.shares import SURE
from scores.today.upcoming import taken
from tests.bench.schedule.plain import Asked, Former, Morning
from tests.bench.schedule.subject import palette


class Coach(Former):
    """The schedule of this project: ``plan_day`` with its examples, run as a session runs it,
    then more."""

    name = "coach"

    def __init__(self, offers: Offers, seed: int) -> None:
        super().__init__(offers, seed)
        self.plan: list[Item] = []
        self.item: Item | None = None
        self.own: OwnSkills | None = None

    def minutes(self, morning: Morning) -> float:
        """Fewer on a first day back."""
        away = days_away(morning.skills, morning.now)
        return minutes_back(morning.minutes) if away else morning.minutes

    def sitting(self, morning: Morning) -> Iterator[Asked]:
        now = morning.now
        seed = random.Random(f"{self.seed}/{now.date()}").getrandbits(32)

        def plan_in(minutes: float) -> tuple[Item, ...]:
            rng = plan_rng(seed)
            some = morning.skills, self.offers, morning.times, now, minutes, rng
            return plan_day(*some, reveal_s=morning.reveal_s)

        planned = minutes_to_plan(morning.minutes, morning.sittings)
        known = morning.skills, morning.shown, now, planned, morning.reveal_s
        self.plan = list(planned_with_examples(plan_in, *known))
        sure = bool(self.plan) and all(item.aim >= SURE for item in self.plan)
        self.own = OwnSkills(
            *(palette(), self.offers, morning.times, Aims(), morning.reveal_s), sure=sure
        )
        asked: Counter[str] = Counter()
        kinds: list[str] = []

        def more() -> tuple[Item, ...]:
            assert self.own is not None
            skills = skills_told(morning.kept, morning.figures, now.date())
            so_far = SoFar(
                *(seed, len(kinds) + 1, now, self.left_s, skills, lambda *_: 0.0),
                *(kinds, asked, frozenset(), morning.shown),
            )
            return self.own.more(so_far)

        while True:
            self.item, self.plan = taken(self.plan, kinds, self.left_s, more)
            if self.item is None:
                return
            asked[self.item.skill] += 1
            kinds.append(self.item.kind)
            yield Asked(self.item.skill, self.item.aim, self.item)

    def answered(self, skill: str, right: bool, day: date) -> None:
        if self.own is not None and self.item is not None:
            self.plan += self.own.after(self.item, right)
