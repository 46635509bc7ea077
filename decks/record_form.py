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

BEFORE, COURSE, ALSO = "before", "course", "also"


@dataclass(frozen=True)
class CourseKept:
    """What is kept of the course that a deck stands in.

    ``needs`` are the names of decks to be passed before it. ``passed`` says that it was passed
    before the course was added again, changed or at another level.
    """

    place: CoursePlace
    needs: tuple[str, ...] = ()
    passed: bool = False


def to_kept(deck: Deck, before: Sequence[str] = (), courses: Sequence[CourseKept] = ()) -> str:
    """The deck as JSON. ``before`` are fingerprints it had before words in it were changed,
    ``courses`` those it stands in, each once."""
    held: dict[str, Any] = as_json(deck)
    if before:
        held[BEFORE] = sorted(before)
    return json_text(held | _placed(courses))


def placed(text: str, courses: Sequence[CourseKept]) -> str:
    """A deck kept, standing in these courses and no others."""
    held = {key: value for key, value in json.loads(text).items() if key not in (COURSE, ALSO)}
    return json_text(held | _placed(courses))


def _placed(courses: Sequence[CourseKept]) -> dict[str, Any]:
    # Older coaches know of one course, and read no other key.
    held = [as_json(one) for one in courses]
    return {**({COURSE: held[0]} if held else {}), **({ALSO: held[1:]} if held[1:] else {})}


def courses_of(text: str) -> tuple[CourseKept, ...]:
    """What is kept of the courses that a deck stands in; none for a deck of none."""
    try:
        held = json.loads(text)
        return tuple(from_json(CourseKept, one) for one in (held[COURSE], *held.get(ALSO, ())))
    except (AttributeError, KeyError, TypeError, ValueError):
        return ()


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


def deck_named(deck: Deck, *places: CoursePlace) -> DeckNamed:
    """What a results file says of a deck, and of its places in courses."""
    own = [field.name for field in fields(DeckNamed) if field.name not in (COURSE, ALSO)]
    said = {name: getattr(deck, name) for name in own}
    return DeckNamed(**said, course=places[0] if places else None, also=places[1:])
