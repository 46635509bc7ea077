"""Our hook into textual's terminal driver: input it can't read, and a terminal that is gone.

Textual 8.2 ends with a traceback on a byte that isn't UTF-8 and on a broken escape
sequence, spins at the end of input, and waits for ever on a terminal that takes no output
any more. ``tests/test_driver.py`` fails as soon as textual minds one of these itself, and says so;
once it minds all, this file and ``BaseApp.get_driver_class`` can go.
"""

from __future__ import annotations

import os
from codecs import getincrementaldecoder
from contextlib import suppress
from select import select
from typing import IO, Any

from textual._parser import ParseError
from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver
from textual.events import Key
from textual.message import Message

from coach.running import HUNG_UP, NOT_TEXT

READ_BYTES = 4096
LOOK_S = 0.1
"""How often the thread looks whether it should end."""


class _Output:
    """A terminal's output that turns into nothing, without an error, once it is closed."""

    def __init__(self, file: IO[str]) -> None:
        self._file = file

    def fileno(self) -> int:
        return self._file.fileno()

    def write(self, text: str) -> None:
        try:
            self._file.write(text)
        except OSError:
            self._drop()

    def flush(self) -> None:
        try:
            self._file.flush()
        except OSError:
            self._drop()

    def _drop(self) -> None:
        # What is still buffered would fail again when the program ends.
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, self._file.fileno())
        os.close(nothing)


class SteadyDriver(LinuxDriver):
    """Textual's driver with an input loop that drops bad bytes and ends at the end of input."""

    def __init__(self, app: Any, **options: Any) -> None:
        super().__init__(app, **options)
        self._file: Any = _Output(self._file)

    def _run_input_thread(self) -> None:
        try:
            self.run_input_thread()
        except Exception as error:
            self._loop.call_soon_threadsafe(self._app._handle_exception, error)

    def run_input_thread(self) -> None:
        """Read until told to end, or until the terminal is gone: then the app is told to end."""
        parser = XTermParser(self._debug)
        decode = getincrementaldecoder("utf-8")(errors="replace").decode
        while not self.exit_event.is_set():
            if select([self.fileno], [], [], LOOK_S)[0]:
                try:
                    data = os.read(self.fileno, READ_BYTES)
                except OSError:
                    data = b""
                if not data:
                    self._loop.call_soon_threadsafe(self._app.exit, None, HUNG_UP)
                    break
                # The first bytes of a letter are no text yet; no text is the end to the parser.
                text = decode(data)
                try:
                    for message in parser.feed(text) if text else ():
                        self.process_message(message)
                except (ValueError, OverflowError, ParseError):
                    # A sequence with a number that is none: the rest of this read goes with it.
                    parser = XTermParser(self._debug)
            for message in parser.tick():
                self.process_message(message)
        with suppress(EOFError, ParseError):
            for _ in parser.feed(""):
                pass

    def process_message(self, message: Message) -> None:
        if isinstance(message, Key) and message.character == NOT_TEXT:
            return
        super().process_message(message)
