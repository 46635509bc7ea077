"""A session's end: what was practised, what to do with it, and when each skill comes back.

It tells no change: one session can't show any.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from scores.skill.memory import SkillState
from scores.skill.skill_words import ahead_words, skill_words
from scores.today.offers import KindFacts


@dataclass(frozen=True)
class PractisedSkill:
    """One skill at the session's end; ``tries`` and ``right`` are the session's."""

    words: str
    tries: int
    right: int
    returns: date | None
    returns_words: str


@dataclass(frozen=True)
class Summary:
    """A session's end: ``skills`` in the order they come back; ``unsaved`` answers still kept,
    ``helped`` those given with help.

    ``drills`` are the titles of those answered, in order; ``at_the_table`` is one thing to do
    on paper, of the drill that needs it most, or nothing.
    """

    asked: int
    right: int
    seconds: float
    skills: tuple[PractisedSkill, ...]
    unsaved: int
    drills: tuple[str, ...] = ()
    at_the_table: str = ""
    helped: int = 0


FEW = 3


def by_drill(of_skills: Mapping[str, int], skills: Collection[str]) -> Counter[str]:
    """Counts of these ``skills``, as ``of_skills`` has them, drill by drill."""
    found = Counter[str]()
    for skill in of_skills:
        if skill in skills:
            found[skill.partition(":")[0]] += of_skills[skill]
    return found


def needs_most(tries: Mapping[str, int], right: Mapping[str, int], turn: int = 0) -> str:
    """The drill with the most answers that were not right, or else the most answers.

    The ``FEW`` first of them take turns, so that not every day ends with the same advice.
    """
    wrong = {kind: count - right.get(kind, 0) for kind, count in tries.items()}
    missed = [kind for kind in tries if wrong[kind]] or list(tries)
    missed.sort(key=lambda kind: (-wrong[kind], -tries[kind]))
    return missed[turn % min(FEW, len(missed))] if missed else ""


def returns_words(skills: Sequence[PractisedSkill]) -> str:
    """How many of them come back when, the next two times: "4 tomorrow, 3 in 2 days"."""
    counts: dict[str, int] = {}
    for line in skills:
        if line.returns is not None:
            counts[line.returns_words] = counts.get(line.returns_words, 0) + 1
    return ", ".join(f"{count} {when}" for when, count in [*counts.items()][:2])


def skill_line(
    facts: KindFacts, state: SkillState, tries: int, right: int, today: date
) -> PractisedSkill:
    """The line of one skill as it stands now."""
    return PractisedSkill(
        words=skill_words(state.skill, {facts.name: facts.title}),
        tries=tries,
        right=right,
        returns=state.due,
        returns_words="" if state.due is None else ahead_words(state.due, today),
    )


def in_order(lines: Mapping[str, PractisedSkill]) -> tuple[PractisedSkill, ...]:
    """The lines, soonest back first."""
    return tuple(sorted(lines.values(), key=lambda line: (line.returns or date.max, line.words)))
