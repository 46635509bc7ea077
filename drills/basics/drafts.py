"""A file that is whole before it has its name: filled as a draft beside it, on the disk first."""

from __future__ import annotations

import os
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

# With O_EXCL no link is followed either (POSIX.1, open).
FLAGS = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)


def draft_of(path: Path) -> Path:
    """The name of this process's draft of a file."""
    return path.with_name(f"{path.name}.new-{os.getpid()}")


def fill(draft: Path, parts: Iterable[bytes]) -> None:
    """Write a draft for its owner alone, and have the disk keep it. Raises OSError."""
    with open(os.open(draft, FLAGS, 0o600), "wb") as file:
        file.writelines(parts)
        file.flush()
        os.fsync(file.fileno())


def take_name(draft: Path, path: Path) -> None:
    """Give a finished draft its name, over nothing; the draft may be there still.

    Raises FileExistsError, or another OSError.
    """
    try:
        os.link(draft, path)
    except FileExistsError:
        raise
    except OSError:
        # A file system without links: a rename is as whole.
        if os.path.lexists(path):
            raise FileExistsError(f"{path} is there") from None
        draft.rename(path)
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Have the disk keep a name; systems that can't open a folder do it by themselves."""
    with suppress(OSError):
        file = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(file)
        finally:
            os.close(file)
