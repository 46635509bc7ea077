"""Where a class stands, as plain data for screens, pages and exports: no numpy here.

Every probability is the model's (``scores.classes.standing``), from 0 to 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

from scores.classes.class_lines import Skill
from scores.skill.skill_threshold import Z_90

Place = Literal["weak", "stuck", "on track", "not known yet"]
PLACES: tuple[Place, ...] = ("weak", "stuck", "not known yet", "on track")
"""In the order in which a teacher wants to see them."""

WIDE = 0.2
"""How far from its mean a level may lie (90 %) and still be told: one shade's width."""


@dataclass(frozen=True)
class AtKind:
    """A student at one kind: answers and how many right; ``level`` reached, 0 (its easiest
    questions) to 1 (its hardest), may lie outside; ``stuck``: how likely that even near its
    easiest questions more are missed than seen; ``behind``: that the student is in the
    weakest third at it, and clearly below the class's mean."""

    kind: str
    tries: int
    right: int
    level: float
    stuck: float
    behind: float


class SkillLevel(NamedTuple):
    """A student at one skill, in levels: mean and standard deviation."""

    level: float
    sd: float

    @property
    def told(self) -> bool:
        """Whether it is known well enough to be shaded."""
        return Z_90 * self.sd <= WIDE


@dataclass(frozen=True)
class Standing:
    """One student. ``weak`` is the chance of standing in the weakest third, ``level`` the
    standing over all kinds with ``low`` and ``high`` (90 %). ``stuck`` are kinds stuck at,
    ``behind`` kinds clearly behind at. ``ask`` would tell most about the student;
    ``skills`` has each skill they answered."""

    student: str
    name: str
    place: Place
    weak: float
    on_track: float
    level: float
    low: float
    high: float
    tries: int
    kinds: tuple[AtKind, ...]
    stuck: tuple[AtKind, ...]
    behind: tuple[AtKind, ...]
    ask: Skill | None
    skills: Mapping[Skill, SkillLevel]

    @property
    def sure(self) -> float:
        """How likely ``place`` is."""
        if self.place == "weak":
            return self.weak
        if self.place == "stuck":
            return max(one.stuck for one in self.stuck)
        return self.on_track


@dataclass(frozen=True)
class Pair:
    """Who might sit beside whom, at a kind, and how likely the second is clearly ahead there."""

    learns: str
    shows: str
    kind: str
    sure: float


@dataclass(frozen=True)
class Harder:
    """A region harder for the class than others: how likely it is harder than their mean."""

    region: str
    sure: float
    tries: int
    right: int


@dataclass(frozen=True)
class Confusion:
    """``truth`` taken for ``said`` more than families so far apart are: ``tries`` of ``asked``,
    where ``expected`` were to be; ``chance`` is how likely so many were by accident, counted
    over every pair looked at."""

    truth: str
    said: str
    tries: int
    asked: int
    expected: float
    students: int
    chance: float


@dataclass(frozen=True)
class ClassStanding:
    """``differ`` is how likely the students differ in earnest; under ``DIFFER`` nobody is weak."""

    differ: float
    students: tuple[Standing, ...]
    pairs: tuple[Pair, ...]
    harder: tuple[Harder, ...]
    confusions: tuple[Confusion, ...]

    def by_student(self) -> Mapping[str, Standing]:
        return {one.student: one for one in self.students}

    def at(self, place: Place) -> tuple[Standing, ...]:
        return tuple(one for one in self.students if one.place == place)


NOBODY = ClassStanding(0.0, (), (), (), ())


def in_words(sure: float) -> str:
    """A probability as a person says it."""
    if sure >= 0.95:
        return "almost sure"
    if sure >= 0.85:
        return "very likely"
    return "likely" if sure >= 0.7 else "maybe"


def in_ten(sure: float) -> str:
    """A probability as a count of ten, or of a hundred where ten would say certainty."""
    if sure >= 0.95:
        return f"{min(99, int(100 * sure))} in 100"
    return f"{max(1, round(10 * sure))} in 10" if sure >= 0.05 else "under 1 in 20"
