"""Adding to a record what another holds and it lacks: to the database and to the journal."""

from __future__ import annotations

import sqlite3
from dataclasses import replace

from scores.record.attempt import Attempt
from scores.record.journal.lines import (
    NOT_KEPT,
    JournalContent,
    answer_body,
    deck_body,
    pencils_body,
    setting_body,
)
from scores.record.mending.taking_in import known, put_answers, take_in
from scores.record.record import Record
from scores.record.rows import attempt_row, facts_row

UNLIKE = frozenset({"student", "pseudonym"})
"""Settings that are one record's own."""


def merge_in(record: Record, attempts: list[Attempt], held: JournalContent) -> tuple[int, int]:
    """Add what is new of another's answers, settings, sets and decks; how many of each.

    ``attempts`` are in the order in which they were given. Raises NotSavedError.
    """

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

    return record.transact(put)


def _leave_what_is_here(db: sqlite3.Connection, held: JournalContent) -> list[str]:
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
