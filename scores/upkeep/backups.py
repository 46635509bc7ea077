"""A verified copy of the record each practice day, made while the coach is used.

The copy is drafted beside its name, checked, put on the disk, and only then
named, over nothing. Older ones are removed after that, as ``retention`` says.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from drills.basics.drafts import draft_of, take_name
from scores.record.failures import FAILURES
from scores.record.migrations import TABLES
from scores.record.set_aside import clear
from scores.record.storage import connect
from scores.upkeep.places import BACKUPS, backup_day, backup_name, is_draft
from scores.upkeep.retention import kept

PAGES = 256
"""Copied in one slice: a megabyte, of pages of 4 KiB."""
STEPS = 50_000
"""Steps of SQLite's machine between two rests while the copy is checked."""
ROOM_BYTES = 64_000_000
"""What must be left free beside the copy, so that the answers to come find room."""


class _StoppedError(Exception):
    """The coach is being left: the copy is dropped."""


@dataclass(frozen=True)
class Backup:
    """A backup there is; ``answers`` is None where the file can't be read."""

    path: Path
    day: date
    answers: int | None


def back_up(record: Path, today: date, go_on: Callable[[], bool] = lambda: True) -> Path | None:
    """Make today's backup unless there is one, then remove those no longer kept; its path.

    None where none was made: there is one, there are no answers, the disk is too
    full, the folder can't be written to, the record is damaged, or ``go_on`` said
    no. It is asked between slices, and may rest. Never raises for any of these.
    ``record`` is read through a connection of its own, in one read transaction,
    so that answers saved meanwhile neither wait nor make the copy begin again.
    """
    folder = record.parent / BACKUPS
    target = folder / backup_name(today)
    draft = draft_of(target)
    if os.path.lexists(target) or hindrance(record):
        return None
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
        clear(draft)
        answers = _copied(record, draft, go_on)
        if answers:
            take_name(draft, target)
    except (*FAILURES, OSError, _StoppedError):
        return None
    finally:
        with suppress(OSError):
            clear(draft)
    if not answers:
        return None
    with suppress(OSError):
        _remove_old(folder, today, answers)
    return target


def backups(home: Path) -> tuple[Backup, ...]:
    """The backups in the folder ``home``, newest first."""
    found = _found(home / BACKUPS)
    return tuple(
        Backup(path, day, _answers(path)) for day, path in sorted(found.items(), reverse=True)
    )


def newest_day(home: Path) -> date | None:
    """The day of the newest backup; None where there is none."""
    return max(_found(home / BACKUPS), default=None)


def hindrance(record: Path) -> str:
    """Why no backup can be made now, in plain words; empty where nothing is seen to hinder it."""
    folder = record.parent / BACKUPS
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        return "the name of its folder is taken by something else"
    at = folder if folder.exists() else record.parent
    if not os.access(at, os.W_OK | os.X_OK):
        return "its folder may not be written to"
    try:
        sizes = [_size(record.with_name(record.name + end)) for end in ("", "-wal")]
        if shutil.disk_usage(at).free < sum(sizes) + ROOM_BYTES:
            return "the disk is too full"
    except OSError:
        return "its folder can't be looked at"
    return ""


def _copied(record: Path, draft: Path, go_on: Callable[[], bool]) -> int:
    """Copy and verify; how many answers the copy holds. Raises what SQLite and the disk do."""

    def rest() -> bool:
        return not go_on()

    os.close(os.open(draft, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    with closing(connect(record, readonly=True)) as source:
        source.set_progress_handler(rest, STEPS)
        # One moment of the record, whatever is saved meanwhile.
        source.execute("BEGIN")
        told = _counts(source)
        if not told["attempts"]:
            return 0
        # Closing any descriptor of a file drops this process's locks on it: only after SQLite's.
        descriptor = os.open(draft, os.O_RDWR)
        try:
            with closing(sqlite3.connect(draft, isolation_level=None)) as copy:
                copy.execute("PRAGMA synchronous = OFF")

                def slice_done(status: int, remaining: int, total: int) -> None:
                    # Bit by bit, or the disk would hold up an answer behind the whole copy.
                    os.fsync(descriptor)
                    if not go_on():
                        raise _StoppedError

                source.backup(copy, pages=PAGES, progress=slice_done)
                source.execute("ROLLBACK")
                copy.execute("PRAGMA synchronous = FULL")
                copy.execute("PRAGMA journal_mode = DELETE")
                copy.set_progress_handler(rest, STEPS)
                _verify(copy, told)
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    return told["attempts"]


def _counts(db: sqlite3.Connection) -> dict[str, int]:
    return {
        name: int(db.execute(f"SELECT count(*) FROM {name}").fetchone()[0])
        for name in sorted(TABLES)
    }


def _verify(copy: sqlite3.Connection, told: dict[str, int]) -> None:
    """Raises sqlite3.DatabaseError unless the copy is sound and holds all rows."""
    if [row[0] for row in copy.execute("PRAGMA quick_check(1)")] != ["ok"]:
        raise sqlite3.DatabaseError("the copy is not sound")
    if copy.execute("PRAGMA foreign_key_check").fetchone() is not None:
        raise sqlite3.DatabaseError("an answer's details have no answer")
    if _counts(copy) != told:
        raise sqlite3.DatabaseError("the copy lacks rows")


def _remove_old(folder: Path, today: date, answers: int) -> None:
    """Remove the backups no longer kept, and drafts that an earlier start left behind.

    One with more answers than today's stays: the record has lost some since.
    """
    found = _found(folder)
    for day in found.keys() - kept(found.keys(), today):
        if (_answers(found[day]) or 0) <= answers:
            found[day].unlink(missing_ok=True)
    for stray in folder.iterdir():
        # Today's may be another coach's, at work on it now.
        if is_draft(stray.name) and not stray.name.startswith(backup_name(today)):
            stray.unlink(missing_ok=True)


def _found(folder: Path) -> dict[date, Path]:
    """Ordinary files with exactly a backup's name, by their day."""
    made: dict[date, Path] = {}
    if folder.is_symlink():
        return made
    with suppress(OSError):
        for path in folder.iterdir():
            day = backup_day(path.name)
            if day is not None and path.is_file() and not path.is_symlink():
                made[day] = path
    return made


def _answers(path: Path) -> int | None:
    try:
        with closing(connect(path, immutable=True)) as db:
            return int(db.execute("SELECT count(*) FROM attempts").fetchone()[0])
    except FAILURES:
        return None


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except FileNotFoundError:
        return 0
