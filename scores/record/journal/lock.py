"""Holding a file for one's own writing, while other programs that ask wait."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress

_PAUSE_S = 0.01
_TRIES = 150
"""Another program's hold is waited for a second and a half."""
_FAR = 1 << 60
"""Where Windows, which locks bytes and not files, puts the lock: beyond any entry."""

try:
    from fcntl import LOCK_EX, LOCK_NB, LOCK_UN, flock

    def _take(file: int) -> None:
        flock(file, LOCK_EX | LOCK_NB)

    def _leave(file: int) -> None:
        flock(file, LOCK_UN)

except ImportError:  # Windows
    import msvcrt
    import os

    def _take(file: int) -> None:
        os.lseek(file, _FAR, os.SEEK_SET)
        msvcrt.locking(file, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]

    def _leave(file: int) -> None:
        os.lseek(file, _FAR, os.SEEK_SET)
        msvcrt.locking(file, msvcrt.LK_UNLCK, 1)  # type: ignore[attr-defined]


@contextmanager
def alone(file: int) -> Iterator[None]:
    """Hold an open file. Raises TimeoutError when another program does not let go of it."""
    for left in reversed(range(_TRIES)):
        try:
            _take(file)
            break
        except OSError as error:
            if not left:
                raise TimeoutError(0, "another program is holding the record") from error
            time.sleep(_PAUSE_S)
    try:
        yield
    finally:
        with suppress(OSError):
            _leave(file)
