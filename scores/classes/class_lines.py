"""The lines, cells and pages of a class: plain data for the screens and the report.

*Reach* says where a student stands in a skill, from 0 (a drill's easiest
questions) to 1 (its hardest): the mean level of the latest answers, marked down
in proportion where they earned less than ``AIM``, four points in five, which
practice is held at. The mean grade alone would say little: everyone is asked at
their own level, and earns about the same. *Need* is 1 − reach, over skills with
at least ``TELLING`` answers.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from scores.exchange.results_written import DeckNamed
from scores.skill.model.figures import AIM

TELLING = 5
"""Answers from which a skill's figures are worth reading."""
SHADES = (0.2, 0.4, 0.6, 0.8)
"""Where reach passes from one shade to the next."""
GLYPHS = "█▓▒░·"
"""One character a shade, darkest where the need is greatest: reads without colour."""

Skill = tuple[str, str]
"""A drill kind and a region."""


class KindScale(NamedTuple):
    """What the class's model must know of a kind: chance, and its range of steps in log10."""

    chance: float
    span: float


class ClassCell(NamedTuple):
    """One student in one skill. ``grade`` is the mean of all scores, ``lately`` of the latest.

    ``last`` is the last day's ordinal (``date.toordinal``).
    """

    tries: int
    right: int
    grade: float
    lately: float
    level: float
    last: int

    @property
    def last_day(self) -> date:
        return date.fromordinal(self.last)

    @property
    def reach(self) -> float:
        return self.level * min(1.0, self.lately / AIM)

    @property
    def telling(self) -> bool:
        return self.tries >= TELLING


class OnPaperCount(NamedTuple):
    """Answers on paper that count, how many of them are right, and their mean grade.

    ``last_day`` is the ordinal of the day the last was written.
    """

    answers: int
    right: int
    grade: float
    last_day: int


@dataclass(frozen=True)
class StudentLine:
    """One student. ``need`` is None until some skill has enough answers to tell."""

    id: str
    name: str
    cells: Mapping[Skill, ClassCell]
    tries: int
    grade: float | None
    days: int
    days_done: int
    last_day: date | None
    need: float | None
    passed: bool
    on_paper: OnPaperCount | None = None
    """What was typed in of worksheets: it counts for days and passing, and tells of no skill."""

    @property
    def begun(self) -> bool:
        """Whether there is any answer, on a screen or on paper."""
        return bool(self.tries or self.on_paper)

    @property
    def weakest(self) -> tuple[Skill, ...]:
        """Skills with enough answers, the least reach first."""
        told = [skill for skill, cell in self.cells.items() if cell.telling]
        return tuple(sorted(told, key=lambda skill: (self.cells[skill].reach, skill)))


@dataclass(frozen=True)
class ClassSkill:
    """One skill over the class: ``told`` students have enough answers, of those who tried it."""

    skill: Skill
    students: int
    told: int
    tries: int
    reach: float | None

    @property
    def need(self) -> float | None:
        return None if self.reach is None else 1.0 - self.reach


@dataclass(frozen=True)
class Mixup:
    """How often ``truth`` was taken for ``said``: ``tries`` of ``asked``, by ``students``."""

    truth: str
    said: str
    tries: int
    asked: int
    students: int

    @property
    def share(self) -> float:
        return self.tries / self.asked


@dataclass(frozen=True)
class DeckLine(DeckNamed):
    """One deck of the class, with any that differ from it in words alone.

    ``fingerprint`` names it to the functions here.
    """

    students: int = 0
    tries: int = 0


@dataclass(frozen=True)
class ClassView:
    """The class at a glance: students and skills with the greatest need first.

    ``not_begun`` are names expected, or students who sent other decks, without
    an answer here; ``doubts`` are such names, each with the students they may be.
    """

    deck: DeckLine | None
    students: tuple[StudentLine, ...]
    skills: tuple[ClassSkill, ...]
    not_begun: tuple[str, ...]
    tries: int
    doubts: tuple[tuple[str, tuple[str, ...]], ...] = ()


@dataclass(frozen=True)
class StudentPage:
    """One student: the line, answers and grade by day, targets and mix-ups."""

    line: StudentLine
    days: tuple[tuple[date, int, float], ...]
    targets: tuple[tuple[str, int, float], ...]
    mixups: tuple[Mixup, ...]


@dataclass(frozen=True)
class SkillPage:
    """One skill: every student who tried it, the greatest need first."""

    line: ClassSkill
    students: tuple[tuple[StudentLine, ClassCell], ...]


def shade(reach: float) -> int:
    """0 (dark: the greatest need) to 4 (light), the place in GLYPHS."""
    return bisect_right(SHADES, reach)
