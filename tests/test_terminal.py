"""The real thing in a pseudo-terminal: it opens, closes, is told to end, fails, is killed.

The terminal must always be given back: first screen, cursor shown, no mouse reports.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from coach.terminal import colour_depth
from drills.basics.errors import InputError
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from scores.record.record import Record
from tests.pilots import KINDS, MORNING, damaged_record

pytest.importorskip("pty", reason="no pseudo-terminals here")

from tests.pseudo_terminal import COACH, ROOT, Terminal, surroundings

# What colours a terminal is said to have


@pytest.mark.parametrize(
    ("environ", "true_colour", "words"),
    [
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor"}, True, "24-bit"),
        ({"TERM": "xterm-256color", "COLORTERM": "24bit"}, True, "24-bit"),
        ({"TERM": "xterm-256color"}, False, "256 colours only"),
        ({"TERM": "xterm"}, False, "16 colours only"),
        ({"TERM": "dumb", "COLORTERM": "truecolor"}, False, "no colour only"),
        ({"TERM": "xterm", "COLORTERM": "truecolor", "NO_COLOR": "1"}, False, "NO_COLOR"),
        ({"TERM": "xterm", "TEXTUAL_COLOR_SYSTEM": "truecolor"}, True, "24-bit"),
        ({"TERM": "xterm", "COLORTERM": "truecolor", "TEXTUAL_COLOR_SYSTEM": "256"}, False, "256"),
    ],
)
def test_the_depth_of_colour_is_what_will_be_drawn(
    environ: dict[str, str], true_colour: bool, words: str
) -> None:
    depth = colour_depth(environ)
    assert depth.true_colour is true_colour
    assert words in depth.words
    assert bool(depth.remedy) is not true_colour


def test_a_colour_system_nobody_knows_is_refused_in_one_line() -> None:
    with pytest.raises(InputError, match="TEXTUAL_COLOR_SYSTEM"):
        colour_depth({"TEXTUAL_COLOR_SYSTEM": "\x1b[31mall of them"})


# Without a terminal


@pytest.mark.parametrize("stdin", [subprocess.DEVNULL, None], ids=["empty", "closed"])
def test_without_a_terminal_one_line_and_status_2(tmp_path: Path, stdin: int | None) -> None:
    done = subprocess.run(
        [*COACH] if stdin is not None else ["sh", "-c", f"exec {sys.executable} -m coach <&-"],
        stdin=stdin,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=surroundings(tmp_path),
    )
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert "terminal" in done.stderr
    assert list(tmp_path.iterdir()) == []


# In a terminal


def chosen(home: Path, *kinds: str) -> None:
    """A home where the pocket set is in use and only ``kinds`` (else all) are asked."""
    pencils = pocket_set()
    record = Record.open(home / "record.db")
    record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), MORNING)
    record.set_setting("kinds_off", [kind for kind in KINDS if kinds and kind not in kinds])
    record.close()


def test_it_opens_on_today_and_q_gives_the_terminal_back(tmp_path: Path) -> None:
    chosen(tmp_path)
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text("skills met")
        assert terminal.on("1049")
        assert not terminal.on("25")
        terminal.press("q")
        assert terminal.until_gone() == 0
        assert terminal.restored
        assert b"Traceback" not in terminal.output


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP"])
def test_told_to_end_it_gives_the_terminal_back(tmp_path: Path, name: str) -> None:
    number = getattr(signal, name)
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text("Whose pencils")
        terminal.process.send_signal(number)
        assert terminal.until_gone() == 128 + number
        assert terminal.restored
        assert b"Traceback" not in terminal.output


def test_no_color_is_heeded_and_the_reason_given(tmp_path: Path) -> None:
    chosen(tmp_path)
    with Terminal(COACH, surroundings(tmp_path, NO_COLOR="1")) as terminal:
        terminal.until_text("NO_COLOR")
        terminal.until_text("left out")
        terminal.press("q")
        assert terminal.until_gone() == 0


def test_a_terminal_that_places_nothing_is_refused_in_one_line(tmp_path: Path) -> None:
    with Terminal(COACH, surroundings(tmp_path, TERM="dumb")) as terminal:
        assert terminal.until_gone() == 2
        assert b"TERM=dumb" in terminal.output
        # No screen was begun: not one escape was written.
        assert b"\x1b" not in terminal.output
    assert list(tmp_path.iterdir()) == []


def test_a_damaged_record_is_set_aside_and_said(tmp_path: Path) -> None:
    before = damaged_record(tmp_path / "record.db")
    with Terminal(COACH, surroundings(tmp_path), columns=120, rows=40) as terminal:
        terminal.until_text("was damaged")
        terminal.until_text("Whose pencils")
        # Words for a person, not an object's.
        assert "Notice(" not in terminal.text
        terminal.press("\x1b")
        assert terminal.until_gone() == 0
    (aside,) = [path for path in tmp_path.iterdir() if "damaged" in path.name]
    assert aside.read_bytes() == before


def test_a_home_that_can_not_be_written_to_does_not_stop_practice(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.write_text("a file stands where the folder should be")
    with Terminal(COACH, surroundings(home)) as terminal:
        terminal.until(
            lambda: "Whose pencils" in terminal.text or terminal.process.poll() is not None,
            "the welcome, or a line that says why not",
        )
        if terminal.process.poll() is None:
            terminal.press("\x1b")
        assert terminal.until_gone() in {0, 2}
        assert b"Traceback" not in terminal.output


def test_killed_after_answers_it_opens_again_with_them_counted(tmp_path: Path) -> None:
    """SIGKILL at a question: each answer was on the disk before its reveal was shown."""
    chosen(tmp_path, "lighter-or-darker")
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text("skills met")
        for number in range(1, 4):
            terminal.press_until("\r", f"· question {number} ")
            terminal.until_text("1–2 choose")
            terminal.press_until("1", "Enter next")
        os.kill(terminal.process.pid, signal.SIGKILL)
        assert terminal.until_gone() == -signal.SIGKILL
    record = Record.open(tmp_path / "record.db")
    assert record.count() == 3
    assert record.replay() == record.skills()
    met = len(record.skills())
    record.close()
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text(f" {met} of")
        terminal.press("q")
        assert terminal.until_gone() == 0
