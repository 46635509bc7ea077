"""Opening, closing and writing a record, safely whatever the file is like.

A record is two files: the journal, which is only added to, and the database, an index of
it. Whichever is lost or damaged is made again from the other.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, nullcontext, suppress
from datetime import UTC, datetime
from pathlib import Path
from threading import RLock
from typing import Any, Self, TypeVar

from drills.basics.counted import counted
from drills.basics.errors import InputError, plain
from scores.record.failures import (
    FAILURES,
    CannotOpenError,
    NotSavedError,
    UnreadableRecordError,
    is_damage,
    is_readonly,
    reason,
)
from scores.record.journal.file import Journal, journal_path
from scores.record.journal.places import put_place
from scores.record.mending.catching_up import at_the_door, level
from scores.record.set_aside import SIDE_FILES, Notice, notice, set_aside_strays
from scores.record.storage import make_file, open_file

T = TypeVar("T")
_NEVER = datetime.fromtimestamp(0, UTC)


class RecordFile:
    """A record's files and its transactions; ``Record`` says what is in it.

    ``mendings`` says, a sentence each, what was found amiss and put right.
    """

    def __init__(self, path: Path, journaled: bool = True, now: datetime = _NEVER) -> None:
        self.path = path
        self.journal = Journal(journal_path(path)) if journaled else None
        self.mendings: list[str] = []
        self._now = now
        self._db: sqlite3.Connection | None = None
        self._open_again = self._inside = False
        self._lock = RLock()
        self._file: tuple[int, int] | None = None
        self._log: tuple[int, int] | None = None

    # -- opening and closing -------------------------------------------------------

    @classmethod
    def open(cls, path: Path, create: bool = True, journaled: bool = True) -> Self:
        """Open the record at ``path``; one that is not there yet is made at the first write.

        Raises InputError: damaged, newer, can't be opened, or (``create`` False) not there.
        """
        try:
            return cls.open_strictly(path, create, journaled)
        except UnreadableRecordError as error:
            remedy = (
                "Update the coach to read it."
                if error.state == "newer"
                else "Open the coach with no command: it sets the file aside, and makes the record"
                " again from its journal. Or try: coach scores rescue"
            )
            raise InputError(plain(str(path), 200), error.problem, remedy) from error
        except CannotOpenError as error:
            raise _cannot(path, error) from error

    @classmethod
    def open_mended(cls, path: Path, now: datetime) -> tuple[Self, Notice | None]:
        """As ``open``, but a damaged or newer record is set aside and made again first.

        Nothing is overwritten. Raises InputError when it can't be opened or renamed.
        """
        record = cls(path, now=now)
        try:
            record._begin(create=True, mend=True)
        except UnreadableRecordError as error:
            return record, record._made_again(error)
        except CannotOpenError as error:
            raise _cannot(path, error) from error
        said = record.said()
        return record, Notice("mended", None, said) if said else None

    @classmethod
    def open_strictly(cls, path: Path, create: bool, journaled: bool = True) -> Self:
        """As ``open``. Raises UnreadableRecordError or CannotOpenError as they are."""
        record = cls(path, journaled)
        record._begin(create)
        return record

    def _begin(self, create: bool, mend: bool = False) -> None:
        """Open what is there, and bring it level with the journal; damage is mended or refused."""
        try:
            if not self.path.exists():
                if self.journal is None or not self.journal.exists():
                    if not create:
                        raise CannotOpenError("there is no record yet")
                    self._inside = True
                    return
                self._from_journal()
            else:
                db = open_file(self.path)
                self._take(db)
                self.mendings += at_the_door(db, self.journal, self._write, mend)
            self._look()
            self._inside = True
        except NotSavedError as error:
            self.close()
            if not _damaged(error):
                raise CannotOpenError(str(error)) from error
            raise UnreadableRecordError("damaged", str(error)) from error
        except (*FAILURES, OSError) as error:
            self.close()
            if isinstance(error, OSError) or not is_damage(error):
                raise CannotOpenError(reason(error)) from error
            raise UnreadableRecordError("damaged", reason(error)) from error
        except (ValueError, TypeError, KeyError, OverflowError) as error:
            self.close()
            raise UnreadableRecordError("damaged", "its tables hold nonsense") from error
        except BaseException:
            self.close()
            raise

    def _from_journal(self) -> None:
        """The database is gone: make it again, where the journal holds anything."""
        from scores.record.mending.remake import remake

        set_aside_strays(self.path)
        made = remake(self.path, self.journal, self._now, "damaged")
        self._take(open_file(self.path))
        if made.answers:
            self.mendings.append(
                f"Your record's database was gone; it was made again from the journal:"
                f" {counted(made.answers, 'answer')}."
            )

    def _made_again(self, error: UnreadableRecordError) -> Notice:
        """Set a record that can't be read aside, and make it again. Raises InputError."""
        from scores.record.mending.remake import remake

        self.close()
        try:
            made = remake(self.path, self.journal, self._now, error.state)
            self._take(open_file(self.path))
            self._look()
            self._inside = True
        except (*FAILURES, OSError, UnreadableRecordError, CannotOpenError) as refusal:
            why = reason(refusal) if isinstance(refusal, (*FAILURES, OSError)) else str(refusal)
            raise InputError(
                plain(str(self.path), 200),
                f"{error.problem}, and it can't be set aside: {why}",
                "Move it away by hand, or set COACH_HOME to another folder.",
            ) from refusal
        return notice(error, made.aside, made.answers)

    def close(self) -> None:
        """Close the files."""
        with self._lock:
            if self._db is not None:
                self._db.close()
                self._db = None
            if self.journal is not None:
                self.journal.close()

    @property
    def begun(self) -> bool:
        """Whether there is a file yet."""
        return self._db is not None

    def copy_into(self, copy: sqlite3.Connection) -> None:
        """Copy the database whole, as it is at one moment. Raises sqlite3.Error."""
        with self._lock:
            if self._db is not None:
                self._db.backup(copy)

    def said(self) -> str:
        """What was mended since this was last asked, in sentences; empty when nothing was."""
        if self.journal is not None and self.journal.restored:
            self.mendings.append(f"Your record: {self.journal.restored}.")
            self.journal.restored = ""
        text = " ".join(self.mendings)
        self.mendings.clear()
        return text

    def _look(self) -> None:
        """Read what the first screen needs, so that damage shows at the door."""
        raise NotImplementedError

    # -- reading and writing -------------------------------------------------------

    def _rows(self, sql: str, values: tuple[object, ...] = ()) -> list[Any]:
        with self._lock:
            try:
                return [] if self._db is None else self._db.execute(sql, values).fetchall()
            except FAILURES as error:
                if not self._mended_after(error):
                    raise
                return [] if self._db is None else self._db.execute(sql, values).fetchall()

    def _cursor(self, sql: str, values: tuple[object, ...]) -> Iterable[Any]:
        """Rows one after another, for more than is worth holding at once."""
        with self._lock:
            return () if self._db is None else self._db.execute(sql, values)

    def _mended_after(self, error: Exception) -> bool:
        """Make a database again that proved damaged while it was read; whether that was done."""
        if self.journal is None or not self._inside or not is_damage(error):
            return False
        try:
            self.mend(UnreadableRecordError("damaged", reason(error)))
        except NotSavedError:
            return False
        return True

    def transact(self, work: Callable[[sqlite3.Connection], T]) -> T:
        """Do ``work`` in one transaction. Raises NotSavedError; then nothing is kept.

        Where the database turns out to be damaged it is made again, and ``work`` done anew.
        """
        try:
            with self._write() as db:
                return work(db)
        except NotSavedError as error:
            if not _damaged(error) or self.journal is None:
                raise
            cause = error.__cause__
            known = cause if isinstance(cause, UnreadableRecordError) else None
            self.mend(known or UnreadableRecordError("damaged", str(error)))
        with self._write() as db:
            return work(db)

    def mend(self, error: UnreadableRecordError) -> None:
        """Make the database again while it is in use. Raises NotSavedError."""
        with self._lock:
            try:
                self.mendings.append(self._made_again(error).text)
            except InputError as refusal:
                raise NotSavedError(refusal.problem) from refusal

    @contextmanager
    def _write(self) -> Iterator[sqlite3.Connection]:
        """One transaction, on the disk when it ends. Raises NotSavedError; then nothing is kept."""
        with self._lock:
            try:
                with self.journal.held() if self.journal is not None else nullcontext():
                    db = self._writable()
                    db.execute("BEGIN IMMEDIATE")
                    try:
                        if self.journal is not None and (said := level(db, self.journal)):
                            self.mendings.append(said)
                        yield db
                        db.execute("COMMIT")
                    except BaseException:
                        with suppress(*FAILURES):
                            if db.in_transaction:
                                db.execute("ROLLBACK")
                        raise
                    self._log = _identity(self.path.with_name(self.path.name + SIDE_FILES[0]))
            except (*FAILURES, OSError) as error:
                # A file opened read-only may have been given its rights back by the next try.
                self._open_again = is_readonly(error)
                raise NotSavedError(reason(error)) from error
            except (UnreadableRecordError, CannotOpenError) as error:
                raise NotSavedError(str(error)) from error

    def _journal(self, db: sqlite3.Connection, *bodies: str) -> None:
        """Put entries in the journal, on the disk, and note that the database has them.

        Call it inside a transaction, after all that may refuse.
        """
        if self.journal is not None:
            put_place(db, self.journal.append(bodies))

    def _writable(self) -> sqlite3.Connection:
        if self._db is not None and self._file != _identity(self.path):
            self._let_go()
        if self._db is None or self._open_again:
            make_file(self.path)
            fresh = open_file(self.path)
            if self._db is not None:
                self._db.close()
            self._take(fresh)
        assert self._db is not None
        return self._db

    def _take(self, db: sqlite3.Connection) -> None:
        self._db, self._open_again = db, False
        self._file = _identity(self.path)
        self._log = _identity(self.path.with_name(self.path.name + SIDE_FILES[0]))
        if self.journal is not None:
            # An answer is on the disk once the journal has it; what a power cut takes of the
            # database is made again from there.
            db.execute("PRAGMA synchronous = NORMAL")

    def _let_go(self) -> None:
        """Close a database whose file was deleted or replaced.

        SQLite deletes its log by name as it closes, so one that came with the new file is
        moved out of its way meanwhile; and our own log must not be read into the new file.
        """
        log = self.path.with_name(self.path.name + SIDE_FILES[0])
        keep = log.with_name(f"{log.name}.keep-{os.getpid()}")
        foreign = log.exists() and _identity(log) != self._log
        if foreign:
            log.rename(keep)
        try:
            if self._db is not None:
                with suppress(*FAILURES):
                    self._db.close()
                self._db = None
        finally:
            if foreign:
                keep.rename(log)
            else:
                set_aside_strays(self.path)


def _identity(path: Path) -> tuple[int, int] | None:
    """Which file a path names now: its device and its number there; None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _damaged(error: NotSavedError) -> bool:
    """Whether a save failed because the database is broken."""
    cause = error.__cause__
    return isinstance(cause, UnreadableRecordError) or (
        isinstance(cause, FAILURES) and is_damage(cause)
    )


def _cannot(path: Path, error: CannotOpenError) -> InputError:
    return InputError(
        plain(str(path), 200), str(error), "Check the file's rights, or set COACH_HOME."
    )
