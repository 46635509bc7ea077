"""A fault of our own: one calm sentence, its details kept privately, the session offered again."""

from __future__ import annotations

import re
import stat
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from coach.running.faults import KEPT, told
from coach.session.unfinished import KEY, minutes_left
from drills.basics.days import utc_text
from drills.kinds import all_kinds
from scores.record.record import Record
from tests.pilots import MORNING

pytest.importorskip("pty", reason="no pseudo-terminals here")

from tests.pseudo_terminal import COACH, ROOT, Terminal, surroundings
from tests.ways import furnish, go

FAULTY = """
import sys
from coach.screens.practice.question import PracticeScreen
from coach.running.entry import main

def read(self, way):
    raise RuntimeError("what went wrong")

PracticeScreen.action_read = read
sys.argv = ["coach"]
main()
"""
IN_A_THREAD = """
import sys
from textual import work
from coach.screens.help import HelpScreen
from coach.running.entry import main

@work(thread=True)
def fail(self):
    raise RuntimeError("what went wrong")

HelpScreen.on_mount = lambda self: fail(self)
sys.argv = ["coach"]
main()
"""


def last_line(terminal: Terminal) -> str:
    """What is written after the first screen is given back."""
    after = terminal.output.rsplit(b"\x1b[?1004l", 1)[1].decode()
    return re.sub(r"\x1b\[[?\d]*[a-z]", "", after).strip()


def faulty(home: Path, program: str, *ways: tuple[str, str], last: str) -> Path:
    """Run into the fault, which must be told of in one line; the file with its details."""
    with Terminal((sys.executable, "-c", program), surroundings(home)) as terminal:
        go(terminal, "today")
        for keys, words in ways:
            terminal.press_until(keys, words)
        terminal.press(last)
        assert terminal.until_gone() == 1
        assert terminal.restored
        words = last_line(terminal)
    (details,) = home.glob("crash-*.txt")
    assert words.startswith("coach: a fault of the coach itself ended it;")
    assert words.endswith(str(details))
    assert len(words.splitlines()) == 1
    return details


def test_one_sentence_its_details_kept_and_the_session_offered_again(tmp_path: Path) -> None:
    furnish(tmp_path)
    # One answer ends each of its questions.
    record = Record.open(tmp_path / "record.db")
    record.set_setting("kinds_off", [name for name in all_kinds() if name != "lighter-or-darker"])
    record.close()
    ways = (("\r", "· question 1 "), ("1", "Enter next"))
    details = faulty(tmp_path, FAULTY, *ways, last="\x1b[A")
    assert "RuntimeError: what went wrong" in details.read_text()
    assert stat.S_IMODE(details.stat().st_mode) == 0o600
    record = Record.open(tmp_path / "record.db")
    assert record.count() == 1
    noted = record.setting(KEY)
    assert isinstance(noted, dict)
    assert 0 < noted["minutes"] <= 10
    record.set_setting(KEY, {**noted, "minutes": 3})
    record.close()
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        go(terminal, "today")
        terminal.until_text("goes on with its last")
        assert "3 minutes, about" in terminal.text
        terminal.press_until("\r", "· question 1 ")
        terminal.press_until("\x1b", "How it went")
        terminal.press_until("\r", "skills met")
        # Offered once.
        assert "goes on with its last" not in terminal.text


def test_a_fault_in_a_thread_is_told_the_same_way(tmp_path: Path) -> None:
    furnish(tmp_path)
    details = faulty(tmp_path, IN_A_THREAD, last="?")
    assert "what went wrong" in details.read_text()


def test_a_fault_in_a_command_is_told_the_same_way(tmp_path: Path) -> None:
    program = (
        "import sys, coach.commands.read as r\n"
        "def fail(*a, **b): raise RuntimeError('what went wrong')\n"
        "r.command.callback = fail\n"
        "from coach.running.entry import main\n"
        "sys.argv = ['coach', 'read', '#112233']\n"
        "main()\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=surroundings(tmp_path),
    )
    assert done.returncode == 1
    assert len(done.stderr.splitlines()) == 1
    (details,) = tmp_path.glob("crash-*.txt")
    assert str(details) in done.stderr


def test_details_of_a_few_faults_are_kept(tmp_path: Path) -> None:
    for hour in range(KEPT + 3):
        told(RuntimeError(f"number {hour}"), tmp_path, MORNING + timedelta(hours=hour))
    kept = sorted(tmp_path.iterdir())
    assert len(kept) == KEPT
    assert f"number {KEPT + 2}" in kept[-1].read_text()


def test_details_that_can_not_be_written_are_told_in_the_line(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.write_text("a file")
    words = told(RuntimeError("what\x1b[31m went wrong"), home, MORNING)
    assert "can't be written" in words
    assert "RuntimeError: what·[31m went wrong" in words


@pytest.mark.parametrize(
    "noted",
    [
        None,
        "x",
        {},
        {"at": "yesterday", "minutes": 3},
        {"at": utc_text(MORNING - timedelta(days=1)), "minutes": 3},
        {"at": utc_text(datetime(9999, 12, 31, 23, 59, tzinfo=UTC)), "minutes": 3},
        {"at": utc_text(MORNING), "minutes": "3"},
    ],
)
def test_nothing_else_is_offered(tmp_path: Path, noted: object) -> None:
    record = Record.open(tmp_path / "record.db")
    record.set_setting(KEY, noted)  # type: ignore[arg-type]
    assert minutes_left(record, MORNING) is None
    record.set_setting(KEY, {"at": utc_text(MORNING), "minutes": 3})
    assert minutes_left(record, MORNING) == 3
    record.close()
