"""One question for one skill, at the step where its learner stands."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from scores.skill.difficulty import level, step_at

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind, Lab, Question

ASIDE = 0.12
"""Share of a kind's range by which an easier or a harder question is tried instead."""
SEED_BITS = 48
"""Few enough that a seed passes unharmed through any reader of JSON."""


def ask_about(kind: Kind, palette: Palette, colour: Lab, step: float, name: str) -> Question | None:
    """A question about one colour; None where the kind asks of none, or these pencils refuse it."""
    from drills.questions.given_colour import asks_about_given, draw_for
    from drills.questions.protocol import CannotAskError

    if not asks_about_given(kind):
        return None
    rng = random.Random(f"{name}/{kind.name}")
    try:
        return draw_for(kind, palette, colour, step, rng.getrandbits(SEED_BITS))
    except CannotAskError:
        return None


def ask_for(kind: Kind, palette: Palette, region: str, step: float, name: str) -> Question | None:
    """A question at a step, else an easier, else a harder one; None if all are refused.

    ``step`` is in the kind's unit. ``name`` stands for the session's seed and the
    question's number: the same name asks the same question.
    """
    from drills.kinds import draw
    from drills.questions.protocol import CannotAskError

    place = level(kind.steps, step)
    easier, harder = (step_at(kind.steps, place + aside) for aside in (-ASIDE, ASIDE))
    for turn, wanted in enumerate((step, step, easier, harder)):
        rng = random.Random(f"{name}/{kind.name}:{region}/{turn}")
        try:
            return draw(kind, palette, region, wanted, rng.getrandbits(SEED_BITS))
        except CannotAskError:
            continue
    return None
