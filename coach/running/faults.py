"""Told in one line: what was given wrong, and a fault of our own, its details in a private file."""

from __future__ import annotations

import os
import sys
import traceback
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from drills.basics.errors import InputError, plain

KEPT = 5
"""Details of so many faults are kept; older ones are removed."""
STATUS = 1
"""The exit status after a fault of ours."""


def keep_details(error: BaseException, folder: Path, at: datetime) -> Path:
    """Write what a bug report needs to a new file in ``folder`` that only its owner may read.

    The file names code and its lines, no values. Raises OSError where it can't be written.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    path = folder / f"crash-{at.astimezone(UTC):%Y%m%dT%H%M%S}-{os.getpid()}.txt"
    text = "".join(traceback.format_exception(error))
    file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(file, "w", encoding="utf-8", errors="backslashreplace") as out:
        out.write(text)
    for old in sorted(folder.glob("crash-*.txt"))[:-KEPT]:
        with suppress(OSError):
            old.unlink()
    return path


def said(line: str) -> int:
    """Say what was wrong; the exit status for it."""
    if sys.stderr is not None:
        with suppress(OSError):
            print(f"coach: {line}", file=sys.stderr)
    return 2


def told(error: BaseException, folder: Path, at: datetime) -> str:
    """Keep the details and say, in one line, that a fault of ours ended the coach and where."""
    begins = "coach: a fault of the coach itself ended it; every answer shown as saved is kept."
    try:
        path = keep_details(error, folder, at)
    except OSError as refusal:
        why = plain(refusal.strerror or "the system refused").lower()
        name = plain(f"{type(error).__name__}: {error}", 200)
        return f"{begins} Its details can't be written ({why}); for a report: {name}"
    return f"{begins} For a report, its details are in {plain(str(path), 400)}"


def tell_fault(error: Exception) -> int:
    """Say in one sentence that a fault of ours ended the coach; the exit status."""
    from coach.clock import local_now
    from coach.home import data_dir

    try:
        line = told(error, data_dir(), local_now())
    except InputError as refusal:
        line = f"coach: {refusal}"
    print(line, file=sys.stderr)
    return STATUS
