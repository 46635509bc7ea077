"""Rows that could be read of a damaged record, put into a sound one."""

from __future__ import annotations

import sqlite3
from collections.abc import Container
from contextlib import suppress
from typing import Any

from scores.record import derived
from scores.record.attempt import Attempt
from scores.record.mending.readable_rows import reads
from scores.record.mending.taking_in import put_answers
from scores.record.rows import COLUMNS, marks

OTHERS = ("settings", "pencil_sets", "decks")


def put_readable(
    db: sqlite3.Connection,
    attempts: list[Attempt],
    found: dict[str, dict[Any, list[Any]]],
    but: Container[str] = (),
) -> tuple[int, int, int]:
    """Put answers and other rows in where there are none; how many settings, sets and decks.

    ``but`` are keys left out. What follows from the answers is worked out anew.
    """
    put_answers(db, attempts)
    counts = []
    for table in OTHERS:
        put = 0
        columns = COLUMNS[table]
        for key, values in found[table].items():
            row = [key, *values]
            if key in but or not all(isinstance(value, str) for value in row):
                continue
            if reads(table, row):
                with suppress(sqlite3.IntegrityError):
                    db.execute(f"INSERT INTO {table} ({columns}) VALUES ({marks(columns)})", row)
                    put += 1
        counts.append(put)
    # The memory model may be told otherwise by a setting that has only now been found.
    derived.rebuild(db)
    return counts[0], counts[1], counts[2]
