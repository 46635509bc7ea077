"""The record's file: opened, checked, made, or set aside. Never overwritten."""

from __future__ import annotations

import os
import sqlite3
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from drills.errors import plain
from scores.migrations import APPLICATION_ID, LATEST, TABLES, migrate
from scores.rows import COLUMNS

BUSY_MS = 1500
"""How long another program's hold on the record is waited for."""
FAILURES = (sqlite3.Error, UnicodeDecodeError)
"""What SQLite raises; a scribbled-over schema may be quoted in a message that is not text."""
HEADER_BYTES = 100
SIDE_FILES = ("-wal", "-shm", "-journal")


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


@dataclass(frozen=True)
class Notice:
    """A record was set aside: what was wrong, where it lies now, in words for the screen."""

    state: Literal["damaged", "newer"]
    path: Path
    text: str


def notice(error: UnreadableRecordError, aside: Path) -> Notice:
    """The notice for a record that now lies at ``aside``."""
    where = plain(str(aside), 200)
    if error.state == "newer":
        text = (
            "Your record was made by a newer coach, so a new one begins. The first is kept at"
            f" {where}: update the coach and move it back."
        )
    else:
        text = (
            f"Your record can't be read ({error.problem}), so a new one begins."
            f" The old file is kept at {where}."
        )
    return Notice(error.state, aside, text)


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
    return plain(str(error))


def error_name(error: Exception) -> str:
    """SQLite's own name of an error, such as ``SQLITE_FULL``; empty for any other."""
    return getattr(error, "sqlite_errorname", "") or ""


def is_readonly(error: Exception) -> bool:
    """Whether an error means that the file was open for reading only."""
    return error_name(error).startswith("SQLITE_READONLY")


def is_damage(error: Exception) -> bool:
    """Whether an error means that the file itself is broken."""
    return isinstance(error, UnicodeDecodeError) or error_name(error).startswith(
        ("SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_FORMAT")
    )


def connect(path: Path, *, readonly: bool = False, immutable: bool = False) -> sqlite3.Connection:
    """A connection with our settings; the file must exist. Raises sqlite3.Error."""
    mode = "mode=ro" if readonly or immutable else "mode=rw"
    extra = "&immutable=1" if immutable else ""
    connection = sqlite3.connect(
        f"{path.absolute().as_uri()}?{mode}{extra}",
        uri=True,
        isolation_level=None,
        check_same_thread=False,
        timeout=BUSY_MS / 1000,
    )
    try:
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA cell_size_check = ON")
    except FAILURES:
        connection.close()
        raise
    return connection


def open_file(path: Path) -> sqlite3.Connection:
    """Open an existing record, brought up to date.

    Raises UnreadableRecordError for a damaged or newer one and CannotOpenError
    when it can't be opened now.
    """
    _check_header(path)
    try:
        connection = _first_connection(path)
    except FAILURES as error:
        raise _refused(error) from error
    try:
        version = _check_identity(connection)
        if version < LATEST:
            migrate(connection)
        _check_tables(connection)
    except FAILURES as error:
        connection.close()
        raise _refused(error) from error
    except BaseException:
        connection.close()
        raise
    return connection


def _refused(error: Exception) -> Exception:
    if is_damage(error):
        return UnreadableRecordError("damaged", reason(error))
    return CannotOpenError(reason(error))


def _first_connection(path: Path) -> sqlite3.Connection:
    """Read and write if may be; else read only, so that today's plan can still be shown."""
    try:
        connection = connect(path)
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        return connection
    except FAILURES as error:
        if is_damage(error):
            raise
        refusal = error
    # A WAL file's readers need to write its index; on a read-only folder the
    # file can be read without one as long as no WAL is waiting.
    if waiting(path):
        raise refusal
    connection = connect(path, immutable=True)
    connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    return connection


def waiting(path: Path) -> bool:
    """Whether a write-ahead log holds pages not yet in the file."""
    try:
        return path.with_name(path.name + "-wal").stat().st_size > 0
    except OSError:
        return False


def _check_header(path: Path) -> None:
    """Look at the header: SQLite would take an empty file for a new database."""
    try:
        with path.open("rb") as file:
            header = file.read(HEADER_BYTES)
    except OSError as error:
        raise CannotOpenError(reason(error)) from error
    if len(header) < HEADER_BYTES or not header.startswith(b"SQLite format 3\0"):
        raise UnreadableRecordError("damaged", "it is not a record")


def _check_identity(connection: sqlite3.Connection) -> int:
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    if connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        raise UnreadableRecordError("damaged", "it is another program's file")
    if version > LATEST:
        raise UnreadableRecordError("newer", "it was made by a newer coach")
    if version < 1:
        raise UnreadableRecordError("damaged", "it says no version")
    return version


def _check_tables(connection: sqlite3.Connection) -> None:
    found = {
        row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    }
    missing = sorted(TABLES - found)
    if missing:
        raise UnreadableRecordError("damaged", f"its table {missing[0]} is missing")
    try:
        for table, columns in COLUMNS.items():
            connection.execute(f"SELECT {columns} FROM {table} LIMIT 0")
    except sqlite3.OperationalError as error:
        if error_name(error) != "SQLITE_ERROR":
            raise
        raise UnreadableRecordError("damaged", "its tables are not as they were made") from error


def make_file(path: Path) -> None:
    """Make an empty record, whole or not at all. An existing file is left as it is.

    Raises sqlite3.Error or OSError.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    if path.exists():
        return
    set_aside_strays(path)
    draft = path.with_name(f"{path.name}.new-{os.getpid()}")
    draft.unlink(missing_ok=True)
    try:
        connection = sqlite3.connect(draft, isolation_level=None)
        try:
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute("PRAGMA journal_mode = WAL")
            migrate(connection)
        finally:
            connection.close()
        try:
            os.link(draft, path)
        except FileExistsError:
            pass
        except OSError:
            # A file system without links: a rename is as whole, and the name was free.
            if not path.exists():
                draft.rename(path)
    finally:
        for end in ("", *SIDE_FILES):
            draft.with_name(draft.name + end).unlink(missing_ok=True)


def set_aside_strays(path: Path) -> None:
    """A log left behind by a record that is gone must not be replayed into a new one."""
    if any(path.with_name(path.name + end).exists() for end in SIDE_FILES):
        set_aside(path, "damaged", datetime.fromtimestamp(0, UTC))


def set_aside(path: Path, state: Literal["damaged", "newer"], at: datetime) -> Path:
    """Rename a record and its logs out of the way, over nothing; the new path.

    The logs go first: should this stop half-way, no log lies beside a new record.
    Raises OSError.
    """
    stamp = at.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    for turn in range(1, 1000):
        extra = "" if turn == 1 else f"-{turn}"
        aside = path.with_name(f"{path.stem}-{state}-{stamp}{extra}{path.suffix}")
        names = [aside.with_name(aside.name + end) for end in (*SIDE_FILES, "")]
        if not any(name.exists() for name in names):
            break
    for name, end in zip(names, (*SIDE_FILES, ""), strict=True):
        old = path.with_name(path.name + end)
        if old.exists():
            old.rename(name)
    return aside
