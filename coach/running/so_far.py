"""How far long work has come: one line while it goes on, and nothing where nobody looks."""

from __future__ import annotations

import sys
from contextlib import suppress
from types import TracebackType
from typing import TextIO

from rich.cells import cell_len

LONGEST = 79
"""Columns of the line; one that wrapped could not be taken back."""


class SoFar:
    """One line on ``stream`` (else stderr), written over by the next and taken away at the end.

    Where the stream is no terminal it says nothing.
    """

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = sys.stderr if stream is None else stream
        self._seen = self._stream is not None and self._stream.isatty()
        self._wide = 0

    def say(self, words: str) -> None:
        """Show this in place of what was said before."""
        if not self._seen:
            return
        words = words[:LONGEST]
        blank = " " * (self._wide - cell_len(words))
        self._wide = cell_len(words)
        with suppress(OSError, ValueError):
            self._stream.write(f"\r{words}{blank}")
            self._stream.flush()

    def __enter__(self) -> SoFar:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._wide:
            self.say("")
            with suppress(OSError, ValueError):
                self._stream.write("\r")
                self._stream.flush()
