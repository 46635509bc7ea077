"""Two records made one: what another holds and this one lacks is added, nothing twice."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path

from drills.basics.errors import InputError, plain
from scores.record.failures import FAILURES, NotSavedError, reason
from scores.record.journal.lines import (
    NOT_KEPT,
    Held,
    answer_body,
    body_of,
    deck_body,
    gather,
    pencils_body,
    setting_body,
)
from scores.record.journal.reading import lines_of, name_of
from scores.record.mending.taking_in import attempts_of, known, put_answers, take_in
from scores.record.record import Record
from scores.record.rows import attempt_row, facts_row
from scores.upkeep.copies import checked_copy, clear

UNLIKE = frozenset({"student", "pseudonym"})
"""Settings that are one record's own."""


@dataclass(frozen=True)
class Merged:
    """Answers that were added, those that were here already, and other things added."""

    added: int
    here: int
    others: int


def merge(record: Record, source: Path) -> Merged:
    """Add what the record or journal at ``source`` holds and this record lacks.

    ``source`` is only read. Answers are told apart by their ids, and stand in the order in
    which they were given, so that merging twice, or the other way round, comes to the same.
    Settings, pencil sets and decks are added where there is none here. Raises InputError;
    then nothing has changed.
    """
    where = plain(str(source), 200)
    if not source.is_file():
        raise InputError(where, "there is no such file", "Give a record or its journal.")
    with source.open("rb") as file:
        start = file.read(16)
    if start == b"SQLite format 3\0":
        held = _held_by_record(source, record.path, where)
    else:
        lines = lines_of(source, 0)
        if not name_of(next(lines, b"")):
            raise InputError(where, "it is no record and no journal", "Give one of those.")
        held = gather(body_of(line) for line in lines)
    attempts = attempts_of(held.answers.values())

    def put(db: sqlite3.Connection) -> tuple[int, int]:
        there = known(db)
        new = [attempt for attempt in attempts if attempt.id not in there]
        put_answers(db, new)
        others = _leave_what_is_here(db, held)
        take_in(db, replace(held, answers={}), over=False)
        bodies = [answer_body(attempt_row(one), facts_row(one)) for one in new] + others
        if bodies:
            record._journal(db, *bodies)
        return len(new), len(others)

    try:
        added, others = record.transact(put)
    except NotSavedError as error:
        raise InputError(where, f"nothing was merged: {error}", "") from error
    return Merged(added, len(attempts) - added, others)


def _leave_what_is_here(db: sqlite3.Connection, held: Held) -> list[str]:
    """Keep of another's settings, sets and decks those not here; their entries in the journal."""

    def names(sql: str) -> set[str]:
        return {row[0] for row in db.execute(sql)}

    settings = names("SELECT key FROM settings") | UNLIKE | NOT_KEPT
    pencils = names("SELECT fingerprint FROM pencil_sets")
    decks = names("SELECT fingerprint FROM decks")
    held.settings = {key: value for key, value in held.settings.items() if key not in settings}
    held.pencils = {name: row for name, row in held.pencils.items() if name not in pencils}
    held.decks = {name: row for name, row in held.decks.items() if row and name not in decks}
    return [
        *(setting_body(key, value) for key, value in held.settings.items()),
        *(pencils_body(row) for row in held.pencils.values()),
        *(deck_body(row) for row in held.decks.values() if row),
    ]


def _held_by_record(source: Path, path: Path, where: str) -> Held:
    """Everything a record holds, read from a checked copy brought up to date."""
    draft = path.with_name(f"{path.name}.merging-{os.getpid()}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        checked_copy(source, draft, where)
        with closing(Record._open(draft, False, journaled=False)) as other:
            held = Held(settings=other.settings())
            for attempt in other.attempts():
                body = answer_body(attempt_row(attempt), facts_row(attempt))
                held.add(body.encode("utf-8"))
            rows = other._rows("SELECT fingerprint, name, csv, added_utc FROM pencil_sets")
            held.pencils = {row[0]: tuple(row) for row in rows}
            rows = other._rows("SELECT fingerprint, title, content, added_utc FROM decks")
            held.decks = {row[0]: tuple(row) for row in rows}
            return held
    except (*FAILURES, OSError, ValueError, TypeError) as error:
        why = reason(error) if isinstance(error, (*FAILURES, OSError)) else "it holds nonsense"
        raise InputError(where, f"nothing was merged: {why}", "") from error
    finally:
        clear(draft)
