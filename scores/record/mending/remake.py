"""The database made again: from its journal, and from what of it can still be read."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from scores.record import derived
from scores.record.journal.file import Journal
from scores.record.journal.lines import Held, gather
from scores.record.mending.readable_rows import found_rows, reads, sound_answers
from scores.record.mending.taking_in import put_answers, take_in
from scores.record.places import put_place
from scores.record.rows import COLUMNS, marks
from scores.record.set_aside import SIDE_FILES, set_aside
from scores.record.storage import make_file, open_file


@dataclass(frozen=True)
class Remade:
    """What was made again: answers in all, and where the unreadable file lies, if there was one."""

    answers: int
    aside: Path | None


def remake(
    path: Path, journal: Journal | None, at: datetime, state: Literal["damaged", "newer"]
) -> Remade:
    """Make the database at ``path`` again; one that is there is set aside, and only read.

    The new file is whole before it takes its name. Raises OSError or sqlite3.Error; then
    nothing has changed.
    """
    draft = path.with_name(f"{path.name}.remade-{os.getpid()}")
    path.parent.mkdir(parents=True, exist_ok=True)
    _clear(draft)
    try:
        make_file(draft)
        with closing(open_file(draft)) as db:
            db.execute("BEGIN IMMEDIATE")
            held = Held()
            if journal is not None and journal.exists():
                with journal.held():
                    held = gather(journal.read())
                    take_in(db, held)
                    put_place(db, journal.place(journal.end()))
            if path.exists() and state == "damaged":
                _put_readable(db, path, held)
            answers = int(db.execute("SELECT count(*) FROM attempts").fetchone()[0])
            db.execute("COMMIT")
            db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        aside = set_aside(path, state, at) if path.exists() else None
        draft.rename(path)
    finally:
        _clear(draft)
    return Remade(answers, aside)


def _put_readable(db: sqlite3.Connection, path: Path, held: Held) -> None:
    """Add what can be read of a damaged file, where the journal has not got it."""
    found = found_rows(path)
    attempts, _ = sound_answers(found["attempts"], found["attempt_facts"])
    put_answers(db, [attempt for _, attempt in attempts if attempt.id not in held.sums])
    dropped = {name for name, deck in held.decks.items() if deck is None}
    for table in ("settings", "pencil_sets", "decks"):
        columns = COLUMNS[table]
        for key, values in found[table].items():
            row = [key, *values]
            if key in dropped or not all(isinstance(value, str) for value in row):
                continue
            if reads(table, row):
                with suppress(sqlite3.IntegrityError):
                    db.execute(f"INSERT INTO {table} ({columns}) VALUES ({marks(columns)})", row)
    # The memory model may be told otherwise by a setting that has only now been found.
    derived.rebuild(db)


def _clear(draft: Path) -> None:
    for end in ("", *SIDE_FILES):
        draft.with_name(draft.name + end).unlink(missing_ok=True)
