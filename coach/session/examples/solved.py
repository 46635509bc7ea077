"""The question that is solved for a learner before one of its kind is asked."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import date
from typing import TYPE_CHECKING

from coach.session.question import ask_for
from drills.basics.json_values import JSON
from scores.record.record import NotSavedError, Record
from scores.skill.difficulty import step_at
from scores.today.examples import HUE_UNITS, SHOWN, days_shown

if TYPE_CHECKING:
    from coach.session.feed import SoFar
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind, Question
    from drills.questions.worked import Worked
    from scores.today.day_plan import Item

PLAIN = 0.15
"""How hard an example's question is, as a level (0 the kind's easiest); our estimate."""
TRIES = 4

Regions = Callable[[str], Sequence[str]]
"""The regions that a kind, by its name, can be asked in."""


def solved_before(
    kind: Kind, palette: Palette, regions: Regions, item: Item, question: Question, so_far: SoFar
) -> Worked | None:
    """A question like ``question``, solved; None where these pencils give no other.

    Where a hue is the answer it is of any region at all: it must tell nothing of the question
    that follows.
    """
    from drills.questions.worked import worked

    offered = list(regions(kind.name))
    for turn in range(TRIES):
        name = f"{so_far.seed}/{so_far.number}/example/{turn}"
        region = item.region
        if kind.unit in HUE_UNITS and offered:
            region = random.Random(name).choice(offered)
        found = ask_for(kind, palette, region, step_at(kind.steps, PLAIN), name)
        if found is not None and found.facts != question.facts:
            return worked(kind, found)
    return None


def keep_shown(record: Record, kind: str, day: date) -> None:
    """Keep that it was; where that can't be saved it may come again, and does no harm."""
    days: dict[str, JSON] = {
        name: then.isoformat() for name, then in days_shown(record.setting(SHOWN)).items()
    }
    with suppress(NotSavedError):
        record.set_setting(SHOWN, {**days, kind: day.isoformat()})
