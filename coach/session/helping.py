"""Help for who is new to a step of the match: what to look at, and one choice less."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from drills.basics.json_values import JSON
from scores.progress.sureness import SURE
from scores.skill.memory import SkillState
from scores.today.shares import STEPS

if TYPE_CHECKING:
    from drills.questions.protocol import Answers, Kind, Question

HELPED = 2
"""Answers of a step that are given with help; the second with less of it."""
WHOLE, LESS = "look, and one left out", "look"
"""How much help an answer had, as its facts keep it under ``HELP``."""
HELP = "help"
NO_MEASURE = "answered with help, so it measures nothing"


def help_given(kind: str, skills: Mapping[str, SkillState]) -> str:
    """How much help a question has, by how often its kind was answered."""
    if kind not in STEPS:
        return ""
    answered = sum(state.tries for state in skills.values() if state.kind == kind)
    return (WHOLE, LESS)[answered] if answered < HELPED else ""


def help_words(kind: Kind, question: Question, replies: Answers, given: str) -> str:
    """What is said at this stage of a question; nothing where the kind has no words for it."""
    said: tuple[str, ...] = getattr(kind, "look_for", ())
    if not said or not given:
        return ""
    words = said[min(len(replies), len(said) - 1)]
    if given == WHOLE:
        from drills.questions.narrowing import leave_out

        out = leave_out(kind, question, replies)
        words += f" Not {out.text}." if out is not None and out.text else ""
    return words


def facts_kept(question: Question, given: str, sure: bool | None) -> dict[str, JSON]:
    """What the record keeps of a question: its own facts, help given, and whether the learner
    was sure, where that was asked."""
    facts = dict(question.facts)
    if given:
        facts[HELP] = given
    if sure is not None:
        facts[SURE] = sure
    return facts
