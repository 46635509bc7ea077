"""What feeds a session: a plan of items, and the sources that make their questions.

A session knows nothing else of where its questions come from. A new source (a guided
match, say) is one class under ``Source`` and the items that name it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, Protocol

from scores.record.attempt import Attempt
from scores.skill.memory import SkillState
from scores.today.day_plan import Item

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Grade, Kind, Question, Reveal


@dataclass(frozen=True)
class Outcome:
    """What came of an answer. ``trouble`` says why it is not ``saved`` yet.

    ``measure`` says how fine the learner sees here now, where that is known.
    """

    grade: Grade
    reveal: Reveal
    attempt: Attempt
    state: SkillState
    saved: bool
    trouble: str = ""
    measure: str = ""


@dataclass(frozen=True)
class SoFar:
    """What a session has done when its next question is drawn.

    ``number`` is the next question's; ``kinds`` are those asked, the last one last;
    ``asked`` counts them by skill; ``refused`` are the learner's own skills that these
    pencils refused; ``seconds_left`` may be 0, never less. ``step`` is the step at which
    the learner's model asks a skill of a kind, to be right a given proportion of the time.
    ``examples`` is the day of each drill's latest example.
    """

    seed: int
    number: int
    now: datetime
    seconds_left: float
    skills: Mapping[str, SkillState]
    step: Callable[[Kind, str, float], float]
    kinds: Sequence[str] = ()
    asked: Mapping[str, int] = field(default_factory=dict)
    refused: frozenset[str] = frozenset()
    examples: Mapping[str, date] = field(default_factory=dict)


class Source(Protocol):
    """One thing that asks: the learner's own skills, a deck, a re-test.

    ``tells`` is False where answers are noted and not told, nor summed up by skill.
    """

    @property
    def palette(self) -> Palette: ...
    @property
    def tells(self) -> bool: ...

    def ask(self, item: Item, kind: Kind, so_far: SoFar) -> Question | None:
        """The question of an item, the same for the same arguments; None where it is refused."""
        ...

    def told(self, outcome: Outcome, left: int) -> Outcome:
        """What the learner is told of an answer, with so many items of the plan left."""
        ...

    def keep(self) -> None:
        """Keep what must be kept beside the first answer. Raises NotSavedError."""
        ...

    def regions(self, kind: str) -> tuple[str, ...]:
        """The regions in which it may ask a kind; none where it shows no examples."""
        ...


class TellsAll:
    """What is the same in each source that tells all of an answer and keeps nothing else."""

    @property
    def tells(self) -> bool:
        """Always."""
        return True

    def told(self, outcome: Outcome, left: int) -> Outcome:
        """All of it."""
        return outcome

    def keep(self) -> None:
        """Nothing: an answer is all there is to keep."""

    def regions(self, kind: str) -> tuple[str, ...]:
        """None."""
        return ()


def _none(_: SoFar) -> tuple[Item, ...]:
    return ()


def _no_help(_: Item, __: SoFar) -> str:
    return ""


def _nothing(_: Item, __: bool) -> tuple[Item, ...]:
    return ()


@dataclass(frozen=True)
class Feed:
    """What a session asks: ``plan`` in its order, then what ``more`` adds while time is left.

    ``after`` says what an answer, right or not, adds to the plan's end.
    ``help`` says how much help an item's question has (``coach.session.helping``).
    ``sources`` are named by ``Item.source``. Without ``more`` the session ends with its plan.
    ``timed`` False: all of the plan is asked, in its order, however long it takes.
    """

    plan: tuple[Item, ...]
    sources: Mapping[str, Source]
    minutes: float
    more: Callable[[SoFar], tuple[Item, ...]] = _none
    after: Callable[[Item, bool], tuple[Item, ...]] = _nothing
    help: Callable[[Item, SoFar], str] = _no_help
    timed: bool = True
