"""Reading a stranger's file: only an ordinary one, and only so much of it."""

from __future__ import annotations

import os
import stat

from drills.basics.errors import InputError, plain


def read_ordinary(path: str | os.PathLike[str], most: int, what: str, limit: str = "") -> bytes:
    """An ordinary file's bytes; one over ``most`` bytes is refused unread. Raises InputError.

    ``what`` says in the remedies what is wanted, such as "a deck"; ``limit`` what it may
    hold, where bytes alone don't say it.
    """
    where = plain(os.fspath(path), 200) or "the file"
    try:
        # Looked at before it is opened: opening a pipe or a device may never return.
        found = os.stat(path)
        ordinary = stat.S_ISREG(found.st_mode)
        data = b""
        if ordinary and found.st_size <= most:
            with open(path, "rb") as file:
                data = file.read(most + 1)
    except FileNotFoundError:
        raise InputError(where, "there is no such file", "Check the path.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "not a usable path"
        raise InputError(where, f"can't be read ({reason})", "Check the path and rights.") from None
    if not ordinary:
        raise InputError(where, "this is not an ordinary file", f"Give the path of {what}.")
    if max(found.st_size, len(data)) > most:
        size = max(found.st_size, len(data))
        limit = limit or f"The limit for {what} is {most:,} bytes."
        raise InputError(where, f"the file is too big ({size:,} bytes)", limit)
    return data
