"""The question that is solved for a learner before one of its kind is asked."""

from __future__ import annotations

import random
from contextlib import suppress
from datetime import date
from typing import TYPE_CHECKING

from coach.session.question import ask_for
from drills.basics.json_values import JSON
from scores.record.record import NotSavedError, Record
from scores.skill.difficulty import step_at
from scores.today.examples import HUE_UNITS, SHOWN, days_shown

if TYPE_CHECKING:
    from coach.session.feed import SoFar, Source
    from drills.questions.protocol import Kind, Question
    from drills.questions.worked import Worked
    from scores.today.day_plan import Item

PLAIN = 0.15
"""How hard an example's question is, as a level (0 the kind's easiest); our estimate."""
TRIES = 4


class Examples:
    """Solved questions to show before others; one made ahead is the same."""

    def __init__(self) -> None:
        self._number = 0
        self._drawn: dict[tuple[str, ...], Question | None] = {}
        self._worked: dict[tuple[str, ...], Worked | None] = {}

    def before(
        self, kind: Kind, source: Source, item: Item, question: Question, so_far: SoFar
    ) -> Worked | None:
        """A question like ``question``, solved; None where these pencils give no other.

        Where a hue is the answer it is of any region at all: it must tell nothing of the question
        that follows.
        """
        for turn in range(TRIES):
            name = self._name(item, so_far, turn)
            found = self._draw(kind, source, name)
            if found is not None and found.facts != question.facts:
                return self._work(kind, found, name)
        return None

    def ahead(self, kind: Kind, source: Source, item: Item, so_far: SoFar) -> bool:
        """Draw, and at the next call solve, the first question that ``before`` will try; False
        where both are done."""
        name = self._name(item, so_far, 0)
        drawn = name in self._drawn
        found = self._draw(kind, source, name)
        if drawn and (found is None or name in self._worked):
            return False
        if drawn and found is not None:
            self._work(kind, found, name)
        return True

    def _name(self, item: Item, so_far: SoFar, turn: int) -> tuple[str, ...]:
        """What tells one example from another; those of an earlier question are forgotten."""
        if so_far.number != self._number:
            self._number, self._drawn, self._worked = so_far.number, {}, {}
        return item.source, item.region, f"{so_far.seed}/{so_far.number}/example/{turn}", item.kind

    def _draw(self, kind: Kind, source: Source, named: tuple[str, ...]) -> Question | None:
        if named not in self._drawn:
            _, region, name, _ = named
            offered = source.regions(kind.name)
            if kind.unit in HUE_UNITS and offered:
                region = random.Random(name).choice(offered)
            step = step_at(kind.steps, PLAIN)
            self._drawn[named] = ask_for(kind, source.palette, region, step, name)
        return self._drawn[named]

    def _work(self, kind: Kind, question: Question, named: tuple[str, ...]) -> Worked | None:
        from drills.questions.worked import worked

        if named not in self._worked:
            self._worked[named] = worked(kind, question)
        return self._worked[named]


def keep_shown(record: Record, kind: str, day: date) -> None:
    """Keep that it was; where that can't be saved it may come again, and does no harm."""
    days: dict[str, JSON] = {
        name: then.isoformat() for name, then in days_shown(record.setting(SHOWN)).items()
    }
    with suppress(NotSavedError):
        record.set_setting(SHOWN, {**days, kind: day.isoformat()})
