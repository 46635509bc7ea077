"""The record's file: opened and checked, or made. Never overwritten."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from pathlib import Path

from drills.basics.drafts import draft_of, fill, take_name
from scores.record.failures import (
    FAILURES,
    CannotOpenError,
    UnreadableRecordError,
    error_name,
    is_damage,
    reason,
)
from scores.record.migrations import APPLICATION_ID, LATEST, TABLES, migrate
from scores.record.rows import COLUMNS
from scores.record.set_aside import clear, set_aside_strays

BUSY_MS = 1500
"""How long another program's hold on the record is waited for."""
HEADER_BYTES = 100


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
        # Looked at before it is opened: opening a pipe may never return.
        if path.exists() and not path.is_file() and not path.is_dir():
            raise CannotOpenError("it is not an ordinary file")
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
    draft = draft_of(path)
    draft.unlink(missing_ok=True)
    try:
        fill(draft, ())
        connection = sqlite3.connect(draft, isolation_level=None)
        try:
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute("PRAGMA journal_mode = WAL")
            migrate(connection)
        finally:
            connection.close()
        with suppress(FileExistsError):
            take_name(draft, path)
    finally:
        clear(draft)
