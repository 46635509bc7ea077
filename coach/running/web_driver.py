"""Our hook into textual's driver for a browser: as steady as the one for a terminal.

Textual 8.2's ends its input on a byte that isn't UTF-8 or a broken escape sequence, and the
app lives on, deaf; it does not end the app when its server is gone; it tells the app at
start that the page has no focus, maybe after the page said that it has; and a process may run
one app after another, which its packets know nothing of.
"""

from __future__ import annotations

import os
from codecs import getincrementaldecoder
from contextlib import suppress
from functools import partial
from typing import Any

from textual._parser import ParseError
from textual._xterm_parser import XTermParser
from textual.drivers._byte_stream import ByteStream
from textual.drivers.web_driver import WebDriver
from textual.events import AppFocus, Key
from textual.message import Message

from coach.running import HUNG_UP, NOT_TEXT

PRELUDE = b"__GANGLION__\n"
"""What tells the server that an app's packets follow: once a process, whatever apps it runs."""


class SteadyWebDriver(WebDriver):
    """Textual's driver for a browser, with an input loop that ends only when all does."""

    _begun = False

    def start_application_mode(self) -> None:
        if SteadyWebDriver._begun:
            write = self._write
            self._write = partial(lambda data: len(data) if data == PRELUDE else write(data))
        SteadyWebDriver._begun = True
        super().start_application_mode()

    def run_input_thread(self) -> None:
        """Read until told to end, or until the server is gone: then the app is told to end."""
        packets = ByteStream()
        parser = XTermParser(self._debug)
        decode = getincrementaldecoder("utf-8")(errors="replace").decode
        for data in self._input_reader:
            # No text is the end to the packets' and the keys' parsers.
            for kind, payload in packets.feed(data) if data else ():
                if kind != "D":
                    with suppress(ValueError, KeyError, TypeError):
                        self._on_meta(kind, payload)
                    continue
                text = decode(payload)
                try:
                    for message in parser.feed(text) if text else ():
                        self.process_message(message)
                except (ValueError, OverflowError, ParseError):
                    # A sequence with a number that is none: the rest of it goes.
                    parser = XTermParser(self._debug)
            for message in parser.tick():
                self.process_message(message)
        if not self.exit_event.is_set():
            self._end(HUNG_UP)

    def on_meta(self, packet_type: str, payload: dict[str, Any]) -> None:
        if packet_type == "quit":
            self._end(0)
            return
        if packet_type == "resize":
            # For the next app of this process: it is not told again.
            os.environ["COLUMNS"] = str(payload["width"])
            os.environ["ROWS"] = str(payload["height"])
        super().on_meta(packet_type, payload)

    def process_message(self, message: Message) -> None:
        if isinstance(message, Key):
            if message.character == NOT_TEXT:
                return
            if not self._app.app_focus:
                # Who types has the focus.
                self._app.post_message(AppFocus())
        super().process_message(message)

    def write(self, data: str) -> None:
        try:
            super().write(data)
        except OSError:
            # The server is gone, which ends the input too; nothing is written from here on.
            self._write = partial(len)

    def write_meta(self, data: dict[str, object]) -> None:
        try:
            super().write_meta(data)
        except OSError:
            self._write = partial(len)

    def _end(self, status: int) -> None:
        self._loop.call_soon_threadsafe(self._app.exit, None, status)
