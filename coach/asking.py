"""One question for one skill, at the step where its learner stands."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from scores.difficulty import first_step, next_step
from scores.memory import SkillState

if TYPE_CHECKING:
    from drills.kinds.protocol import Kind, Question
    from drills.layering.palette import Palette

SEED_BITS = 48
"""Few enough that a seed passes unharmed through any reader of JSON."""


def ask_for(
    kind: Kind, palette: Palette, region: str, state: SkillState | None, name: str
) -> Question | None:
    """A question at the skill's step, else an easier, else a harder one; None if all are refused.

    ``name`` stands for the session's seed and the question's number: the same
    name asks the same question.
    """
    from drills.kinds import draw
    from drills.kinds.protocol import CannotAskError

    step = state.step if state is not None else None
    step = first_step(kind.steps) if step is None else step
    easier, harder = next_step(kind.steps, step, False), next_step(kind.steps, step, True)
    for turn, wanted in enumerate((step, step, easier, harder)):
        rng = random.Random(f"{name}/{kind.name}:{region}/{turn}")
        try:
            return draw(kind, palette, region, wanted, rng.getrandbits(SEED_BITS))
        except CannotAskError:
            continue
    return None
