"""Opening, closing and writing a record, safely whatever the file is like."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from threading import RLock
from typing import Any, Self

from drills.basics.errors import InputError, plain
from scores.record.failures import (
    FAILURES,
    CannotOpenError,
    NotSavedError,
    UnreadableRecordError,
    is_readonly,
    reason,
)
from scores.record.set_aside import Notice, notice, set_aside
from scores.record.storage import make_file, open_file


class RecordFile:
    """A record's file and its transactions; ``Record`` says what is in it."""

    def __init__(self, path: Path, connection: sqlite3.Connection | None) -> None:
        self.path = path
        self._db = connection
        self._open_again = False
        self._lock = RLock()

    # -- opening and closing -------------------------------------------------------

    @classmethod
    def open(cls, path: Path, create: bool = True) -> Self:
        """Open the record at ``path``; one that is not there yet is made at the first write.

        Raises InputError: damaged, newer, can't be opened, or (``create`` False) not there.
        """
        try:
            return cls._open(path, create)
        except UnreadableRecordError as error:
            remedy = (
                "Update the coach to read it."
                if error.state == "newer"
                else "Open the coach with no command to set it aside and begin a new one."
            )
            raise InputError(plain(str(path), 200), error.problem, remedy) from error
        except CannotOpenError as error:
            raise InputError(
                plain(str(path), 200), str(error), "Check the file's rights, or set COACH_HOME."
            ) from error

    @classmethod
    def open_or_set_aside(cls, path: Path, now: datetime) -> tuple[Self, Notice | None]:
        """As ``open``, but a damaged or newer record is renamed out of the way first.

        Nothing is overwritten. Raises InputError when it can't be opened or renamed.
        """
        try:
            return cls._open(path, True), None
        except UnreadableRecordError as error:
            try:
                aside = set_aside(path, error.state, now)
            except OSError as refusal:
                raise InputError(
                    plain(str(path), 200),
                    f"{error.problem}, and it can't be moved: {reason(refusal)}",
                    "Move it away by hand, or set COACH_HOME to another folder.",
                ) from refusal
            return cls(path, None), notice(error, aside)
        except CannotOpenError as error:
            raise InputError(
                plain(str(path), 200), str(error), "Check the file's rights, or set COACH_HOME."
            ) from error

    @classmethod
    def _open(cls, path: Path, create: bool) -> Self:
        if not path.exists():
            if not create:
                raise CannotOpenError("there is no record yet")
            return cls(path, None)
        record = cls(path, open_file(path))
        try:
            record._look()
        except FAILURES as error:
            record.close()
            raise UnreadableRecordError("damaged", reason(error)) from error
        except (ValueError, TypeError, KeyError, OverflowError) as error:
            record.close()
            raise UnreadableRecordError("damaged", "its tables hold nonsense") from error
        return record

    def close(self) -> None:
        """Close the file."""
        with self._lock:
            if self._db is not None:
                self._db.close()
                self._db = None

    def _look(self) -> None:
        """Read what the first screen needs, so that damage shows at the door."""
        raise NotImplementedError

    # -- reading and writing -------------------------------------------------------

    def _rows(self, sql: str, values: tuple[object, ...] = ()) -> list[Any]:
        with self._lock:
            return [] if self._db is None else self._db.execute(sql, values).fetchall()

    @contextmanager
    def _write(self) -> Iterator[sqlite3.Connection]:
        """One transaction, on the disk when it ends. Raises NotSavedError; then nothing is kept."""
        with self._lock:
            try:
                db = self._writable()
                db.execute("BEGIN IMMEDIATE")
                try:
                    yield db
                    db.execute("COMMIT")
                except BaseException:
                    if db.in_transaction:
                        db.execute("ROLLBACK")
                    raise
            except (*FAILURES, OSError) as error:
                # A file opened read-only may have been given its rights back by the next try.
                self._open_again = is_readonly(error)
                raise NotSavedError(reason(error)) from error
            except (UnreadableRecordError, CannotOpenError) as error:
                raise NotSavedError(str(error)) from error

    def _writable(self) -> sqlite3.Connection:
        if self._db is None or self._open_again:
            make_file(self.path)
            fresh = open_file(self.path)
            if self._db is not None:
                self._db.close()
            self._db, self._open_again = fresh, False
        return self._db
