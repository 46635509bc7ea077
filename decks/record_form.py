"""A deck as the record keeps it: JSON that is read again without numpy.

It holds what followed from the colours' texts when the deck was added, so that
the first screen can plan from it.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

from decks.deck import Deck
from drills.basics.json_values import as_json, from_json, json_text, names_in
from scores.exchange.results_written import CoursePlace, DeckNamed

BEFORE, COURSE = "before", "course"


@dataclass(frozen=True)
class CourseKept:
    """What is kept of the course that a deck stands in.

    ``needs`` are the names of decks to be passed before it. ``passed`` says that it was passed
    before the course was added again, changed or at another level.
    """

    place: CoursePlace
    needs: tuple[str, ...] = ()
    passed: bool = False


def to_kept(deck: Deck, before: Sequence[str] = (), course: CourseKept | None = None) -> str:
    """The deck as JSON. ``before`` are fingerprints it had before words in it were changed."""
    held: dict[str, Any] = as_json(deck)
    if before:
        held[BEFORE] = sorted(before)
    if course is not None:
        held[COURSE] = as_json(course)
    return json_text(held)


def course_of(text: str) -> CourseKept | None:
    """What is kept of a deck's course; None for a deck of none."""
    try:
        held = json.loads(text)
        return from_json(CourseKept, held[COURSE])
    except (KeyError, TypeError, ValueError):
        return None


def before_of(text: str) -> tuple[str, ...]:
    """The fingerprints that a deck kept had before words in it were changed."""
    try:
        held = json.loads(text)
    except ValueError:
        return ()
    return names_in(held.get(BEFORE)) if isinstance(held, dict) else ()


def from_kept(text: str) -> Deck | None:
    """The deck of ``to_kept``; None for anything else (a record written over by hand)."""
    try:
        held = json.loads(text)
        # Decks kept before there were steps have none, nor had those all their keys at first.
        steps = [{"items_a_day": None, **step} for step in held.get("steps", [])]
        return from_json(Deck, {**held, "steps": steps})
    except (AttributeError, TypeError, ValueError):
        return None


def deck_named(deck: Deck, course: CoursePlace | None = None) -> DeckNamed:
    """What a results file says of a deck, and of its place in a course."""
    own = [field.name for field in fields(DeckNamed) if field.name != COURSE]
    return DeckNamed(**{name: getattr(deck, name) for name in own}, course=course)
