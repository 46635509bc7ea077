"""Writing a file that someone asked for: whole or not at all, and over nothing of anyone's."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Iterable, Iterator
from itertools import chain, count
from pathlib import Path
from typing import Any, Literal, TypeVar

import click

from coach.home import data_dir, expanded
from coach.learners import known_learners, learner_dir
from drills.basics.drafts import fill, take_name
from drills.basics.errors import InputError, plain

Page = Literal[
    "plan", "plan page", "pencil sheet", "picture", "progress", "progress charts", "class report",
    "class brief", "worksheet",
]  # fmt: skip
"""The kinds of page that the coach may write over, for it wrote them itself."""
F = TypeVar("F", bound=Callable[..., Any])

FORCE_HELP = "Write over a file that is there."
RULES = (
    "A file that is there is written over only where the coach wrote that kind of page there"
    " itself, or with --force; never through a link, and never one of the coach's own."
)
"""What every command that writes a file says in its help."""
_HEAD_BYTES = 400
_OURS = (".db", ".journal", "-wal", "-shm")


def force_option(command: F) -> F:
    """Add ``--force``."""
    return click.option("--force", is_flag=True, help=FORCE_HELP)(command)


def rules(command: F) -> F:
    """Add the rules of writing to a command's help. It goes below the ``click`` decorators."""
    command.__doc__ = f"{(command.__doc__ or '').rstrip()}\n\n    {RULES}\n"
    return command


def checked(file: str, page: Page | None = None, force: bool | None = False) -> Path:
    """The path to write to, looked at before any work is done. Raises InputError.

    ``force`` is None for a command that has no such option.
    """
    where = plain(file, 200) or "the file to write"
    try:
        path = expanded(file)
        found = None if not file else _look(path)
        if not file or (found is not None and stat.S_ISDIR(found.st_mode)):
            raise InputError(where, "this is a folder, not a file", "Add a file's name.")
        if not path.parent.is_dir():
            raise InputError(where, "there is no such folder", "Make it, or check the path.")
        if _is_ours(path, found):
            raise InputError(where, "this is one of the coach's own files", "Give another name.")
        if found is None:
            return path
        if not stat.S_ISREG(found.st_mode):
            what = "a link" if stat.S_ISLNK(found.st_mode) else "not an ordinary file"
            raise InputError(where, f"this is {what}", "Give another name.")
        if not force and (page is None or not _is_page(path, page)):
            remedy = "Give another name." if force is None else "Give another name, or add --force."
            raise InputError(where, "there is a file of this name", remedy)
    except InputError:
        raise
    except (OSError, ValueError) as error:
        raise _refused(where, error) from None
    return path


def free_name(folder: Path, name: str) -> Path:
    """A file's path in the folder that nothing stands at: by this name, else numbered."""
    stem, _, ending = name.partition(".")
    paths = (folder / (name if i == 1 else f"{stem}-{i}.{ending}") for i in count(1))
    return next(path for path in paths if not path.exists() and not path.is_symlink())


def write(
    file: str, parts: Iterable[str | bytes], page: Page | None = None, force: bool = False
) -> Path:
    """Write a file for its owner alone; a ``page`` is marked as ours. Raises InputError.

    It is whole before it takes its name. A file that is there is replaced only where it is
    a page of this kind that the coach wrote, or by ``force``.
    """
    path = checked(file, page, force)
    where = plain(file, 200)
    draft = path.with_name(f".coach-{os.getpid()}-{os.urandom(4).hex()}")
    try:
        texts = _marked(map(str, parts), page) if page is not None else parts
        fill(draft, (one if isinstance(one, bytes) else one.encode("utf-8") for one in texts))
        # Looked at again: something may have come in the meantime.
        replaces = checked(file, page, force).exists()
        if replaces:
            os.replace(draft, path)
        else:
            take_name(draft, path)
    except FileExistsError:
        raise InputError(where, "a file of this name has just come", "Give another name.") from None
    except (OSError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise _refused(where, error) from None
    finally:
        draft.unlink(missing_ok=True)
    return path


def _look(path: Path) -> os.stat_result | None:
    """What stands at the path itself, a link not followed; None where nothing does."""
    try:
        return os.lstat(path)
    except FileNotFoundError:
        return None


def _is_ours(path: Path, found: os.stat_result | None) -> bool:
    """Whether the path is a data file of the coach's, by its place or by another name of it."""
    home = data_dir()
    folder = path.parent.resolve()
    homes = (home, *(learner_dir(home, name) for name in known_learners(home)))
    ours = [one.resolve() for home in homes for one in (home, home / "backups")]
    if folder in ours and path.name.endswith(_OURS):
        return True
    if found is None or not stat.S_ISREG(found.st_mode):
        return False
    with path.open("rb") as file:
        start = file.read(_HEAD_BYTES)
    # A record, its journal or a class kept elsewhere: a backup, or another learner's.
    if start.startswith(b"SQLite format 3\0") or start[8:].startswith(b' {"journal":'):
        return True
    if found.st_nlink < 2:
        return False
    same = (found.st_dev, found.st_ino)
    return any(
        (one.st_dev, one.st_ino) == same
        for one in (file.stat() for file in home.rglob("*") if file.is_file())
    )


def _is_page(path: Path, page: Page) -> bool:
    with path.open("rb") as file:
        return _mark(page).encode() in file.read(_HEAD_BYTES)


def _mark(page: Page) -> str:
    return f"<!-- written by coach: {page} -->"


def _marked(parts: Iterable[str], page: Page) -> Iterator[str]:
    """The page with its mark, after a line that must come first."""
    rest = iter(parts)
    first = next(rest, "")
    start, line, more = first.partition("\n")
    if start.startswith(("<!DOCTYPE", "<?xml")):
        return chain([f"{start}\n{_mark(page)}{line}{more}"], rest)
    return chain([f"{_mark(page)}\n{first}"], rest)


def _refused(where: str, error: Exception) -> InputError:
    reason = plain(getattr(error, "strerror", None) or "not a usable path").lower()
    return InputError(where, f"can't be written ({reason})", "Check the path and your rights.")
