"""How many columns this terminal gives to a character: it is written, and the cursor asked."""

from __future__ import annotations

import os
import re
import sys
import time
from collections.abc import Iterable
from contextlib import suppress

ANSWER_S = 0.3
"""How long a terminal is waited for."""
_REPORT = re.compile(rb"\x1b\[(\d+);(\d+)R")


def measured_widths(characters: Iterable[str]) -> dict[str, int]:
    """Columns by character; empty where there is no terminal, or none that answers.

    Each is written at the start of a line, the cursor's place asked (ECMA-48 device
    status report, CSI 6 n), and the line wiped.
    """
    if not (sys.stdin is not None and sys.stdin.isatty() and sys.stdout.isatty()):
        return {}
    try:
        import termios
        import tty
    except ImportError:
        return {}
    fd = sys.stdin.fileno()
    with suppress(OSError, termios.error, ValueError):
        before = termios.tcgetattr(fd)
        try:
            tty.setcbreak(fd)
            found: dict[str, int] = {}
            for char in characters:
                sys.stdout.write(f"\r{char}\x1b[6n")
                sys.stdout.flush()
                column = _column(fd)
                if column is None:
                    return {}
                found[char] = column - 1
            return found
        finally:
            sys.stdout.write("\r\x1b[K")
            sys.stdout.flush()
            termios.tcsetattr(fd, termios.TCSADRAIN, before)
    return {}


def _column(fd: int) -> int | None:
    import select

    heard = b""
    until = time.monotonic() + ANSWER_S
    while (left := until - time.monotonic()) > 0:
        if not select.select([fd], [], [], left)[0]:
            break
        heard += os.read(fd, 64)
        if (told := _REPORT.search(heard)) is not None:
            return int(told[2])
    return None
