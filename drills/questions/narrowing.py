"""Fewer choices for who is new to a drill: the one farthest from right is named, no more."""

from __future__ import annotations

from drills.questions.protocol import Answers, Choice, Kind, Question

FEWEST, MOST = 3, 6
"""Choices of which one can be left out: with fewer none would be left to choose from, of more
one less is no help."""
DEEPEST = 3
"""Stages looked ahead; a kind that asks more is not narrowed."""


def leave_out(kind: Kind, question: Question, replies: Answers) -> Choice | None:
    """The choice that ends farthest from right, of those asked after ``replies``.

    None where that would tell the answer, help nothing, or can't be worked out: fewer than
    ``FEWEST`` choices, all as good, or another form than choosing.
    """
    asked = kind.ask(question, replies)
    if asked is None or asked.form != "choose" or not FEWEST <= len(asked.choices) <= MOST:
        return None
    scores = [_best(kind, question, (*replies, (choice.key,)), DEEPEST) for choice in asked.choices]
    known = [score for score in scores if score is not None]
    if len(known) < len(scores) or min(known) == max(known):
        return None
    return asked.choices[known.index(min(known))]


def _best(kind: Kind, question: Question, replies: Answers, deeper: int) -> float | None:
    """The best score (0-1) that can still be reached; None where it isn't chosen step by step."""
    asked = kind.ask(question, replies)
    if asked is None:
        return kind.grade(question, replies).score
    if asked.form != "choose" or not deeper:
        return None
    ends = [
        _best(kind, question, (*replies, (choice.key,)), deeper - 1) for choice in asked.choices
    ]
    known = [end for end in ends if end is not None]
    return max(known) if len(known) == len(ends) else None
