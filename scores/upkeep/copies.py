"""A copy of the record that is whole, and one put back in its place. Nothing is overwritten."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from drills.basics.drafts import draft_of, fill, take_name
from drills.basics.errors import InputError, plain
from scores.record.failures import (
    FAILURES,
    CannotOpenError,
    UnreadableRecordError,
    error_name,
    reason,
)
from scores.record.journal.file import journal_path
from scores.record.queries import attempts_held
from scores.record.record import Record
from scores.record.set_aside import clear, free_name, set_aside_replaced
from scores.record.storage import connect, open_file

CLOSE_FIRST = "Close the coach wherever it is open, and try again."


@dataclass(frozen=True)
class Restored:
    """What was put back: its answers, and where the record before it lies now, if there was one.

    ``added`` are the answers put in beside the copy's own.
    """

    answers: int
    aside: Path | None
    added: int = 0


def backup(record: Record, target: Path) -> int:
    """Write a whole copy of an open record, one file; how many answers it holds.

    SQLite's online backup: the app may write meanwhile, and the copy is the record
    as it was at one moment. Raises InputError.
    """
    where = plain(str(target), 200)
    _must_be_free(target, where)
    if not record.begun:
        raise InputError(where, "there is no record yet, so nothing to copy", "")
    draft = draft_of(target)
    try:
        clear(draft)
        fill(draft, ())
        with closing(sqlite3.connect(draft, isolation_level=None)) as copy:
            copy.execute("PRAGMA synchronous = FULL")
            record.copy_into(copy)
            # One file that travels: no log beside it.
            copy.execute("PRAGMA journal_mode = DELETE")
            _must_be_sound(copy, where)
            answers = int(copy.execute("SELECT count(*) FROM attempts").fetchone()[0])
        _take_name(draft, target)
    except (*FAILURES, OSError) as error:
        raise InputError(where, f"no copy was made: {reason(error)}", "") from error
    finally:
        clear(draft)
    return answers


def restore(source: Path, path: Path, at: datetime, exactly: bool = False) -> Restored:
    """Put a copy in the record's place; the record that is there is renamed, not lost.

    The copy is checked first: that it is a record of ours, of this version or an
    older one (which is brought up to date), and sound through and through.
    Answers that the journal holds beyond the copy are put back (``after_restore``), unless
    it is to be ``exactly`` the copy: then the journal is renamed as well. Raises InputError,
    and then nothing has changed.
    """
    where = plain(str(source), 200)
    draft = path.with_name(f"{path.name}.restored-{os.getpid()}")
    try:
        if path.exists() and source.exists() and source.samefile(path):
            raise InputError(where, "this is the record itself", "Give a copy made by backup.")
        path.parent.mkdir(parents=True, exist_ok=True)
        answers = checked_copy(source, draft, where)
        aside = _out_of_the_way(path, at)
        journal = journal_path(path)
        if exactly and journal.exists():
            journal.rename(free_name(journal, "replaced", at))
        _take_name(draft, path)
    except (*FAILURES, OSError) as error:
        raise InputError(where, f"nothing was restored: {reason(error)}", "") from error
    finally:
        clear(draft)
    return Restored(answers, aside, after_restore(path, exactly))


def after_restore(record_path: Path, exactly: bool) -> int:
    """Put back the answers the journal holds beyond a copy just restored; how many there were.

    ``exactly``: none. Raises InputError.
    """
    if exactly:
        return 0
    with closing(Record.open(record_path, journaled=False)) as record:
        before = record.count()
    with closing(Record.open(record_path)) as record:
        return record.count() - before


def _must_be_free(target: Path, where: str) -> None:
    """Nothing of this name, not even a link to nothing; and a folder for it. Raises InputError."""
    try:
        target.lstat()
    except FileNotFoundError:
        if not target.parent.is_dir():
            raise InputError(where, "there is no such folder", "Make it first.") from None
    except (OSError, ValueError) as error:
        problem = reason(error) if isinstance(error, OSError) else "not a usable path"
        raise InputError(where, f"no copy was made: {problem}", "Give another name.") from error
    else:
        raise InputError(where, "there is a file of this name", "Give another name.")


def checked_copy(source: Path, draft: Path, where: str) -> int:
    """A sound, up-to-date copy at ``draft``; how many answers it holds."""
    if not source.is_file():
        raise InputError(where, "there is no such file", "Give a copy made by backup.")
    try:
        with closing(connect(source, readonly=True)) as given:
            _header(source)
            with closing(sqlite3.connect(draft, isolation_level=None)) as copy:
                given.backup(copy)
        db = open_file(draft)
    except UnreadableRecordError as error:
        remedy = "Update the coach." if error.state == "newer" else "Try: coach scores rescue"
        raise InputError(where, error.problem, remedy) from error
    except CannotOpenError as error:
        raise InputError(where, str(error), "Check the file.") from error
    except FAILURES as error:
        raise InputError(where, reason(error), "Try: coach scores rescue") from error
    with closing(db):
        db.execute("PRAGMA journal_mode = WAL")
        _must_be_sound(db, where)
    try:
        with closing(Record.open_strictly(draft, False, journaled=False)) as record:
            answers = attempts_held(record)
            if answers != record.count():
                record.rebuild_skills()
    except UnreadableRecordError as error:
        raise InputError(where, error.problem, "Try: coach scores rescue") from error
    with closing(connect(draft)) as db:
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return answers


def _header(source: Path) -> None:
    """SQLite takes an empty file for an empty database."""
    with source.open("rb") as file:
        if file.read(16) != b"SQLite format 3\0":
            raise UnreadableRecordError("damaged", "it is not a record")


def _must_be_sound(db: sqlite3.Connection, where: str) -> None:
    found = [str(row[0]) for row in db.execute("PRAGMA quick_check(3)")]
    if found != ["ok"]:
        raise InputError(where, f"it is damaged ({plain(found[0])})", "Try: coach scores rescue")
    if db.execute("PRAGMA foreign_key_check").fetchone() is not None:
        raise InputError(where, "it lacks some answers' details", "Try: coach scores rescue")


def nobody_has_it_open(path: Path) -> None:
    """Make sure that no other program holds the record. Raises InputError.

    Leaving WAL mode needs the file for oneself alone; as a kindness it also brings
    the log's pages home, so that the file is whole by itself.
    """
    try:
        with closing(connect(path)) as db:
            db.execute("PRAGMA journal_mode = DELETE")
    except FAILURES as error:
        if error_name(error).startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
            where = plain(str(path), 200)
            raise InputError(where, "the record is open in another program", CLOSE_FIRST) from error
        # A damaged record can be open nowhere, and is moved as it is.


def _out_of_the_way(path: Path, at: datetime) -> Path | None:
    if not path.exists():
        return None
    nobody_has_it_open(path)
    return set_aside_replaced(path, at)


def _take_name(draft: Path, target: Path) -> None:
    """Give a finished draft its name, over nothing."""
    with draft.open("rb") as file:
        os.fsync(file.fileno())
    try:
        take_name(draft, target)
    except FileExistsError as error:
        raise InputError(
            plain(str(target), 200), "a file of this name has just come", "Try again."
        ) from error
