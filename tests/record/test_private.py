"""The learner's folder and every file of ours in it are theirs alone, whatever the umask."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from scores.record.record import Record
from scores.upkeep.backups import back_up
from scores.upkeep.private import keep_private
from tests.answers import START, answer
from tests.pseudo_terminal import COACH, ROOT, Terminal, surroundings
from tests.ways import furnish

pytestmark = pytest.mark.skipif(os.name != "posix", reason="rights of this kind are POSIX's")


def rights(path: Path) -> int:
    return stat.S_IMODE(path.lstat().st_mode)


def too_open(home: Path) -> list[str]:
    """What another person could look at, by name."""
    return [
        f"{rights(path):o} {path.relative_to(home)}"
        for path in (home, *home.rglob("*"))
        if rights(path) & 0o077
    ]


def under(umask: int, command: Sequence[str]) -> list[str]:
    """The command, started under a umask of its own."""
    start = f"import os, sys; os.umask({umask}); os.execv(sys.executable, sys.argv[1:])"
    return [sys.executable, "-c", start, *command]


def test_a_file_of_somebodys_in_the_folders_place_stays_as_it_is(tmp_path: Path) -> None:
    home = tmp_path / "notes.txt"
    home.write_text("theirs", encoding="utf-8")
    home.chmod(0o644)
    keep_private(home)
    assert rights(home) == 0o644


def test_what_commands_make_is_private(tmp_path: Path) -> None:
    home = tmp_path / "above" / "home"
    copy = tmp_path / "copy.db"  # Among its own files the coach writes none that is asked for.
    environ = surroundings(home)
    for words in (
        ["pencils", "use", "--pocket"],
        ["deck", "add", "--starter", "greys", "--yes"],
        ["class", "expect", os.devnull],
        ["scores", "backup", str(copy)],
        ["scores", "export", "--json", str(home / "all.json")],
        ["deck", "new", str(home / "my.toml")],
    ):
        done = subprocess.run(
            under(0o000, [*COACH, *words]), env=environ, cwd=ROOT, capture_output=True, text=True
        )
        assert done.returncode == 0 or words[0] == "class", done.stderr
    assert rights(copy) & 0o077 == 0
    assert {"record.db", "all.json", "my.toml"} <= {f.name for f in home.iterdir()}
    assert too_open(home) == []


@pytest.mark.parametrize("umask", [0o000, 0o077], ids=oct)
def test_what_the_app_makes_is_private_while_it_is_open_and_after(
    umask: int, tmp_path: Path
) -> None:
    home = tmp_path / "home"
    home.mkdir()
    furnish(home)
    record = Record.open(home / "record.db")
    record.save(answer(1))
    record.close()
    home.chmod(0o755)
    (home / "record.db").chmod(0o644)
    with Terminal(under(umask, COACH), surroundings(home)) as terminal:
        terminal.until(lambda: any(home.glob("backups/*.db")), "the day's backup")
        terminal.press_until("-", "5 min")
        made = {path.name for path in home.iterdir()}
        assert {"record.db", "record.db-wal", "record.db-shm"} <= made
        assert too_open(home) == []
        terminal.press("q")
        terminal.until_gone()
    assert too_open(home) == []


def test_a_home_from_before_is_tightened(tmp_path: Path) -> None:
    home = tmp_path / "home"
    path = home / "record.db"
    record = Record.open(path)
    record.save(answer(1))
    back_up(path, START.date())
    for name in ("record.journal", "record-damaged-20260101T000000Z.db", "class.db"):
        (home / name).write_bytes(b"old")
    (home / "crash-20260101T000000Z.txt").write_bytes(b"old")
    others = home / "garden.txt"
    others.write_bytes(b"theirs")
    for entry in (home, *home.rglob("*")):
        entry.chmod(0o777 if entry.is_dir() else 0o666)
    keep_private(home)
    record.close()
    # A file that is none of ours keeps its rights; nobody gets at it through the folder.
    assert too_open(home) == ["666 garden.txt"]
    assert rights(home) == 0o700
    assert rights(path) == 0o600


def test_rights_are_only_taken_never_given(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    (home / "record.db").write_bytes(b"")
    (home / "record.db").chmod(0o444)
    home.chmod(0o555)
    keep_private(home)
    assert (rights(home), rights(home / "record.db")) == (0o500, 0o400)
    home.chmod(0o700)


def test_a_folder_that_many_share_keeps_its_rights_but_our_files_do_not(tmp_path: Path) -> None:
    shared = tmp_path / "shared"
    shared.mkdir()
    (shared / "record.db").write_bytes(b"")
    (shared / "record.db").chmod(0o644)
    shared.chmod(0o1777)
    keep_private(shared)
    assert (rights(shared), rights(shared / "record.db")) == (0o1777, 0o600)


def test_a_persons_whole_home_keeps_its_rights(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tmp_path.chmod(0o755)
    monkeypatch.setenv("HOME", str(tmp_path))
    keep_private(tmp_path)
    assert rights(tmp_path) == 0o755


def test_links_are_not_followed(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    theirs = tmp_path / "theirs.db"
    theirs.write_bytes(b"theirs")
    theirs.chmod(0o644)
    (home / "class.db").symlink_to(theirs)
    (tmp_path / "record-2026-03-02.db").write_bytes(b"theirs")
    (tmp_path / "record-2026-03-02.db").chmod(0o644)
    (home / "backups").symlink_to(tmp_path)
    keep_private(home)
    assert rights(theirs) == 0o644
    assert rights(tmp_path / "record-2026-03-02.db") == 0o644


def test_nothing_there_is_no_trouble_and_nothing_is_made(tmp_path: Path) -> None:
    keep_private(tmp_path / "none")
    assert not (tmp_path / "none").exists()
