"""What runs first: the app where no words are given, else a command; and how either ends.

Click reads the words of a command, and is loaded only where there are some.
"""

from __future__ import annotations

import errno
import io
import os
import sys
from contextlib import suppress
from io import TextIOWrapper

from coach.running.faults import said
from drills.basics.errors import InputError, plain

NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
"""What a disk says that takes no more."""


def main() -> None:
    """Run the app or the command; what the user gave wrong is one line and exit status 2.

    A reader of our output that goes away (head, a pager) is nothing wrong.
    """
    # Our matrix products are small: on several threads they cost twice the processor time and
    # end no sooner. It must be said before numpy is imported.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # Files and folders made from here on are their owner's alone.
    os.umask(0o077)
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        # A byte that is no text is shown as a mark, and read as one, in any locale.
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    if sys.stdout is None:
        # Closed by whoever started us.
        sys.stdout = io.StringIO()
    try:
        if len(sys.argv) > 1:
            from coach.cli import run_command

            status = run_command()
        else:
            status = _run_app()
        sys.stdout.flush()
    except InputError as error:
        status = said(str(error))
    except KeyboardInterrupt:
        status = 130
    except BrokenPipeError:
        _no_more_output()
        status = 0
    except Exception as error:
        status = _unforeseen(error)
    sys.exit(status)


def _run_app() -> int:
    from coach.home import keep_home_private
    from coach.start import open_app

    keep_home_private()
    try:
        open_app()
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 1
    return 0


def _unforeseen(error: Exception) -> int:
    """Say in one line what no command foresaw; the exit status for it."""
    if isinstance(error, OSError) and error.errno in NO_ROOM:
        _no_more_output()
        reason = plain(error.strerror or "the system refused").lower()
        return said(f"the output can't be written: {reason}. Check where it goes.")
    # Met beyond what opening the record or the class looks at.
    sqlite = sys.modules.get("sqlite3")
    if sqlite is not None and isinstance(error, sqlite.Error):
        return said("the record or the class can't be read further. Try: coach doctor")
    from coach.running.faults import tell_fault

    return tell_fault(error)


def _no_more_output() -> None:
    """Let what is still to be written go nowhere: Python would fail on it at its end."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.__stdout__.fileno())  # type: ignore[union-attr]
