"""Forgetting, in earnest: the whole record, or the answers to one deck."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from drills.basics.errors import InputError, plain
from scores.record.failures import reason
from scores.record.journal.drafts import draft_path
from scores.upkeep.copies import nobody_has_it_open
from scores.upkeep.places import BACKUPS, RECORD, backup_files, crash_files, record_files


def places(home: Path, drafts: Path | None = None) -> tuple[Path, ...]:
    """Every file in which the learner's answers or name may stand, in the coach's folder.

    The record and its journal with their logs, drafts, those set aside, the
    backups, the details of crashes: by name (``scores.upkeep.places``). ``drafts``
    is the folder where answers wait that the coach's own did not take.
    """
    waiting = () if drafts is None else (draft_path(home / RECORD, drafts),)
    return (
        *(file for file in waiting if file.is_file()),
        *crash_files(home),
        *record_files(home),
    )


def forget_everywhere(home: Path, drafts: Path | None = None) -> tuple[Path, ...]:
    """Delete all of the learner's (see ``places``); the files deleted. Raises InputError.

    What a disk keeps of deleted files, and copies made elsewhere, are beyond our reach.
    """
    path = home / RECORD
    if path.is_file():
        nobody_has_it_open(path)
    # Asked before: leaving its log, SQLite may have deleted some.
    files = places(home, drafts)
    _delete(files)
    _leave_no_folder(home)
    return files


def forget_backups(home: Path) -> tuple[Path, ...]:
    """Delete the backups alone, and their drafts; the files deleted. Raises InputError."""
    files = backup_files(home)
    _delete(files)
    _leave_no_folder(home)
    return files


def set_aside_files(home: Path) -> tuple[Path, ...]:
    """Records set aside, which may hold what has been forgotten since."""
    return tuple(
        file
        for file in record_files(home)
        if file.parent == home and file.name.startswith("record-")
    )


def _delete(files: tuple[Path, ...]) -> None:
    for file in files:
        try:
            file.unlink(missing_ok=True)
        except OSError as error:
            raise InputError(
                plain(str(file), 200), f"can't be deleted: {reason(error)}", "Delete it by hand."
            ) from error


def _leave_no_folder(home: Path) -> None:
    # One that holds something of another's stays.
    with suppress(OSError):
        (home / BACKUPS).rmdir()
