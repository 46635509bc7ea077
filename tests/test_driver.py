"""Bytes that are no input, and a terminal that goes away; and whether our hook is still needed."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import pytest

pytest.importorskip("pty", reason="no pseudo-terminals here")

from scores.record.record import Record
from tests.pseudo_terminal import COACH, Terminal, surroundings
from tests.ways import furnish, go, home_for

STRAY = {
    "a byte that isn't UTF-8": b"\xff",
    "half a letter": b"\xc3",
    "a mouse report right of column 95": b"\x1b[M \xa0\xa1",
    "an escape sequence with a number that is none": b"\x1b[1114112u",
    "another": b"\x1b[99999999999999~",
}
MENDED = (
    "textual minds this itself now: if the other tests of this kind fail as well, remove"
    " coach/running/driver.py and BaseApp.get_driver_class; else take this out of the hook"
)
BARE = (
    sys.executable,
    "-c",
    "from textual.app import App\n"
    "from textual.widgets import Static\n"
    "class Bare(App):\n"
    "    BINDINGS = [('q', 'quit', 'Leave')]\n"
    "    def compose(self):\n"
    "        yield Static('an app without our hook')\n"
    "Bare().run()\n",
)


def test_what_is_no_input_is_dropped_and_all_goes_on(tmp_path: Path) -> None:
    furnish(tmp_path)
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text("skills met")
        for stray in STRAY.values():
            terminal.write(stray)
            # One key may be taken for the rest of a report that was cut.
            terminal.press_until("?", "choose; in an ordering")
            terminal.press_until("\x1b", "skills met")
        terminal.press("\x11")
        assert terminal.until_gone() == 0
        assert terminal.restored


def test_half_a_letter_alone_is_waited_for(tmp_path: Path) -> None:
    """Read by itself it is no text yet; with its other half it is the letter."""
    furnish(tmp_path)
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        go(terminal, "plan")
        letter = "é".encode()
        terminal.write(letter[:1])
        while terminal.read():
            pass
        terminal.write(letter[1:])
        terminal.until_text("é")


@pytest.mark.parametrize("name", ["a byte that isn't UTF-8", "another"])
def test_without_our_hook_it_ends_in_a_traceback(tmp_path: Path, name: str) -> None:
    with Terminal(BARE, surroundings(tmp_path)) as terminal:
        terminal.until_text("an app without our hook")
        terminal.write(STRAY[name] + b"q")
        terminal.until_gone()
        assert b"Traceback" in terminal.output, MENDED


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="seen on Linux")
def test_without_our_hook_it_spins_when_the_terminal_is_gone(tmp_path: Path) -> None:
    with Terminal(BARE, surroundings(tmp_path)) as terminal:
        terminal.until_text("an app without our hook")
        before = processor_s(terminal.process.pid)
        with pytest.raises(subprocess.TimeoutExpired):
            terminal.hang_up(wait_s=0.1)
        while terminal.process.poll() is None and processor_s(terminal.process.pid) < before + 1:
            with suppress(subprocess.TimeoutExpired):
                terminal.process.wait(0.1)
        assert terminal.process.poll() is None, MENDED


def processor_s(pid: int) -> float:
    """Seconds of a processor that a process has taken."""
    fields = Path(f"/proc/{pid}/stat").read_text().rsplit(") ", 1)[1].split()
    return sum(map(int, fields[11:13])) / os.sysconf("SC_CLK_TCK")


CLOSED = ("today", "today", "screen check", "question", "commands", "plan", "guide", "class")
"""Every way a screen may be at work: a timer, a thread, an input, a list, a file of its own."""


@pytest.mark.parametrize(
    ("screen", "controlling"),
    [(screen, bool(place % 2)) for place, screen in enumerate(CLOSED)],
)
def test_the_terminal_is_closed(tmp_path: Path, screen: str, controlling: bool) -> None:
    """As by a window closed (it is told so), or by a line that breaks (it reads the end)."""
    home = home_for(screen, tmp_path)
    with Terminal(COACH, surroundings(home), controlling=controlling) as terminal:
        go(terminal, screen)
        assert terminal.hang_up() == 128 + signal.SIGHUP
    closed_cleanly(home)


@pytest.mark.parametrize(
    ("screen", "name"),
    [
        *((screen, "SIGTERM") for screen in ("screen check", "question", "commands", "plan")),
        ("question", "SIGHUP"),
    ],
)
def test_it_is_told_to_end(tmp_path: Path, screen: str, name: str) -> None:
    number = getattr(signal, name)
    home = home_for(screen, tmp_path)
    with Terminal(COACH, surroundings(home)) as terminal:
        go(terminal, screen)
        terminal.process.send_signal(number)
        assert terminal.until_gone() == 128 + number
        assert terminal.restored
    closed_cleanly(home)


def test_a_terminal_that_takes_no_more_output_holds_up_no_end(tmp_path: Path) -> None:
    """As on a line that hangs: nothing is read from the terminal while the screen is drawn anew."""
    furnish(tmp_path)
    with Terminal(COACH, surroundings(tmp_path), columns=200, rows=60) as terminal:
        go(terminal, "guide")
        for _ in range(200):
            terminal.write(b"\x1b[B\x1b[A" * 8)
        terminal.process.send_signal(signal.SIGTERM)
        assert terminal.process.wait(30) == 128 + signal.SIGTERM
    closed_cleanly(tmp_path)


BUSY = (
    sys.executable,
    "-c",
    "import threading\n"
    "from contextlib import closing\n"
    "from scores.upkeep import backups\n"
    "def held(record, draft, go_on):\n"
    "    with closing(backups.connect(record, readonly=True)) as source:\n"
    "        source.execute('BEGIN')\n"
    "        source.execute('SELECT COUNT(*) FROM attempts').fetchone()\n"
    "        (record.parent / 'being read').touch()\n"
    "        while go_on():\n"
    "            pass\n"
    "        threading.Event().wait(0.3)\n"
    "    raise backups._StoppedError\n"
    "backups._copied = held\n"
    "from coach.start import open_app\n"
    "open_app()\n",
)
"""The coach on a busy machine: its day's backup takes a while to leave the record's file."""


def test_the_record_is_closed_after_the_backup_has_left_it(tmp_path: Path) -> None:
    furnish(tmp_path)
    with Terminal(BUSY, surroundings(tmp_path)) as terminal:
        while not (tmp_path / "being read").exists():
            terminal.read()
        terminal.process.send_signal(signal.SIGTERM)
        assert terminal.until_gone() == 128 + signal.SIGTERM
    closed_cleanly(tmp_path)


def closed_cleanly(home: Path) -> None:
    """No log was left beside the record, it is sound, and no fault was noted."""
    assert not [name for name in os.listdir(home) if name.endswith("-wal") or "crash" in name]
    if (home / "record.db").exists():
        record = Record.open(home / "record.db")
        assert record.check() == ()
        record.close()
