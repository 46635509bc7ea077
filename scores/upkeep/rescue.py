"""What can be read of a damaged record, saved into a new one, row by row."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from drills.basics.errors import InputError, plain
from scores.record import tables
from scores.record.attempt import Attempt
from scores.record.failures import FAILURES, reason
from scores.record.mending.readable_rows import found_rows, reads, sound_answers
from scores.record.record import NotSavedError, Record
from scores.record.rows import COLUMNS, marks


@dataclass(frozen=True)
class Rescued:
    """What was saved: answers, how many of them without their details, and other rows.

    ``missing`` are the numbers between the first and last answer that were not found.
    """

    answers: int
    bare: int
    missing: int
    settings: int
    pencils: int
    decks: int


def rescue(source: Path, target: Path) -> Rescued:
    """Save what can be read of ``source`` as a new record at ``target``.

    ``source`` is only read. Skills and counts are worked out anew from the answers
    found. Raises InputError.
    """
    where = plain(str(target), 200)
    if target.exists():
        raise InputError(where, "there is a file of this name", "Give another name.")
    if not source.is_file():
        raise InputError(plain(str(source), 200), "there is no such file", "")
    found = found_rows(source)
    attempts, bare = sound_answers(found["attempts"], found["attempt_facts"])
    if not any(found.values()):
        raise InputError(plain(str(source), 200), "nothing in it can be read", "")
    record = Record.open(target, journaled=False)
    try:
        others = _write(record, attempts, found)
    except NotSavedError as error:
        raise InputError(where, f"not saved: {error}", "") from error
    finally:
        record.close()
    seqs = [seq for seq, _ in attempts]
    missing = seqs[-1] - seqs[0] + 1 - len(seqs) if seqs else 0
    return Rescued(len(attempts), bare, missing, *others)


def _write(
    record: Record, attempts: list[tuple[int, Attempt]], found: dict[str, dict[Any, list[Any]]]
) -> tuple[int, int, int]:
    counts = []
    with record._write() as db:
        for _, attempt in attempts:
            tables.put_attempt(db, attempt, tables.checked_facts(attempt))
        for table in ("settings", "pencil_sets", "decks"):
            kept = 0
            columns = COLUMNS[table]
            for key, values in found[table].items():
                row = [key, *values]
                if all(isinstance(value, str) for value in row) and reads(table, row):
                    with suppress(sqlite3.IntegrityError):
                        db.execute(
                            f"INSERT INTO {table} ({columns}) VALUES ({marks(columns)})", row
                        )
                        kept += 1
            counts.append(kept)
    record.rebuild_skills()
    try:
        record._look()
    except (*FAILURES, ValueError, TypeError) as error:
        raise NotSavedError(reason(error)) from error
    return counts[0], counts[1], counts[2]
