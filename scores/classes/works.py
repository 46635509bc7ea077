"""Which decks of a class are one work."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from drills.basics.json_values import as_json, from_json, json_text
from scores.exchange.results_written import MOST_PLACES, CoursePlace, DeckNamed
from scores.exchange.same_work import same_work


class Words(NamedTuple):
    """What of a deck says which work it is, and where it stands in courses."""

    title: str
    author: str
    questions: str
    places: tuple[CoursePlace, ...]

    @property
    def stands(self) -> set[tuple[tuple[str, str], str, str]]:
        """Its places: course, name in it and level; at another level a deck wants other days."""
        return {(one.course, one.name, one.level) for one in self.places}


def places_in(courses: str) -> tuple[CoursePlace, ...]:
    """The places in courses that a deck's row tells of, if any."""
    held = json.loads(courses) if courses else []
    return tuple(from_json(CoursePlace, one) for one in held)


def places_text(places: Iterable[CoursePlace]) -> str:
    """The same as a row has them: whichever order they come in, at most ``MOST_PLACES``."""
    texts = sorted({json_text(as_json(one), in_order=True) for one in places})[:MOST_PLACES]
    return f"[{','.join(texts)}]" if texts else ""


def parted(
    places: Sequence[CoursePlace],
) -> tuple[CoursePlace | None, tuple[CoursePlace, ...]]:
    """The first of a deck's places and the others, as ``DeckNamed`` has them."""
    return (places[0] if places else None, tuple(places[1:]))


def places_of_works(db: sqlite3.Connection) -> dict[int, tuple[CoursePlace, ...]]:
    """The places of each work: those of the deck that speaks for it, then, in other courses,
    those of its other versions."""
    found: dict[int, dict[tuple[str, str], CoursePlace]] = defaultdict(dict)
    for work, courses in db.execute(
        "SELECT work, course FROM decks WHERE course != '' ORDER BY work, key != work, course"
    ):
        for one in places_in(courses):
            found[work].setdefault(one.course, one)
    return {work: tuple(places.values()) for work, places in found.items()}


def works_of(db: sqlite3.Connection, deck: DeckNamed) -> set[int]:
    """The works that a deck is of, as far as the class knows it or its like."""
    mine = Words(deck.title, deck.author, deck.questions, deck.places)
    rows = db.execute("SELECT fingerprint, title, author, questions, course, work FROM decks")
    return {
        work
        for fingerprint, title, author, questions, courses, work in rows
        if fingerprint == deck.fingerprint
        or one_work(mine, Words(title, author, questions, places_in(courses)))
    }


def one_work(one: Words, other: Words) -> bool:
    """Whether two decks of a class are one.

    Each place of each course is work of its own, however alike two of them are, and so is a deck
    of no course.
    """
    if not same_work(one, other):
        return False
    return bool(one.stands & other.stands) or not (one.places or other.places)
