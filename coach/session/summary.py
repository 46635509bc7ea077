"""A session's end: what was practised, what moved, and when each skill comes back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from scores.skill.difficulty import level
from scores.skill.memory import SkillState
from scores.skill.skill_words import ahead_words, skill_words
from scores.today.offers import KindFacts

MOVED = 0.01
"""Share of a kind's whole range of difficulty under which a step counts as the same."""


@dataclass(frozen=True)
class PractisedSkill:
    """One skill at the session's end. ``before`` is None for one first met today.

    ``improved`` says that it is now asked finer than before, no more than that.
    """

    skill: str
    words: str
    tries: int
    right: int
    before: SkillState | None
    after: SkillState
    improved: bool
    change: str
    returns: date | None
    returns_words: str


@dataclass(frozen=True)
class Summary:
    """A session's end: ``skills`` in the order they come back; ``unsaved`` answers still kept."""

    asked: int
    right: int
    seconds: float
    skills: tuple[PractisedSkill, ...]
    unsaved: int

    @property
    def improved(self) -> tuple[PractisedSkill, ...]:
        return tuple(line for line in self.skills if line.improved)


def skill_line(
    facts: KindFacts,
    before: SkillState | None,
    after: SkillState,
    tries: int,
    right: int,
    today: date,
) -> PractisedSkill:
    """The line of one skill, ``tries`` and ``right`` being this session's."""
    improved, change = _change(facts, before, after)
    return PractisedSkill(
        skill=after.skill,
        words=skill_words(after.skill, {facts.name: facts.title}),
        tries=tries,
        right=right,
        before=before,
        after=after,
        improved=improved,
        change=change,
        returns=after.due,
        returns_words="" if after.due is None else ahead_words(after.due, today),
    )


def in_order(lines: Mapping[str, PractisedSkill]) -> tuple[PractisedSkill, ...]:
    """The lines, soonest back first."""
    return tuple(sorted(lines.values(), key=lambda line: (line.returns or date.max, line.words)))


def _change(facts: KindFacts, before: SkillState | None, after: SkillState) -> tuple[bool, str]:
    if before is None or before.step is None or after.step is None:
        return False, "first met today"
    rise = level(facts.steps, after.step) - level(facts.steps, before.step)
    if abs(rise) < MOVED:
        return False, "asked as before"
    word = "finer" if rise > 0 else "easier"
    return rise > 0, f"asked {word}: {before.step:.3g} → {after.step:.3g} {facts.unit}".rstrip()
