"""What one answer says to the memory. Never the learner's own opinion of it.

=========  ==========================================================================
lost       wrong, far off, and no harder than usual
shaky      wrong but near, or wrong on a harder question than usual; or right but
           slow, with help, or so quick that nobody could have looked
held       right
easy-won   right, quick, no easier than usual, and not a question where one guess
           in three comes right
=========  ==========================================================================

"Quick" and "slow" are against the learner's own median time for the kind, once
five answers are known; "harder" and "easier" against the skill's usual step.
A right answer to a much easier question than usual is ``held`` at best. Every
bound is our estimate.
"""

from __future__ import annotations

from typing import Literal

Outcome = Literal["lost", "shaky", "held", "easy-won"]
OUTCOMES: tuple[Outcome, ...] = ("lost", "shaky", "held", "easy-won")

NEAR_SCORE = 0.6
"""A wrong answer from this score on was near."""
QUICK, SLOW = 0.7, 2.0
"""Times the learner's own median."""
UNSEEN_S = 0.35
"""Seconds under which an answer came before the colour could be judged."""
HARDER, EASIER = 0.8, 1.25
"""Times the skill's usual step (smaller is harder)."""
WITH_HELP = 1.0
"""The ``chance`` kept with an answer given with help: being right says nothing of the eye."""
GUESSABLE = 0.34
"""Chance from which a lucky guess is too likely to call an answer easy-won."""


def outcome_of(text: str) -> Outcome:
    """The outcome a record names. Raises ValueError for any other word."""
    for outcome in OUTCOMES:
        if outcome == text:
            return outcome
    raise ValueError(f"{text!r} is no outcome")


def judge(
    score: float,
    right: bool,
    response_s: float,
    usual_s: float | None,
    step: float,
    usual_step: float | None,
    chance: float,
) -> Outcome:
    """The outcome of one answer, by the table above.

    ``usual_s`` is the learner's own median seconds for this kind and
    ``usual_step`` the step this skill is usually asked at; None when unknown.
    """
    ratio = step / usual_step if usual_step is not None and usual_step > 0 and step > 0 else 1.0
    if not right:
        return "shaky" if score >= NEAR_SCORE or ratio <= HARDER else "lost"
    if response_s < UNSEEN_S or chance >= WITH_HELP:
        return "shaky"
    if usual_s is None or usual_s <= 0:
        return "held"
    if response_s > SLOW * usual_s:
        return "shaky"
    if response_s <= QUICK * usual_s and ratio <= EASIER and chance < GUESSABLE:
        return "easy-won"
    return "held"
