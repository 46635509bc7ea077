"""How far long work has come: one line while it goes on, and nothing where nobody looks.

Ctrl-C ends the work for certain: Python loses an interrupt that comes where errors are ignored
(in ``__del__``, in a weak reference's callback), so it is raised again when there is more to say.
"""

from __future__ import annotations

import signal
import sys
from contextlib import suppress
from types import FrameType, TracebackType
from typing import Any, TextIO

from rich.cells import cell_len

LONGEST = 79
"""Columns of the line; one that wrapped could not be taken back."""


class StatusLine:
    """One line on ``stream`` (else stderr), written over by the next and taken away at the end.

    Where the stream is no terminal it says nothing.
    """

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = sys.stderr if stream is None else stream
        self._seen = self._stream is not None and self._stream.isatty()
        self._wide = 0
        self._stopped = False
        self._before: Any = None

    def say(self, words: str) -> None:
        """Show this in place of what was said before. Raises KeyboardInterrupt once stopped."""
        if self._stopped:
            raise KeyboardInterrupt
        self._show(words)

    def _show(self, words: str) -> None:
        if not self._seen:
            return
        words = words[:LONGEST]
        blank = " " * (self._wide - cell_len(words))
        self._wide = cell_len(words)
        with suppress(OSError, ValueError):
            self._stream.write(f"\r{words}{blank}")
            self._stream.flush()

    def _stop(self, number: int, frame: FrameType | None) -> None:
        self._stopped = True
        raise KeyboardInterrupt

    def __enter__(self) -> StatusLine:
        self._before = signal.signal(signal.SIGINT, self._stop)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        signal.signal(signal.SIGINT, self._before)
        if self._wide:
            self._show("")
            with suppress(OSError, ValueError):
                self._stream.write("\r")
                self._stream.flush()
        if self._stopped and kind is None:
            raise KeyboardInterrupt
