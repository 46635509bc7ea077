"""Where the learner's own things are kept. Nothing is made here until something is written."""

from __future__ import annotations

import os
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from drills.pencils.pencil import PencilSet
    from scores.record.record import Record

from coach.learners import chosen, learner_dir
from drills.basics.errors import InputError, plain

APP = "coloured-pencil-coach"


def data_dir() -> Path:
    """The folder of the record: ``COACH_HOME``, else the user's data folder.

    It need not be there yet. Raises InputError where it can't be looked into.
    """
    named = os.environ.get("COACH_HOME")
    if named:
        folder = expanded(named, "COACH_HOME")
    else:
        # Imported only when asked for: the start of the app counts milliseconds.
        import platformdirs

        folder = platformdirs.user_data_path(APP, appauthor=False)
    try:
        # Not what a link there leads to: that is for who opens it.
        os.lstat(folder / "record.db")
    except (FileNotFoundError, NotADirectoryError):
        pass
    except (OSError, ValueError) as error:
        why = plain(getattr(error, "strerror", None) or "it is no path").lower()
        raise InputError(
            plain(str(folder), 200),
            f"the coach's folder can't be looked into: {why}",
            "Mend its rights, or set COACH_HOME to another folder.",
        ) from error
    return folder


def expanded(path: str, where: str = "") -> Path:
    """A path with ``~`` made the folder it stands for. Raises InputError where there is none."""
    try:
        return Path(path).expanduser()
    except RuntimeError as error:
        raise InputError(
            " ".join(filter(None, (where, plain(path, 200)))),
            "there is no such user's folder",
            "Write the path in full.",
        ) from error


def record_dir() -> Path:
    """The folder of the record of the learner chosen. Raises InputError."""
    return learner_dir(data_dir(), chosen())


def record_path() -> Path:
    """The record: one SQLite file. Raises InputError where something else stands there."""
    return _file("record.db", record_dir())


def class_path() -> Path:
    """A teacher's class: beside the learner's record, apart from it. Raises InputError."""
    return _file("class.db", data_dir())


def has_class() -> bool:
    """Whether anything stands in the class's place, usable or not."""
    return os.path.lexists(data_dir() / "class.db")


def _file(name: str, folder: Path) -> Path:
    """A file of ours, there or not. A pipe would be waited on for ever, a device read for ever."""
    path = folder / name
    if os.path.lexists(path) and not path.is_file():
        raise InputError(
            plain(str(path), 200),
            "it is not an ordinary file (but a folder, a pipe, a device or a link to nowhere)",
            "Move it away, or set COACH_HOME to another folder.",
        )
    return path


def keep_home_private() -> None:
    """Take from others what rights they have to the folder and our files in it, if it is there."""
    from scores.upkeep.private import keep_private

    # A folder that can't be named is told of when it is used.
    with suppress(RuntimeError, ValueError):
        keep_private(data_dir())
        if chosen():
            keep_private(record_dir())


def pencils_in_use() -> PencilSet | None:
    """The set that the learner practises with; None before one is chosen. Raises InputError."""
    from dataclasses import replace

    from drills.pencils.file import parse_pencils
    from scores.record.record import Record

    record = Record.open(record_path())
    try:
        kept = record.active_pencils()
    finally:
        record.close()
    if kept is None:
        return None
    return replace(parse_pencils(kept.csv.encode(), "the pencils kept"), name=kept.name)


def needed_pencils() -> PencilSet:
    """The set that the learner practises with. Raises InputError before one is chosen too."""
    pencil_set = pencils_in_use()
    if pencil_set is None:
        raise InputError(
            "pencils",
            "none are in use yet",
            "Choose them with: coach pencils use FILE, or --demo, or --pocket",
        )
    return pencil_set


def close_and_say(record: Record) -> None:
    """Close a record at a command's end; what of it was mended meanwhile is a line on stderr."""
    said = record.said()
    record.close()
    if said:
        import click

        click.echo(f"coach: {said}", err=True)


@contextmanager
def record_open(create: bool) -> Iterator[Record]:
    """The learner's record for a command, closed again at its end."""
    from scores.record.record import Record

    record = Record.open(record_path(), create=create or not record_path().exists())
    try:
        yield record
    finally:
        close_and_say(record)
