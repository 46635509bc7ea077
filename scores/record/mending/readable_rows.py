"""What can be read of a record that may be damaged, row by row. It is only read."""

from __future__ import annotations

import json
import math
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, suppress
from pathlib import Path
from typing import Any

from scores.record import tables
from scores.record.attempt import Attempt
from scores.record.failures import FAILURES
from scores.record.mending import damaged_pages
from scores.record.rows import ATTEMPT_COLUMNS, COLUMNS, FACT_COLUMNS, attempt_of
from scores.record.storage import connect
from scores.record.trials import NOT_PRACTICE
from scores.skill.outcome import OUTCOMES

ATTEMPT_WIDTH = len(ATTEMPT_COLUMNS.split(","))
FACT_WIDTH = len(FACT_COLUMNS.split(","))
NO_FACTS = ["null", "{}", "[]", ""]
"""The details of an answer whose own can't be read."""
_FURTHEST = 1 << 40
_MOST_BARREN = 40
"""Leaps running after which nothing was read, before a table is given up."""


def found_rows(source: Path) -> dict[str, dict[Any, list[Any]]]:
    """Rows by table and key: through SQLite where it can reach them, then from the bytes."""
    found: dict[str, dict[Any, list[Any]]] = {
        name: {} for name in ("attempts", "attempt_facts", "settings", "pencil_sets", "decks")
    }
    with suppress(*FAILURES), closing(connect(source, readonly=True)) as db:
        for name, rows in found.items():
            with suppress(*FAILURES):
                for row in _reachable(db, name):
                    rows[row[0]] = list(row[1:])
    _from_bytes(source, found)
    return found


def _reachable(db: sqlite3.Connection, table: str) -> Iterator[Sequence[Any]]:
    """The rows of a table in the order of their rowids, leaping over what can't be read."""
    columns = COLUMNS[table]
    at, barren = -1, 0
    while barren < _MOST_BARREN:
        got = False
        try:
            for row in db.execute(
                f"SELECT rowid, {columns} FROM {table} WHERE rowid > ? ORDER BY rowid", (at,)
            ):
                if row[0] > at:  # A broken page may give them in any order.
                    at, got = row[0], True
                    yield row[1:]
            return
        except FAILURES:
            leap = _leap(db, table, at)
            if leap is None:
                return
            # Ever farther where nothing comes of it, or each rowid would be tried.
            barren = 0 if got else barren + 1
            at = max(leap, at + (1 << barren))


def _leap(db: sqlite3.Connection, table: str, at: int) -> int | None:
    """The least rowid after ``at``, less one, from which reading works again."""

    def readable(start: int) -> bool:
        with suppress(*FAILURES):
            query = f"SELECT * FROM {table} WHERE rowid > ? ORDER BY rowid LIMIT 1"
            return db.execute(query, (start,)).fetchone() is not None
        return False

    width = 1
    while not readable(at + width):
        width *= 2
        if width > _FURTHEST:
            return None
    low, high = at + width // 2, at + width
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if readable(middle) else (middle, high)
    return high


def _from_bytes(source: Path, found: dict[str, dict[Any, list[Any]]]) -> None:
    """Answers and their details that SQLite did not reach.

    They are written once and never changed, so that an old copy of a page is as good.
    """
    attempts, facts = found["attempts"], found["attempt_facts"]
    with suppress(OSError):
        for rowid, values in damaged_pages.rows(source):
            # The table's own key is not among the columns: it is the rowid.
            if len(values) == 1 + ATTEMPT_WIDTH and values[0] is None:
                attempts.setdefault(rowid, values[1:])
            elif len(values) == 1 + FACT_WIDTH and values[0] is None:
                if all(isinstance(value, str) for value in values[1:]):
                    facts.setdefault(rowid, values[1:])
            elif len(values) == 4 and all(isinstance(value, str) for value in values):
                # Named by the digest of its content, 64 hexadecimal figures.
                name = str(values[0])
                if len(name) == 64 and set(name) <= set("0123456789abcdef"):
                    found["pencil_sets"].setdefault(name, values[1:])


def sound_answers(
    attempts: dict[Any, list[Any]], facts: dict[Any, list[Any]]
) -> tuple[list[tuple[int, Attempt]], int]:
    """The answers that make sense, in order, each once; and how many are without details."""
    made: list[tuple[int, Attempt]] = []
    seen: set[str] = set()
    bare = 0
    for seq in sorted(key for key in attempts if isinstance(key, int)):
        attempt = sound_attempt(attempts[seq], facts.get(seq, NO_FACTS))
        lost = seq not in facts
        if attempt is None:
            attempt, lost = sound_attempt(attempts[seq], NO_FACTS), True
        if attempt is not None and attempt.id not in seen:
            seen.add(attempt.id)
            made.append((seq, attempt))
            bare += lost
    return made, bare


def sound_attempt(row: Sequence[Any], facts: Sequence[Any]) -> Attempt | None:
    try:
        made = attempt_of([*row, *facts])
        numbers = (made.score, made.error, made.step, made.chance, made.response_s, *made.steps)
        texts = (made.id, made.session, made.kind, made.region, made.zone, made.deck, made.unit)
        sound = (
            all(isinstance(v, int | float) and math.isfinite(v) for v in numbers)
            and all(isinstance(text, str) for text in texts)
            and isinstance(made.seed, int)
            and (made.outcome in OUTCOMES or made.deck in NOT_PRACTICE)
        )
        return made if sound and made.day and tables.checked_facts(made) else None
    except (ValueError, TypeError, IndexError, OverflowError, RecursionError):
        return None


def reads(table: str, row: list[Any]) -> bool:
    """Whether a setting's value is JSON, as every setting's must be."""
    if table != "settings":
        return True
    try:
        json.loads(row[1])
    except (ValueError, RecursionError):
        return False
    return True
