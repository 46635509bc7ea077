"""Help for who is new to a step of the match: what to look at, and the first step done."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from drills.basics.json_values import JSON
from scores.progress.sureness import SURE
from scores.record.queries import EXAMPLE
from scores.skill.memory import SkillState
from scores.today.shares import STEPS

if TYPE_CHECKING:
    from drills.questions.protocol import Answers, Kind, Question
    from drills.questions.worked import FirstStep

HELPED, MOST_HELPED = 2, 4
"""Right answers of a step of the match until which its questions have help, the second less of it;
and answers after which there is none, right or not, for what is helped measures nothing."""
WHOLE, LESS = "look, and the first step done", "look"
"""How much help an answer had, as its facts keep it under ``HELP``."""
HELP = "help"
NO_MEASURE = "answered with help, so it measures nothing"


def help_given(kind: str, skills: Mapping[str, SkillState]) -> str:
    """How much help a question has, by how often its kind was answered, and how often rightly.

    After a solved example it fades so: the first step done, what to look at, nothing. The steps
    of the match alone have it, which come every day: a drill that comes once a week would be
    measured weeks later.
    """
    if kind not in STEPS:
        return ""
    of_kind = [state for state in skills.values() if state.kind == kind]
    right = sum(state.right for state in of_kind)
    if right >= HELPED or sum(state.tries for state in of_kind) >= MOST_HELPED:
        return ""
    return (WHOLE, LESS)[right]


def first_step_done(kind: Kind, question: Question, given: str) -> FirstStep:
    """What is done of a question before it is asked."""
    from drills.questions.worked import FirstStep, first_step

    return first_step(kind, question) if given == WHOLE else FirstStep()


def help_words(kind: Kind, replies: Answers, given: str, done: FirstStep) -> str:
    """What is said at this stage of a question; nothing where the kind has no words for it."""
    said: tuple[str, ...] = getattr(kind, "look_for", ())
    if not said or not given:
        return ""
    return f"{said[min(len(replies), len(said) - 1)]} {done.words}".strip()


def facts_kept(
    question: Question, given: str, sure: bool | None, example_s: float = 0.0
) -> dict[str, JSON]:
    """What the record keeps of a question: its own facts, help given, whether the learner was
    sure, where that was asked, and the seconds that an example before it was looked at."""
    facts = dict(question.facts)
    if given:
        facts[HELP] = given
    if sure is not None:
        facts[SURE] = sure
    if example_s:
        facts[EXAMPLE] = round(example_s, 1)
    return facts
