"""One question for one skill, at the step where its learner stands."""

from __future__ import annotations

import random
from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from scores.skill.difficulty import START, level, step_at
from scores.skill.memory import SkillState, kindred_of
from scores.skill.skill_words import skill_name

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind, Question

ASIDE = 0.12
"""Share of a kind's range by which an easier or a harder question is tried instead."""
SEED_BITS = 48
"""Few enough that a seed passes unharmed through any reader of JSON."""


def ask_for(
    kind: Kind,
    palette: Palette,
    region: str,
    skills: Mapping[str, SkillState],
    day: date,
    name: str,
) -> Question | None:
    """A question at the skill's step, else an easier, else a harder one; None if all are refused.

    The step is the one ``scores.skill.step_choice`` finds for this practice day; a kind
    whose threshold can't be measured is asked where a newcomer begins.

    ``name`` stands for the session's seed and the question's number: the same
    name asks the same question.
    """
    from drills.kinds import draw
    from drills.questions.protocol import CannotAskError

    step = wanted_step(kind, skill_name(kind.name, region), skills, day)
    place = level(kind.steps, step)
    easier, harder = (step_at(kind.steps, place + aside) for aside in (-ASIDE, ASIDE))
    for turn, wanted in enumerate((step, step, easier, harder)):
        rng = random.Random(f"{name}/{kind.name}:{region}/{turn}")
        try:
            return draw(kind, palette, region, wanted, rng.getrandbits(SEED_BITS))
        except CannotAskError:
            continue
    return None


def wanted_step(kind: Kind, skill: str, skills: Mapping[str, SkillState], day: date) -> float:
    """The step to ask a skill at on a practice day, in the kind's unit; see ``ask_for``."""
    from scores.skill.step_choice import step_to_ask
    from scores.skill.threshold import for_kind

    state = skills.get(skill)
    known = None if state is None else state.measured
    others = kindred_of(skills.values(), skill) if known is None else []
    kindred = [other.measured for other in others if other.measured is not None]
    known = for_kind(known, kind.steps, kind.chance, day, kindred)
    return step_at(kind.steps, START) if known is None else step_to_ask(known, day)
