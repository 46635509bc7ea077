"""Taking entries of a journal into the database, inside the caller's transaction."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, replace

from drills.basics.json_values import JSON, json_text
from scores.record import derived, tables
from scores.record.attempt import Attempt
from scores.record.journal.lines import NOT_KEPT, JournalContent, answer_row, what_of
from scores.record.mending.readable_rows import sound_attempt

FEW = 200
"""So many answers added last are followed one by one; for more all is worked out anew."""


@dataclass(frozen=True)
class Taken:
    """How many answers, and settings, pencil sets and decks, were new or otherwise before."""

    answers: int = 0
    others: int = 0

    def __bool__(self) -> bool:
        return bool(self.answers or self.others)


def known(db: sqlite3.Connection) -> set[str]:
    """The ids of all answers."""
    return {row[0] for row in db.execute("SELECT id FROM attempts")}


def attempts_of(bodies: Iterable[bytes], sort: bool = True) -> list[Attempt]:
    """The answers of entries, in the order in which they were given; senseless ones left out.

    Without ``sort`` they stay in the order of the entries.
    """
    found = []
    for body in bodies:
        entry = what_of(body)
        if entry is None or entry[0] != "answer":
            continue
        try:
            row, facts = answer_row(entry[1])
        except (KeyError, ValueError, TypeError):
            continue
        attempt = sound_attempt(row, facts)
        if attempt is not None:
            found.append(attempt)
    return sorted(found, key=order) if sort else found


def order(attempt: Attempt) -> tuple[object, ...]:
    """Answers stand in the order in which they were given."""
    return (attempt.at_utc, attempt.session, attempt.number, attempt.id)


def take_in_latest(db: sqlite3.Connection, held: JournalContent) -> Taken:
    """Take in the entries added last, as they were added: each answer is followed in turn."""
    new = [
        attempt
        for attempt in attempts_of(held.answers.values(), sort=False)
        if not tables.has_attempt(db, attempt.id)
    ]
    if len(new) > FEW:
        return take_in(db, held)
    for attempt in new:
        derived.follow(db, attempt, untimed=True)
    return Taken(len(new), take_in(db, replace(held, answers={})).others)


def take_in(db: sqlite3.Connection, held: JournalContent, over: bool = True) -> Taken:
    """Take in what a journal holds and the database does not.

    ``over`` says whether the journal's settings, sets and decks go before the
    database's where both have one. Raises sqlite3.Error.
    """
    answers = put_answers(db, attempts_of(held.answers.values()))
    others = _settings(db, held.settings, over)
    others += sum(_pencils(db, row, over) for row in held.pencils.values())
    others += sum(_deck(db, name, row, over) for name, row in held.decks.items())
    return Taken(answers, others)


def put_answers(db: sqlite3.Connection, attempts: list[Attempt]) -> int:
    """Keep answers from elsewhere, given in order; how many were new. All tables follow."""
    there = known(db)
    new = [attempt for attempt in attempts if attempt.id not in there]
    if not new:
        return 0
    for attempt in new:
        tables.put_attempt(db, attempt, tables.checked_facts(attempt))
    derived.in_order(db)
    derived.rebuild(db)
    return len(new)


def _settings(db: sqlite3.Connection, settings: dict[str, JSON], over: bool) -> int:
    changed = 0
    for key, value in settings.items():
        if key in NOT_KEPT:
            continue
        row = db.execute("SELECT value FROM settings WHERE key = ?", (key,)).fetchone()
        if row is not None and (not over or row[0] == json_text(value)):
            continue
        tables.put_setting(db, key, value)
        changed += 1
    return changed


def _pencils(db: sqlite3.Connection, row: tuple[str, ...], over: bool) -> int:
    found = db.execute(
        "SELECT fingerprint, name, csv FROM pencil_sets WHERE fingerprint = ?", row[:1]
    ).fetchone()
    if found is not None and (not over or found == row[:3]):
        return 0
    db.execute(
        "INSERT OR REPLACE INTO pencil_sets (fingerprint, name, csv, added_utc)"
        " VALUES (?, ?, ?, ?)",
        row,
    )
    return 1


def _deck(db: sqlite3.Connection, name: str, row: tuple[str, ...] | None, over: bool) -> int:
    found = db.execute(
        "SELECT fingerprint, title, content FROM decks WHERE fingerprint = ?", (name,)
    ).fetchone()
    if row is None:
        if found is None or not over:
            return 0
        db.execute("DELETE FROM decks WHERE fingerprint = ?", (name,))
        return 1
    if found is not None and (not over or found == row[:3]):
        return 0
    db.execute(
        "INSERT OR REPLACE INTO decks (fingerprint, title, content, offers, added_utc)"
        " VALUES (?, ?, ?, 'null', ?)",
        (*row[:3], row[3]),
    )
    return 1
