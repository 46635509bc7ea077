"""What is remembered of each skill: stability, retrievability and the day it is due.

The memory model is FSRS version 6 through the ``fsrs`` library, with the
library's default parameters and no learning steps in minutes: a skill is
practised once a day, and the first answer of a day decides. More answers on one
day train the eye and move the difficulty, but say little about tomorrow, so
they reach the model as ``shaky`` or ``held`` and no further either way.

Days are the learner's own practice days (``drills.basics.days``). The time between two
answers is never below nought: one dated before the last counts as on the same
day. A few days back (a changed zone) the memory keeps its later day; further
back, the clock had been wrong and was put right, and the memory follows it, else
it would wait years for the wrong day to come. A day outside ``PLAUSIBLE`` (a
clock that lost its battery) is never taken as true.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import cache
from typing import TYPE_CHECKING

from drills.basics.days import practice_day
from scores.skill.outcome import OUTCOMES, Outcome
from scores.skill.skill_threshold import SkillThreshold
from scores.skill.skill_words import skill_name

if TYPE_CHECKING:
    from fsrs import Scheduler

    from scores.record.attempt import Attempt

DESIRED_RETENTION = 0.9
"""Proportion still held on the day a skill is due, unless a setting says otherwise."""
RETENTION_RANGE = (0.7, 0.97)
MEAN_WEIGHT = 0.2
"""Weight of the newest score in the mean score (about the last nine answers; our estimate)."""

# FSRS-6's default forgetting curve, kept here so that the first screen need not
# import the library; a test holds both to the library's own.
_DECAY = -0.1542
_FACTOR = 0.9 ** (1 / _DECAY) - 1
LONGEST_DAYS = 36500

PLAUSIBLE = (date(2025, 1, 1), date(2200, 1, 1))
"""Days a working clock can show."""
ZONE_SLACK_DAYS = 2


@dataclass(frozen=True)
class SkillState:
    """Where one skill stands.

    ``stability`` is in days (the time in which retrievability falls to 0.9) and
    ``difficulty`` is the memory model's, 1–10; both are None before the first
    answer. ``reviewed`` is the memory's last day and ``due`` the next.
    ``last_tried`` and ``last_right`` are wall times (UTC). ``mean_score`` is an
    exponentially weighted mean, 0–1. ``step`` is the step last asked and ``usual_step`` a
    slow mean of them, in the kind's own unit. ``threshold`` is what the learner's model
    knows; it is not kept here but laid over (``scores.learner.overlay``).
    """

    skill: str
    stability: float | None = None
    difficulty: float | None = None
    reviewed: date | None = None
    due: date | None = None
    tries: int = 0
    right: int = 0
    last_score: float = 0.0
    mean_score: float = 0.0
    step: float | None = None
    usual_step: float | None = None
    last_tried: datetime | None = None
    last_right: datetime | None = None
    threshold: SkillThreshold | None = None

    @property
    def kind(self) -> str:
        return self.skill.partition(":")[0]

    @property
    def region(self) -> str:
        return self.skill.partition(":")[2]


@cache
def _scheduler(retention: float) -> Scheduler:
    from fsrs import Scheduler

    return Scheduler(
        desired_retention=retention,
        learning_steps=(),
        relearning_steps=(),
        maximum_interval=LONGEST_DAYS,
        enable_fuzzing=False,
    )


def _midnight(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC)


def memory_days(day: date, last: date | None) -> tuple[date, date | None]:
    """The day of an answer and of the one before it, as the memory counts them."""
    if last is None:
        return min(max(day, PLAUSIBLE[0]), PLAUSIBLE[1]), None
    if day >= last and day <= PLAUSIBLE[1]:
        return day, last
    if day < PLAUSIBLE[0] or day > PLAUSIBLE[1] or (last - day).days <= ZONE_SLACK_DAYS:
        return last, last
    return day, day


def review(
    state: SkillState, outcome: Outcome, at: datetime, retention: float = DESIRED_RETENTION
) -> SkillState:
    """The state after one answer's outcome at an aware local time.

    Only the memory (stability, difficulty, reviewed, due) changes; ``advance``
    does the rest. ``retention`` is the desired retention, 0.7–0.97.
    """
    from fsrs import Card, Rating, State

    day, last = memory_days(practice_day(at), state.reviewed)
    number = OUTCOMES.index(outcome)
    if day == last:
        number = min(max(number, OUTCOMES.index("shaky")), OUTCOMES.index("held"))
    known = state.stability is not None and state.difficulty is not None
    card = Card(
        card_id=1,
        state=State.Review if known else State.Learning,
        stability=state.stability,
        difficulty=state.difficulty,
        due=_midnight(day),
        last_review=None if last is None else _midnight(last),
    )
    # FSRS counts its ratings from 1 (forgotten) to 4 (without effort).
    after, _ = _scheduler(retention).review_card(card, Rating(number + 1), _midnight(day))
    return replace(
        state,
        stability=after.stability,
        difficulty=after.difficulty,
        reviewed=day,
        due=after.due.date(),
    )


def retrievability(state: SkillState, at: datetime) -> float:
    """Probability, 0–1, that the skill is still held at an aware local time.

    0 for a skill never met. FSRS-6's power curve over whole practice days.
    """
    return retrievability_on(state, practice_day(at))


def retrievability_on(state: SkillState, day: date) -> float:
    """The same for a practice day."""
    if state.stability is None or state.reviewed is None:
        return 0.0
    days = max(0, (day - state.reviewed).days)
    return float((1 + _FACTOR * days / state.stability) ** _DECAY)


def is_due(state: SkillState, at: datetime) -> bool:
    """Whether a skill calls for practice at an aware local time.

    So does one last seen on a day still to come: the clock had been ahead.
    """
    return is_due_on(state, practice_day(at))


def is_due_on(state: SkillState, day: date) -> bool:
    """The same for a practice day."""
    if state.due is None or state.reviewed is None:
        return False
    ahead = (state.reviewed - day).days > ZONE_SLACK_DAYS and day >= PLAUSIBLE[0]
    return state.due <= day or ahead


def reschedule(state: SkillState, retention: float) -> SkillState:
    """The same memory with its due day moved to another desired retention."""
    if state.stability is None or state.reviewed is None:
        return state
    days = round(state.stability / _FACTOR * (retention ** (1 / _DECAY) - 1))
    return replace(state, due=state.reviewed + timedelta(days=min(max(days, 1), LONGEST_DAYS)))


def advance(
    state: SkillState | None,
    attempt: Attempt,
    outcome: Outcome,
    retention: float = DESIRED_RETENTION,
) -> SkillState:
    """The skill's state after an attempt: memory, tries, mean score and steps asked.

    Replaying every attempt in order through this gives the stored skills.
    """
    before = state or SkillState(skill=skill_name(attempt.kind, attempt.region))
    first = before.tries == 0
    score = min(1.0, max(0.0, attempt.score))
    asked = attempt.step
    usual = before.usual_step
    if usual is None or usual <= 0 or asked <= 0:
        usual = asked
    else:
        usual = float(usual ** (1 - MEAN_WEIGHT) * asked**MEAN_WEIGHT)
    remembered = review(before, outcome, attempt.local_time, retention)
    return replace(
        remembered,
        tries=before.tries + 1,
        right=before.right + attempt.right,
        last_score=score,
        mean_score=score
        if first
        else before.mean_score + MEAN_WEIGHT * (score - before.mean_score),
        step=asked,
        usual_step=usual,
        last_tried=attempt.at_utc,
        last_right=attempt.at_utc if attempt.right else before.last_right,
    )
