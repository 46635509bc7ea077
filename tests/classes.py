"""Results files of made-up students, through the coach's own share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from scores.classes.store import ClassBook
from scores.classes.store_tables import STUDENT_TABLES
from scores.exchange.results_read import ResultsFile, read_results
from scores.exchange.results_written import DeckNamed, share
from scores.record.attempt import Attempt
from tests.answers import START, answer

DECK = DeckNamed("d" * 64, "Greens", "A. Teacher", 6, 3, date(2026, 3, 9), 0.7)
NOW = datetime(2026, 4, 1, 12, tzinfo=UTC)
STUDENTS = {
    "Wren": "11111111-1111-4111-8111-111111111111",
    "Rail": "22222222-2222-4222-8222-222222222222",
    "Teal": "33333333-3333-4333-8333-333333333333",
}


def attempts(student: str, numbers: Iterable[int], **changes: Any) -> list[Attempt]:
    """Answers of one student to DECK, one an hour from START."""
    made = []
    for number in numbers:
        one = answer(number, session=student, deck=DECK.fingerprint, **changes)
        made.append(replace(one, at_utc=START + timedelta(hours=number)))
    return made


def results_file(
    student: str,
    mine: Iterable[Attempt],
    deck: DeckNamed = DECK,
    name: str = "",
    pencils: str = "",
    pencil_set: str = "",
) -> bytes:
    """The bytes of a student's results file."""
    made = share(mine, deck, STUDENTS[student], name or student, "0.1.0", NOW, pencils, pencil_set)
    return made.text.encode()


def read(data: bytes) -> ResultsFile:
    return read_results(data, "file.json", NOW)


def class_of(path: Path, *files: bytes) -> ClassBook:
    """A new class with these files merged in this order."""
    book = ClassBook.open(path)
    for data in files:
        book.add(read(data), "file.json")
    return book


def content(book: ClassBook) -> dict[str, list[tuple[Any, ...]]]:
    """All that a class says, keys replaced by what they stand for: equal classes are equal here."""
    names = {
        table: dict(book.db.execute(f"SELECT key, {column} FROM {table}").fetchall())
        for table, column in (
            ("students", "id"),
            ("decks", "fingerprint"),
            ("skills", "kind || '/' || region"),
            ("targets", "name"),
        )
    }
    stands = {
        "student": "students",
        "deck": "decks",
        "work": "decks",
        "person": "students",
        "skill": "skills",
        "target": "targets",
    }
    said: dict[str, list[tuple[Any, ...]]] = {}
    for table in (
        *STUDENT_TABLES,
        "students",
        "decks",
        "expected",
        "same",
        "called",
        "pencil_sets",
    ):
        cursor = book.db.execute(f"SELECT * FROM {table}")
        columns = [column[0] for column in cursor.description]
        said[table] = sorted(
            tuple(
                names[stands[column]].get(value) if column in stands else value
                for column, value in zip(columns, row, strict=True)
                if column != "key"
            )
            for row in cursor
        )
    return said
