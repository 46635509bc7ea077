"""What can be wrong with a record, and why a save can fail, in plain words."""

from __future__ import annotations

import sqlite3
from typing import Literal

from drills.basics.errors import plain

FAILURES = (sqlite3.Error, UnicodeDecodeError)
"""What SQLite raises; a scribbled-over schema may be quoted in a message that is not text."""


class NotSavedError(Exception):
    """The record did not take it; the text says why in plain words. It may be tried again."""


class UnreadableRecordError(Exception):
    """The file is no record this program can read: ``state`` is "damaged" or "newer"."""

    def __init__(self, state: Literal["damaged", "newer"], problem: str) -> None:
        self.state: Literal["damaged", "newer"] = state
        self.problem = problem
        super().__init__(problem)


class CannotOpenError(Exception):
    """The file may be sound, but can't be opened now; the text says why in plain words."""


def reason(error: Exception) -> str:
    """Why SQLite or the system refused, in plain words."""
    if is_damage(error):
        return "the record is damaged"
    if isinstance(error, OSError):
        return plain(error.strerror or "the system refused").lower()
    for start, words in (
        ("SQLITE_FULL", "the disk is full"),
        ("SQLITE_READONLY", "the record or its folder is read-only"),
        ("SQLITE_PERM", "the record's folder may not be written to"),
        ("SQLITE_BUSY", "another program is holding the record"),
        ("SQLITE_LOCKED", "another program is holding the record"),
        ("SQLITE_CANTOPEN", "the record's file can't be opened or made"),
        ("SQLITE_IOERR", "the disk did not take it (full, over quota, or failing)"),
    ):
        if error_name(error).startswith(start):
            return words
    return f"the record did not take it ({plain(str(error))})"


def error_name(error: Exception) -> str:
    """SQLite's own name of an error, such as ``SQLITE_FULL``; empty for any other."""
    return getattr(error, "sqlite_errorname", "") or ""


def is_readonly(error: Exception) -> bool:
    """Whether an error means that the file was open for reading only."""
    return error_name(error).startswith("SQLITE_READONLY")


def is_damage(error: Exception) -> bool:
    """Whether an error means that the file itself is broken."""
    if isinstance(error, UnicodeDecodeError):
        return True
    if isinstance(error, sqlite3.OperationalError) and str(error).startswith("Could not decode"):
        return True
    return error_name(error).startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_FORMAT"))
