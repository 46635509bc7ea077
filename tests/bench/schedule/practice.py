"""Two months of practice: one made-up learner, with its habit, under one schedule."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from statistics import fmean

from coach.session.helping import WHOLE, help_given
from drills.basics.days import practice_day
from scores.learner.eye import EyeModel, Followed, layout_for
from scores.record import tables
from scores.record.attempt import Attempt
from scores.record.queries import GAPS, usual_reading
from scores.skill.memory import SkillState, advance
from scores.skill.model.learner import begin
from scores.skill.outcome import WITH_HELP, judge
from scores.today.back import days_away
from scores.today.day_plan import LATE_SESSIONS
from scores.today.examples import shown_before
from scores.today.offers import KindFacts
from tests.bench.schedule.habits import DAYS, USUAL, Habit
from tests.bench.schedule.learners import Learner
from tests.bench.schedule.plain import Asked, Morning, Schedule
from tests.bench.schedule.sittings import Sat, SessionFigures, session_figures
from tests.bench.schedule.subject import MADE, of_the_eye, offers

PAUSE = 30
START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
LOOKED_AT = (30, DAYS, DAYS + PAUSE)


@dataclass(frozen=True)
class Run:
    """How it went. ``mean``, ``worst`` and ``match`` hold the true levels on the days LOOKED_AT:
    of all skills of the eye, of the lowest tenth of them, and of making a match. ``right`` is
    the share answered right; ``sessions`` what the sittings were made of.
    """

    group: str
    schedule: str
    learner: int
    seed: int
    mean: tuple[float, ...]
    worst: tuple[float, ...]
    match: tuple[float, ...]
    minutes: float
    answers: int
    right: float
    sessions: SessionFigures


def run(
    group: str,
    learner: Learner,
    schedule: type[Schedule],
    seed: int,
    habit: Habit = USUAL,
) -> Run:
    """Practise, and look at the truth on the days LOOKED_AT."""
    made = schedule(offers(), 1000 * learner.number + seed)
    learner.pace *= habit.pace
    learner.reads_s *= habit.reading
    return _Practice(learner, made, habit).run(group, seed)


class _Practice:
    def __init__(self, learner: Learner, schedule: Schedule, habit: Habit) -> None:
        self.learner = learner
        self.schedule = schedule
        self.habit = habit
        self.facts = schedule.offers.kinds
        self.skills: dict[str, SkillState] = {}
        self.eye = EyeModel(Followed(begin(layout_for(schedule.offers))))
        self.steps: dict[tuple[str, float], float] = {}
        self.recent: dict[str, list[float]] = {kind: [] for kind in self.facts}
        self.shown: dict[str, date] = {}
        self.gaps: list[float | None] = []
        """Seconds from each of the latest answers to the next question, as the record has them."""
        self.spans: list[float] = []
        self.seconds = 0.0
        self.sat: list[Sat] = []
        self.answers = self.hits = 0

    def run(self, group: str, seed: int) -> Run:
        looks = []
        for day in range(self.habit.days):
            if day in LOOKED_AT:
                looks.append(self._truth(day))
            if self.habit.practises(day, self.learner.number):
                self._sitting(day)
        looks += [self._truth(day) for day in LOOKED_AT if day >= self.habit.days]
        mean, worst, match = zip(*looks, strict=True)
        return Run(
            group=group,
            schedule=self.schedule.name,
            learner=self.learner.number,
            seed=seed,
            mean=mean,
            worst=worst,
            match=match,
            minutes=self.seconds / 60,
            answers=self.answers,
            right=self.hits / self.answers,
            sessions=session_figures(self.sat),
        )

    def _truth(self, day: int) -> tuple[float, float, float]:
        level = {skill: self.learner.level(skill, day) for skill in self.learner.skills}
        eye = sorted(level[skill] for skill in level if of_the_eye(skill))
        made = [level[skill] for skill in level if skill.startswith(f"{MADE}:")]
        return fmean(eye), fmean(eye[: len(eye) // 10]), fmean(made)

    def _sitting(self, day: int) -> None:
        now = START + timedelta(days=day)
        figures = self.eye.figures(now.date().toordinal())
        assert figures is not None
        # As they stand in the morning: working them out at each answer would take an hour.
        self.steps, self.figures = {}, figures
        times = {
            kind: usual
            for kind, recent in self.recent.items()
            if (usual := tables.usual_seconds(recent)) is not None
        }
        reveal_s = usual_reading([gap for gap in self.gaps if gap is not None])
        morning = Morning(
            *(now, self.habit.minutes, figures, self.skills, times, reveal_s),
            *(self.shown, self.spans),
        )
        away = days_away(morning.skills, now)
        sat = Sat(day, self.schedule.minutes(morning), away=away)
        whole = left = 60.0 * sat.minutes
        self.schedule.left_s = left
        read: float | None = None
        for asked in self.schedule.sitting(morning):
            kind = asked.skill.partition(":")[0]
            if asked.item is None:
                if left < (times.get(kind, self.facts[kind].seconds) + reveal_s) / 2:
                    break
            elif shown_before(asked.item, self.shown, now, left):
                looked = self.learner.look()
                self.shown[kind] = practice_day(now)
                sat.examples.append((kind, looked))
                left -= looked
                # As the record has it: no reading of a reveal.
                read = None
            self.gaps = [*self.gaps, read][-GAPS:]
            right, took = self._ask(asked, day, now + timedelta(seconds=whole - left))
            read = self.learner.read()
            left -= took + read
            self.schedule.left_s = max(0.0, left)
            sat.asked.append((kind, took + read))
            sat.right += right
            if asked.item is not None and asked.item.part == "match":
                sat.laid |= kind == MADE
            if len(sat.asked) == self.habit.questions:
                break
        self.spans = [*self.spans, whole - left - (read or 0.0)][-LATE_SESSIONS:]
        self.sat.append(sat)
        self.seconds += whole - left

    def _step(self, asked: Asked) -> float:
        """The step to ask at; of what has no threshold, the one there is."""
        if asked.skill not in self.figures.skills:
            return self.facts[asked.skill.partition(":")[0]].steps[0]
        if asked not in self.steps:
            self.steps[asked] = self.figures.step_to_ask(asked.skill, aim=asked.aim)
        return self.steps[asked]

    def _ask(self, asked: Asked, day: int, at: datetime) -> tuple[bool, float]:
        """Whether the answer was right, and its seconds."""
        skill = asked.skill
        facts = self.facts[skill.partition(":")[0]]
        before = self.skills.get(skill)
        step = self._step(asked)
        given = "" if asked.item is None else help_given(facts.name, self.skills)
        right, took = self.learner.answer(skill, step, day, given != WHOLE)
        self.schedule.answered(skill, right, at.date())
        self.answers += 1
        self.hits += right
        attempt = _attempt(skill, facts, step, right, took, at, bool(given))
        self.eye.answered(attempt)
        if self.schedule.needs_memory:
            outcome = judge(
                attempt.score,
                right,
                took,
                tables.usual_seconds(self.recent[facts.name]),
                step,
                None if before is None else before.usual_step,
                attempt.chance,
            )
            self.skills[skill] = advance(before, attempt, outcome)
        else:
            state = before or SkillState(skill)
            self.skills[skill] = replace(state, tries=state.tries + 1)
        recent = [*self.recent[facts.name], took]
        self.recent[facts.name] = recent[-tables.RECENT_TIMES :]
        return right, took


def _attempt(
    skill: str,
    facts: KindFacts,
    step: float,
    right: bool,
    took: float,
    at: datetime,
    helped: bool,
) -> Attempt:
    return Attempt(
        id="",
        session="",
        number=0,
        kind=facts.name,
        kind_version=1,
        region=skill.partition(":")[2],
        seed=0,
        step=step,
        steps=facts.steps,
        chance=WITH_HELP if helped else facts.chance,
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
