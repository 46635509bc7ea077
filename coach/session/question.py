"""One question for one skill, at the step where its learner stands; its answer as it is kept."""

from __future__ import annotations

import random
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from drills.basics.days import zone_name
from drills.basics.json_values import JSON
from scores.record.attempt import Attempt, attempt_id
from scores.skill.difficulty import level, step_at
from scores.skill.outcome import WITH_HELP

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Answers, Grade, Kind, Lab, Question

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


def attempt_of(
    session: str, number: int, question: Question, kind: Kind, answers: Answers, grade: Grade,
    *, facts: dict[str, JSON], helped: bool, pencils: str, response_s: float, now: datetime,
    deck: str,
) -> Attempt:  # fmt: skip
    """An answer as the record keeps it. ``now`` is an aware local time."""
    return Attempt(
        id=attempt_id(session, number),
        session=session,
        number=number,
        kind=question.kind,
        kind_version=question.version,
        region=question.region,
        seed=question.seed,
        step=question.step,
        steps=kind.steps,
        chance=WITH_HELP if helped else kind.chance,
        pencils=pencils,
        target=None if question.target is None else list(question.target),
        facts=facts,
        answers=answers,
        score=grade.score,
        right=grade.right,
        error=grade.error,
        unit=grade.unit,
        verdict=grade.verdict,
        response_s=response_s,
        at_utc=now.astimezone(UTC),
        zone=zone_name(now),
        deck=deck,
    )
