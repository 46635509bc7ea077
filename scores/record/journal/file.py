"""The journal: every answer in a file of its own, beside the database, only ever added to.

An entry is on the disk before ``append`` returns. The database is an index of the
journal that can be made again from it. The file is looked for anew before each write:
one that was deleted is written again from the handle still open, and one that was
replaced (a sync client, a copy renamed over it) gets what it lacks.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path

from drills.basics.drafts import draft_of, fill, sync_folder, take_name
from scores.record.journal.lines import body_of, header, line_of
from scores.record.journal.lock import alone
from scores.record.journal.reading import (
    Place,
    is_header,
    line_before,
    lines_from,
    lines_of,
    name_of,
    names_before,
    regular,
)
from scores.record.set_aside import free_name

_FLAGS = (
    os.O_RDWR
    | os.O_APPEND
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_NOFOLLOW", 0)
    | getattr(os, "O_NONBLOCK", 0)
    | getattr(os, "O_BINARY", 0)
)
_CHUNK = 1 << 20


def journal_path(record: Path) -> Path:
    """The journal of a record."""
    return record.with_suffix(".journal")


def fresh_name() -> str:
    """A name for a new journal."""
    return os.urandom(16).hex()


class Journal:
    """One record's journal. It is made at the first write, not before."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.name = ""
        self.restored = ""
        """What had happened to the file while it was open, in plain words; empty if nothing."""
        self._file: int | None = None
        self._deep = 0

    def close(self) -> None:
        """Close the file."""
        if self._file is not None:
            os.close(self._file)
            self._file = None

    # -- writing ---------------------------------------------------------------------

    @contextmanager
    def held(self) -> Iterator[None]:
        """Hold the journal against other programs, on the file that its path names now.

        Raises OSError (TimeoutError among them).
        """
        if self._deep:
            yield
            return
        while True:
            file = self._opened()
            with alone(file):
                if self._is_named(file):
                    self._begin(file)
                if not self._is_named(file):
                    # Replaced or deleted since it was opened, or just written anew.
                    continue
                self._whole(file)
                self._deep += 1
                try:
                    yield
                finally:
                    self._deep -= 1
                return

    def append(self, bodies: Sequence[str]) -> Place:
        """Add entries, on the disk when this returns. Raises OSError; then none was added.

        Raises ValueError for text that UTF-8 can't hold.
        """
        lines = [line_of(body) for body in bodies]
        with self.held():
            file = self._file
            assert file is not None
            size = self._whole(file)
            data = b"".join(lines)
            try:
                _write_all(file, data)
                os.fsync(file)
            except OSError:
                with suppress(OSError):
                    os.ftruncate(file, size)
                raise
            return Place(self.name, size + len(data), len(lines[-1]), lines[-1][:8])

    def end(self) -> int:
        """How many bytes the journal has. Call it while ``held``."""
        assert self._file is not None
        return os.fstat(self._file).st_size

    def place(self, at: int) -> Place:
        """The place after ``at`` bytes, the end of a whole line. Call it while ``held``."""
        last = line_before(self.path, at)
        return Place(self.name, at, len(last), last[:8])

    def rewrite(self, keep: Callable[[bytes], bool]) -> None:
        """Write the journal anew with the entries to ``keep`` alone, under a new name.

        Lines that can't be read are left out. Another program that still has the old file
        open does not bring back what was left out. Raises OSError.
        """
        with self.held():
            bodies = [body for body in self.read() if body is not None]
            before = [self.name, *names_before(bodies)]
            name = fresh_name()
            lines = [line_of(header(name, before))]
            lines += [
                line_of(body.decode()) for body in bodies if not is_header(body) and keep(body)
            ]
            draft = self._draft(b"".join(lines))
            if os.name == "nt":
                self.close()  # A file that is open can't be replaced there.
            os.replace(draft, self.path)
            sync_folder(self.path.parent)
            self.close()
            self._opened()
            self.name = name

    def keep_copy(self, state: str, at: datetime) -> Path:
        """Copy the journal as it is beside itself, over nothing; the copy. Raises OSError."""
        with self.held():
            assert self._file is not None
            copy = free_name(self.path, state, at)
            draft = self._draft(_content(self._file))
            draft.rename(copy)
            return copy

    # -- reading ---------------------------------------------------------------------

    def exists(self) -> bool:
        """Whether there is a journal."""
        return self.path.exists()

    def read(self, since: int = 0) -> Iterator[bytes | None]:
        """Every entry from a place on; None for a line that is not as it was written.

        A last line without its end is not read: it was never acknowledged. Nothing is
        read where there is no file. Raises OSError.
        """
        for line in lines_of(self.path, since):
            yield body_of(line)

    def ends_at(self, place: Place) -> bool:
        """Whether a place is the journal's end. No lock is taken. Raises OSError."""
        try:
            return self.path.stat().st_size == place.end and lines_from(self.path, place) == []
        except FileNotFoundError:
            return False

    def since(self, place: Place) -> tuple[list[bytes | None], Place] | None:
        """What was added after a place, and the place after it; None where it is not there.

        The file is then another one, or shorter, or changed. Raises OSError.
        """
        lines = lines_from(self.path, place)
        if lines is None:
            return None
        end = place.end + sum(map(len, lines))
        last = lines[-1] if lines else None
        after = place if last is None else Place(place.name, end, len(last), last[:8])
        return [body_of(line) for line in lines], after

    # -- the file itself -------------------------------------------------------------

    def _opened(self) -> int:
        """The file that the path names now: opened, made, or made again."""
        if self._file is not None and self._is_named(self._file):
            return self._file
        old, self._file = self._file, None
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            deleted = old is not None and not self.path.exists()
            if old is not None and deleted:
                self._make(_content(old))
                self.restored = "its journal had been deleted, and was written again"
            self._file = self._open()
            if old is not None and not deleted:
                self._give(old)
        except OSError:
            if self._file is None:
                self._file = old
            raise
        if old is not None:
            os.close(old)
        return self._file

    def _open(self) -> int:
        try:
            file = os.open(self.path, _FLAGS)
        except FileNotFoundError:
            self._make(b"")
            file = os.open(self.path, _FLAGS)
        try:
            regular(file)
        except OSError:
            os.close(file)
            raise
        return file

    def _is_named(self, file: int) -> bool:
        """Whether the path still names this file."""
        try:
            named = os.stat(self.path)
        except FileNotFoundError:
            return False
        ours = os.fstat(file)
        return (named.st_dev, named.st_ino) == (ours.st_dev, ours.st_ino)

    def _make(self, content: bytes) -> None:
        """Make the file, whole or not at all; one that is there already is left as it is."""
        draft = self._draft(content)
        try:
            with suppress(FileExistsError):
                take_name(draft, self.path)
        finally:
            draft.unlink(missing_ok=True)

    def _draft(self, content: bytes) -> Path:
        draft = draft_of(self.path)
        draft.unlink(missing_ok=True)
        fill(draft, [content])
        return draft

    def _give(self, old: int) -> None:
        """Add to a journal put in our own's place what only our own holds."""
        assert self._file is not None
        with alone(self._file):
            bodies = [body for body in self.read() if body is not None]
            if self.name in names_before(bodies):
                return  # It was written anew on purpose, by another coach.
            there = {line_of(body.decode()) for body in bodies}
            lines = _content(old).splitlines(keepends=True)
            missing = [
                line
                for line in lines
                if line not in there and (body := body_of(line)) and not is_header(body)
            ]
            if missing:
                self._whole(self._file)
                _write_all(self._file, b"".join(missing))
                os.fsync(self._file)
            self.restored = "its journal had been replaced, and what it lacked was put back"

    def _begin(self, file: int) -> None:
        """Learn the journal's name, or give a new one its first line."""
        first = next(lines_of(self.path, 0), None)
        name = "" if first is None else name_of(first)
        if not name:
            size = self._whole(file)
            name = fresh_name()
            try:
                _write_all(file, line_of(header(name)))
                os.fsync(file)
            except OSError:
                with suppress(OSError):
                    os.ftruncate(file, size)
                raise
            if size:
                # Its first line is damaged: written anew, the lines that can be read are kept.
                self.name = name
                self._deep += 1
                try:
                    self.rewrite(lambda _: True)
                finally:
                    self._deep -= 1
                return
        self.name = name

    def _whole(self, file: int) -> int:
        """End a line that a crash left torn; the file's size after that."""
        size = os.fstat(file).st_size
        if size and _at(file, size - 1, 1) != b"\n":
            _write_all(file, b"\n")
            size += 1
        return size


def _write_all(file: int, data: bytes) -> None:
    view = memoryview(data)
    while view:
        view = view[os.write(file, view) :]


def _at(file: int, place: int, length: int) -> bytes:
    os.lseek(file, place, os.SEEK_SET)
    return os.read(file, length)


def _content(file: int) -> bytes:
    """Everything in an open file, even one that no name leads to."""
    os.lseek(file, 0, os.SEEK_SET)
    parts = []
    while part := os.read(file, _CHUNK):
        parts.append(part)
    return b"".join(parts)
