"""A pseudo-terminal with a program in it, its screen read as a person would see it."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from time import monotonic
from types import TracebackType

import pyte

ROOT = Path(__file__).parent.parent
WAIT_S = 120.0
"""How long output is waited for before a test fails; never how long a test takes."""
COACH = (sys.executable, "-m", "coach")
_LEFT_OUT = {"NO_COLOR", "COLORTERM", "FORCE_COLOR", "PYTHONDONTWRITEBYTECODE"}
"""The last, for an installed coach is compiled already."""


def surroundings(home: Path, **changes: str | None) -> dict[str, str]:
    """The environment of a fair terminal, with the record in ``home``."""
    kept = {
        name: value
        for name, value in os.environ.items()
        if name not in _LEFT_OUT and not name.startswith("TEXTUAL")
    }
    wanted: dict[str, str | None] = {
        "TERM": "xterm-256color",
        "COLORTERM": "truecolor",
        "COACH_HOME": str(home),
        "PYTHONPATH": str(ROOT),
        **changes,
    }
    return {name: value for name, value in (kept | wanted).items() if value is not None}


def _take_terminal() -> None:
    """In the new process: its terminal is one that tells it (SIGHUP) when it is closed."""
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


class _Quiet(pyte.Screen):
    """A screen that leaves out the private modes Textual asks about."""

    def report_device_status(self, mode: int, **kwargs: object) -> None:
        super().report_device_status(mode)


class Terminal:
    """Runs ``command`` in a pseudo-terminal of ``columns`` × ``rows``; close it by ``with``.

    ``controlling``: the program is told (SIGHUP) when the terminal is closed.
    """

    def __init__(
        self,
        command: Sequence[str],
        environ: Mapping[str, str],
        columns: int = 80,
        rows: int = 24,
        controlling: bool = False,
    ) -> None:
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self.before = termios.tcgetattr(slave)
        self._slave = slave
        self.output = b""
        self.draws = True
        """Whether what is written is drawn on the screen that ``text`` reads."""
        self._screen = _Quiet(columns, rows)
        self._stream = pyte.ByteStream(self._screen)
        self._stream.use_utf8 = True
        self.process = subprocess.Popen(
            command,
            stdin=slave,
            stdout=slave,
            stderr=slave,
            env=dict(environ),
            cwd=ROOT,
            start_new_session=True,
            preexec_fn=_take_terminal if controlling else None,
        )

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()
        if self.master >= 0:
            os.close(self.master)
        os.close(self._slave)

    @property
    def text(self) -> str:
        """What stands on the screen now."""
        return "\n".join(self._screen.display)

    def read(self) -> bool:
        """Take in what has been written; False once nothing more comes in time."""
        ready, _, _ = select.select([self.master], [], [], 0.1)
        if ready:
            part = os.read(self.master, 1 << 16)
            self.output += part
            if self.draws:
                self._stream.feed(part.replace(b"\x1b[>", b"\x1b[?"))
        return bool(ready)

    def until(self, seen: Callable[[], bool], what: str) -> None:
        """Read until ``seen()``; fails with what stands on the screen instead."""
        limit = monotonic() + WAIT_S
        while not seen():
            self.read()
            if monotonic() > limit:
                raise AssertionError(f"waited in vain for {what!r}; on screen:\n{self.text}")

    def until_written(self, words: Sequence[bytes]) -> None:
        """Read until all these have been written, without drawing the screen (to measure by)."""
        limit = monotonic() + WAIT_S
        while not all(word in self.output for word in words):
            if select.select([self.master], [], [], 0.1)[0]:
                self.output += os.read(self.master, 1 << 16)
            if monotonic() > limit:
                raise AssertionError(f"waited in vain for {words!r}")

    def until_text(self, words: str) -> None:
        """Read until these words stand on the screen."""
        self.until(lambda: words in self.text, words)

    def press(self, keys: str) -> None:
        """Type."""
        os.write(self.master, keys.encode())

    def write(self, data: bytes) -> None:
        """Send bytes in one write, as typed ahead on a slow line."""
        os.write(self.master, data)

    def resize(self, columns: int, rows: int) -> None:
        """Change the terminal's size and tell the program."""
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self._screen.resize(rows, columns)
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGWINCH)

    def hang_up(self, wait_s: float = WAIT_S) -> int:
        """Close the terminal and wait until the program has ended; its exit status."""
        os.close(self.master)
        self.master = -1
        return self.process.wait(wait_s)

    def press_until(self, keys: str, words: str) -> None:
        """Type, again whenever nothing more comes, until these words stand on the screen."""
        limit = monotonic() + WAIT_S
        self.press(keys)
        while words not in self.text:
            if not self.read():
                self.press(keys)
            if monotonic() > limit:
                raise AssertionError(f"typed in vain for {words!r}; on screen:\n{self.text}")

    def until_gone(self) -> int:
        """Read until the program has ended; its exit status."""
        self.until(lambda: self.process.poll() is not None, "the end of the program")
        while self.read():
            pass
        return self.process.returncode

    @property
    def restored(self) -> bool:
        """The terminal is as it was: first screen, cursor shown, no mouse reports, line by line."""
        return (
            self.on("25")
            and not self.on("1049")
            and not any(self.on(mode) for mode in ("1000", "1002", "1003", "1006"))
            and termios.tcgetattr(self._slave) == self.before
        )

    def on(self, mode: str) -> bool:
        """Whether a private mode was last switched on; the cursor (25) is to begin with."""
        high = self.output.rfind(f"\x1b[?{mode}h".encode())
        low = self.output.rfind(f"\x1b[?{mode}l".encode())
        return high > low or (high == low and mode == "25")
