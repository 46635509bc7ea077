"""Which decks of a class are one work."""

from __future__ import annotations

import json
import sqlite3
from typing import NamedTuple

from drills.basics.json_values import from_json
from scores.exchange.results_written import CoursePlace, DeckNamed
from scores.exchange.same_work import may_be_one, same_work


class Words(NamedTuple):
    """What of a deck says which work it is, and where it stands in a course."""

    title: str
    author: str
    questions: str
    place: CoursePlace | None

    @classmethod
    def of(cls, title: str, author: str, questions: str, place: CoursePlace | None) -> Words:
        """Of a deck at its place in a course, if it has one."""
        # At another level a deck wants other days, even where it asks the same; and one of a
        # course, at whatever level, is not one of none.
        level = f" {place.level}" if place and questions else ""
        return cls(title, author, questions + level, place)


def place_in(course: str) -> CoursePlace | None:
    """The place in a course that a deck's row tells of, if any."""
    return from_json(CoursePlace, json.loads(course)) if course else None


def works_of(db: sqlite3.Connection, deck: DeckNamed) -> set[int]:
    """The works that a deck is of, as far as the class knows it or its like."""
    mine = Words.of(deck.title, deck.author, deck.questions, deck.course)
    rows = db.execute("SELECT fingerprint, title, author, questions, course, work FROM decks")
    return {
        work
        for fingerprint, title, author, questions, course, work in rows
        if fingerprint == deck.fingerprint
        or one_work(mine, Words.of(title, author, questions, place_in(course)))
    }


def one_work(one: Words, other: Words) -> bool:
    """Whether two decks of a class are one; two places in courses never are."""
    return may_be_one(one.place, other.place) and same_work(one, other)
