"""How far the journal was taken into the database."""

from __future__ import annotations

import sqlite3

from scores.record.journal.reading import Place


def place_of(db: sqlite3.Connection) -> Place | None:
    """How far the journal was taken in; None where no journal was yet."""
    row = db.execute("SELECT name, bytes, length, line FROM journal").fetchone()
    if row is None or not isinstance(row[3], bytes):
        return None
    return Place(str(row[0]), int(row[1]), int(row[2]), row[3])


def put_place(db: sqlite3.Connection, place: Place) -> None:
    """Note how far the journal was taken in."""
    db.execute(
        "INSERT OR REPLACE INTO journal (one, name, bytes, length, line) VALUES (1, ?, ?, ?, ?)",
        (place.name, place.end, place.length, place.line),
    )
