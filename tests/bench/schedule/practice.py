"""Two months of ten minutes a day: one made-up learner under one schedule."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from statistics import fmean

from scores.learner.eye import EyeModel, Followed, layout_for
from scores.learner.overlay import skills_told
from scores.record import tables
from scores.record.attempt import Attempt
from scores.skill.memory import SkillState, advance
from scores.skill.model.learner import begin
from scores.skill.outcome import judge
from scores.today.day_plan import REVEAL_S
from tests.bench.learners import KINDS, MODELS, Learner, offers
from tests.bench.schedules import Schedule, estimated_level

MINUTES, DAYS, PAUSE = 10.0, 60, 30
START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
LOOKED_AT = (30, DAYS, DAYS + PAUSE)
WEAKEST, LOWEST_SHARE, FOUND_ASKED = 3, 0.2, 2


@dataclass(frozen=True)
class Run:
    """How it went. ``mean`` and ``worst`` hold the true levels on the days LOOKED_AT:
    of all skills, and of the lowest tenth. ``found`` is the day by which the three
    weakest were found, DAYS + 1 when they never were. ``aimed`` is the share answered right.
    """

    model: str
    schedule: str
    learner: int
    seed: int
    mean: tuple[float, ...]
    worst: tuple[float, ...]
    minutes: float
    answers: int
    found: int
    right: float


def run(model: str, schedule: type[Schedule], number: int, seed: int) -> Run:
    """Practise, and look at the truth on the days LOOKED_AT."""
    learner = MODELS[model](number, seed)
    return _Practice(learner, schedule(offers(), 1000 * number + seed)).run(seed)


class _Practice:
    def __init__(self, learner: Learner, schedule: Schedule) -> None:
        self.learner = learner
        self.schedule = schedule
        self.facts = schedule.offers.kinds
        self.skills: dict[str, SkillState] = {}
        self.eye = EyeModel(Followed(begin(layout_for(schedule.offers))))
        self.told: Mapping[str, SkillState] = {}
        self.recent: dict[str, list[float]] = {kind: [] for kind in KINDS}
        self.seconds = 0.0
        self.answers = self.hits = 0

    def run(self, seed: int) -> Run:
        weakest = sorted(self.learner.skills, key=lambda skill: self.learner.level(skill, 0))
        sought = set(weakest[:WEAKEST])
        found = DAYS + 1
        looks: list[tuple[float, float]] = []
        for day in range(DAYS):
            if day in LOOKED_AT:
                looks.append(self._truth(day))
            self._sitting(day)
            if sought:
                sought -= self._seen_as_weak(sought)
                if not sought:
                    found = day + 1
        looks += [self._truth(day) for day in LOOKED_AT if day >= DAYS]
        return Run(
            model=self.learner.model,
            schedule=self.schedule.name,
            learner=self.learner.number,
            seed=seed,
            mean=tuple(mean for mean, _ in looks),
            worst=tuple(worst for _, worst in looks),
            minutes=self.seconds / 60,
            answers=self.answers,
            found=found,
            right=self.hits / self.answers,
        )

    def _truth(self, day: int) -> tuple[float, float]:
        levels = sorted(self.learner.level(skill, day) for skill in self.learner.skills)
        return fmean(levels), fmean(levels[: len(levels) // 10])

    def _seen_as_weak(self, sought: set[str]) -> set[str]:
        """Those of the weakest that were asked and stand in the lowest fifth by their measure."""
        known = sorted(
            estimated_level(self.told.get(skill)) for skill in self.schedule.offers.skills
        )
        bound = known[int(LOWEST_SHARE * len(known))]
        return {
            skill
            for skill in sought
            if skill in self.told
            and self.told[skill].tries >= FOUND_ASKED
            and estimated_level(self.told[skill]) <= bound
        }

    def _sitting(self, day: int) -> None:
        now = START + timedelta(days=day)
        figures = self.eye.figures(now.date().toordinal())
        assert figures is not None
        # As they stand in the morning: working them out at each answer would take an hour.
        self.told = skills_told(self.skills, figures, now.date())
        self.steps = {skill: figures.step_to_ask(skill) for skill in self.schedule.offers.skills}
        left = 60 * MINUTES
        times = {
            kind: usual
            for kind, recent in self.recent.items()
            if (usual := tables.usual_seconds(recent)) is not None
        }
        for skill in self.schedule.sitting(day, now, MINUTES, self.told, times):
            kind = skill.partition(":")[0]
            if left < (times.get(kind, self.facts[kind].seconds) + REVEAL_S) / 2:
                break
            took = self._ask(skill, day, now + timedelta(seconds=60 * MINUTES - left))
            left -= took + REVEAL_S
        self.seconds += 60 * MINUTES - left

    def _ask(self, skill: str, day: int, at: datetime) -> float:
        kind = skill.partition(":")[0]
        facts = self.facts[kind]
        before = self.skills.get(skill)
        step = self.steps[skill]
        right, took = self.learner.answer(skill, step, day)
        self.schedule.answered(skill, right, day)
        self.answers += 1
        self.hits += right
        attempt = _attempt(skill, facts.steps, facts.chance, step, right, took, at)
        self.eye.answered(attempt)
        if self.schedule.needs_memory:
            usual = tables.usual_seconds(self.recent[kind])
            outcome = judge(
                attempt.score,
                right,
                took,
                usual,
                step,
                None if before is None else before.usual_step,
                facts.chance,
            )
            self.skills[skill] = advance(before, attempt, outcome)
        else:
            state = before or SkillState(skill)
            self.skills[skill] = replace(state, tries=state.tries + 1)
        self.recent[kind] = [*self.recent[kind], took][-tables.RECENT_TIMES :]
        return took


def _attempt(
    skill: str,
    steps: tuple[float, float],
    chance: float,
    step: float,
    right: bool,
    took: float,
    at: datetime,
) -> Attempt:
    kind, _, region = skill.partition(":")
    return Attempt(
        id="",
        session="",
        number=0,
        kind=kind,
        kind_version=1,
        region=region,
        seed=0,
        step=step,
        steps=steps,
        chance=chance,
        pencils="",
        target=None,
        facts={},
        answers=(),
        # How near a wrong answer comes is not simulated: half a point.
        score=1.0 if right else 0.5,
        right=right,
        error=0.0,
        unit="",
        verdict="",
        response_s=took,
        at_utc=at,
        zone="+00:00",
    )
