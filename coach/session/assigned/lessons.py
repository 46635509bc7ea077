"""A deck's lessons: which come before a question, and which of them were read."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.session.assigned.deck_work import Assigned
from decks.deck import Deck, Step
from decks.lessons.steps import lesson_key, lessons
from drills.basics.json_values import JSON, names_in
from scores.record.record import NotSavedError, Record

if TYPE_CHECKING:
    from coach.session.assigned.deck_progress import DeckStanding
    from coach.session.session import Session

READ = "lessons_read"
"""The setting that names the lessons read, the latest last."""
KEPT = 300
"""Lessons whose reading is kept: the latest. An older one would come again."""


@dataclass(frozen=True)
class Lesson:
    """A step of a deck, to be shown before its questions."""

    deck: Deck
    step: Step


def lessons_over(session: Session) -> list[Lesson]:
    """The lessons that the session's present question comes under; none where no deck asks it."""
    item = session.item
    if not isinstance(item, Assigned):
        return []
    deck: Deck | None = getattr(session.feed.sources.get(item.source), "deck", None)
    if deck is None:
        return []
    return [Lesson(deck, step) for step in lessons(deck, item.kind, item.day)]


def lessons_begun(standings: Iterable[DeckStanding]) -> list[Lesson]:
    """The lessons of all decks that have begun, the latest of each deck first."""
    return [
        Lesson(one.deck, step)
        for one in standings
        for step in reversed(one.deck.steps)
        if step.day <= one.day_number
    ]


def unread(record: Record, found: Iterable[Lesson]) -> list[Lesson]:
    """Those that were not read yet."""
    lessons = list(found)
    # Most questions come under none.
    read = names_in(record.setting(READ)) if lessons else ()
    return [lesson for lesson in lessons if lesson_key(lesson.step) not in read]


def keep_read(record: Record, lesson: Lesson) -> None:
    """Keep that a lesson was read; where that can't be saved it comes again, and does no harm."""
    key = lesson_key(lesson.step)
    read = [one for one in names_in(record.setting(READ)) if one != key]
    kept: list[JSON] = [*read, key]
    with suppress(NotSavedError):
        record.set_setting(READ, kept[-KEPT:])
