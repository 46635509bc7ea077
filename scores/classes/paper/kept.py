"""Putting answers on paper into a class, and reading how many there are."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, NamedTuple
from uuid import UUID, uuid5

from drills.basics.days import practice_day, utc_text
from scores.classes.class_lines import OnPaperCount
from scores.classes.paper.tables import LATEST, OF_PERSON, PUT, TABLE
from scores.classes.roll import folded
from scores.classes.works import works_of
from scores.record.paper_answers import PaperAnswer

if TYPE_CHECKING:
    from collections.abc import Callable

    from scores.exchange.on_paper import SharedOnPaper
    from scores.exchange.results_written import DeckNamed

_PEOPLE = UUID("5b0f4b0e-39a5-5a43-b0b4-0c6b3f6a9d57")


def id_of_name(name: str) -> str:
    """The id of a student who never sent a file: the same wherever a teacher types the name."""
    # Of a name of stops alone nothing is left once it is folded.
    return str(uuid5(_PEOPLE, folded(name) or name))


def put_on_paper(
    db: sqlite3.Connection,
    student: int,
    deck: int,
    answers: Iterable[SharedOnPaper],
    skill: Callable[[sqlite3.Connection, str, str], int],
    ms: Callable[..., int],
) -> None:
    """Keep answers on paper of a student's and a deck's key; known ones change nothing."""
    rows = [
        (
            student,
            bytes.fromhex(one.answer.id.replace("-", "")),
            deck,
            skill(db, one.answer.kind, one.answer.region),
            one.sheet,
            one.number,
            one.letters,
            ms(one.typed),
            ms(one.answer.at),
            practice_day(one.answer.at).toordinal(),
            one.answer.score,
            int(one.answer.right),
        )
        for one in answers
    ]
    db.executemany(PUT, rows)


def count_of(db: sqlite3.Connection, person: int) -> int:
    """How many answers on paper a person has that count."""
    (count,) = db.execute(f"SELECT count(*) FROM {OF_PERSON}", {"student": person}).fetchone()
    return int(count)


def counts(db: sqlite3.Connection, deck: str = "") -> dict[int, OnPaperCount]:
    """By person, over one deck (by fingerprint) or over all."""
    of_deck = (
        ""
        if not deck
        else (
            "WHERE deck IN (SELECT key FROM decks WHERE work ="
            " (SELECT work FROM decks WHERE fingerprint = ?))"
        )
    )
    rows = db.execute(
        f"SELECT person, count(*), sum(right), avg(score), max(day) FROM {LATEST} {of_deck}"
        " GROUP BY person",
        (deck,) if deck else (),
    )
    return {person: OnPaperCount(*rest) for person, *rest in rows}


class OnPaper(NamedTuple):
    """An answer on paper that counts: ``student`` is a person's id, ``deck`` a fingerprint, ``at``
    noon of the day it was written."""

    id: str
    student: str
    deck: str
    kind: str
    region: str
    at: datetime
    score: float
    right: bool


def every_one(db: sqlite3.Connection, deck: str = "") -> list[OnPaper]:
    """Those of one deck (by fingerprint) or of all that count, in the order of time."""
    of_deck = "WHERE decks.work = (SELECT work FROM decks WHERE fingerprint = ?)" if deck else ""
    rows = db.execute(
        "SELECT mine.id, students.id, fingerprint, kind, region, at_ms, score, right"
        f" FROM {LATEST} AS mine JOIN students ON students.key = mine.person"
        " JOIN decks ON decks.key = mine.deck JOIN skills ON skills.key = mine.skill"
        f" {of_deck} ORDER BY at_ms, mine.id",
        (deck,) if deck else (),
    )
    return [
        OnPaper(
            str(UUID(bytes=identity)),
            *(student, fingerprint, kind, region),
            datetime.fromtimestamp(ms / 1000, UTC),
            score,
            right > 0,
        )
        for identity, student, fingerprint, kind, region, ms, score, right in rows
    ]


def of_student(db: sqlite3.Connection, student: str, deck_is: DeckNamed) -> list[PaperAnswer]:
    """What was typed of a deck for a student's id, the oldest first.

    Another deck may ask the very same, on sheets of the same names: that is other work.
    """
    works = sorted(works_of(db, deck_is))
    rows = db.execute(
        "SELECT mine.id, fingerprint, sheet, number, letters, day, typed_ms, kind, region, score,"
        f" right FROM {TABLE} AS mine JOIN students ON students.key = mine.student"
        " JOIN decks ON decks.key = mine.deck JOIN skills ON skills.key = mine.skill"
        " WHERE students.person = (SELECT person FROM students WHERE id = ?)"
        f" AND decks.work IN ({', '.join('?' * len(works))}) ORDER BY typed_ms, mine.id",
        (student, *works),
    )
    return [
        PaperAnswer(
            str(UUID(bytes=identity)),
            deck,
            sheet,
            number,
            letters,
            date.fromordinal(day),
            utc_text(datetime.fromtimestamp(ms / 1000, UTC)),
            kind,
            region,
            "",
            score,
            bool(right),
            "UTC",
        )
        for identity, deck, sheet, number, letters, day, ms, kind, region, score, right in rows
    ]
