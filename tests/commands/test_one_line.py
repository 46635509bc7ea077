"""A home, a record or a class that can't be used: one line with place and remedy, status 2."""

from __future__ import annotations

import ctypes
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

import coach.clock
from coach.clock import local_now
from drills.basics.errors import InputError
from tests.pseudo_terminal import COACH, ROOT, Terminal, surroundings
from tests.ways import furnish

COMMANDS = {
    "skills": ("skills",),
    "progress": ("progress",),
    "pencils": ("pencils", "use", "--pocket"),
    "deck": ("deck", "list"),
    "backup": ("scores", "backup", "copy.db"),
    "restore": ("scores", "restore", "copy.db", "--yes"),
}
CLASS = {"show": ("class", "show"), "drop": ("class", "drop", "Wren")}
UNUSABLE: dict[str, Callable[[Path], None]] = {
    "a pipe": lambda path: os.mkfifo(path),
    "a folder": lambda path: path.mkdir(),
    "a device": lambda path: path.symlink_to("/dev/zero"),
    "a link to itself": lambda path: path.symlink_to(path),
}
# All open a record by the one door: each command is tried with one such file, one with all.
EACH = [
    *(("skills", kind) for kind in UNUSABLE),
    *zip([name for name in COMMANDS if name != "skills"], [*UNUSABLE, "a pipe"], strict=True),
]
pytestmark = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no such files here")


def refused(home: Path | str, *words: str, **how: object) -> str:
    """Run a command; the one line it must end in."""
    done = subprocess.run(
        [sys.executable, "-m", "coach", *words],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=surroundings(Path("-"), COACH_HOME=str(home)),
        stdin=subprocess.DEVNULL,
        timeout=60,
        **how,  # type: ignore[call-overload]
    )
    assert done.returncode == 2, done.stderr
    assert len(done.stderr.splitlines()) == 1, done.stderr
    assert done.stderr.startswith("coach: ")
    return done.stderr


@pytest.mark.parametrize(("name", "kind"), EACH)
def test_a_record_that_is_no_file(tmp_path: Path, kind: str, name: str) -> None:
    UNUSABLE[kind](tmp_path / "record.db")
    line = refused(tmp_path, *(word.replace("copy", f"{tmp_path}/copy") for word in COMMANDS[name]))
    assert str(tmp_path) in line
    assert os.listdir(tmp_path) == ["record.db"]


@pytest.mark.parametrize(
    ("name", "kind"), [*(("show", kind) for kind in UNUSABLE), ("drop", "a device")]
)
def test_a_class_that_is_no_file(tmp_path: Path, kind: str, name: str) -> None:
    UNUSABLE[kind](tmp_path / "class.db")
    assert str(tmp_path) in refused(tmp_path, *CLASS[name])


@pytest.mark.parametrize("kind", ["a pipe", "a folder"])
def test_the_app_says_so_too(tmp_path: Path, kind: str) -> None:
    UNUSABLE[kind](tmp_path / "record.db")
    with Terminal(COACH, surroundings(tmp_path), columns=400) as terminal:
        assert terminal.until_gone() == 2
        assert terminal.text.strip().startswith("coach: ")
        assert "COACH_HOME" in terminal.text
    assert os.listdir(tmp_path) == ["record.db"]


@pytest.mark.parametrize("kind", ["a pipe", "a folder"])
def test_the_class_screen_says_so_too(tmp_path: Path, kind: str) -> None:
    furnish(tmp_path)
    (tmp_path / "class.db").unlink()
    UNUSABLE[kind](tmp_path / "class.db")
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text("k class")
        terminal.press_until("k", "not an ordinary")
        terminal.press("\x11")
        assert terminal.until_gone() == 0


@pytest.mark.parametrize("kind", UNUSABLE)
def test_the_check_up_still_reports(tmp_path: Path, kind: str) -> None:
    UNUSABLE[kind](tmp_path / "record.db")
    done = subprocess.run(
        [sys.executable, "-m", "coach", "doctor"],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=surroundings(tmp_path),
        timeout=60,
    )
    assert done.returncode == 1
    assert done.stderr == ""


@pytest.mark.parametrize("name", ["skills", "deck"])
@pytest.mark.parametrize("home", ["~nosuchuserhere/x", "/" + 300 * "x"])
def test_a_home_that_can_not_be(home: str, name: str) -> None:
    line = refused(home, *COMMANDS[name])
    assert home[:100] in line
    assert "COACH_HOME" in line


def no_way_round_permissions() -> None:
    """In the new process: the superuser is held to permissions like anybody (Linux, prctl(2))."""
    if os.geteuid() == 0:
        drop_from_bounding_set = 24
        for capability in (1, 2):
            assert ctypes.CDLL(None).prctl(drop_from_bounding_set, capability, 0, 0, 0) == 0


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="prctl is Linux's")
@pytest.mark.parametrize("name", COMMANDS)
def test_a_home_without_permission(tmp_path: Path, name: str) -> None:
    home = tmp_path / "home"
    home.mkdir()
    home.chmod(0)
    try:
        line = refused(home, *COMMANDS[name], preexec_fn=no_way_round_permissions)
    finally:
        home.chmod(0o700)
    assert "permission" in line
    assert os.listdir(home) == []


@pytest.mark.parametrize("words", [("scores", "restore"), ("pencils", "check"), ("deck", "check")])
def test_a_file_name_that_is_too_long(tmp_path: Path, words: tuple[str, ...]) -> None:
    assert "xxx" in refused(tmp_path, *words, 300 * "x")


@pytest.mark.parametrize("year", [1, 1969, 9999])
def test_a_clock_far_out_is_refused(year: int, monkeypatch: pytest.MonkeyPatch) -> None:
    class Clock(datetime):
        @classmethod
        def now(cls, tz: object = None) -> Clock:  # type: ignore[override]
            return cls(year, 12, 31, 23, 59, 59)

    monkeypatch.setattr(coach.clock, "datetime", Clock)
    with pytest.raises(InputError, match=f"clock: it says the year {year}"):
        local_now()
