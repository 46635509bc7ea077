"""Forgetting everything leaves no byte of the learner in the coach's folder."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from drills.basics.days import practice_day
from drills.basics.errors import InputError
from scores.record.journal.drafts import keep_drafts
from scores.record.record import Record
from scores.record.set_aside import set_aside
from scores.upkeep.backups import back_up
from scores.upkeep.forget import forget_everywhere, places
from tests.answers import START, answer

NAME = "Heron Quillfeather"
DECK = "d" * 64


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "tmp"))
    (tmp_path / "tmp").mkdir()
    return tmp_path / "home"


def practised(home: Path, session: str) -> list[str]:
    """Answers saved, and who gave them; the answers' ids."""
    record = Record.open(home / "record.db")
    record.set_setting("pseudonym", NAME)
    given = [answer(n, session=session, deck=DECK if n % 3 else "") for n in range(12)]
    for one in given:
        record.save(one)
    record.close()
    return [one.id for one in given]


def left_behind(home: Path) -> list[str]:
    """All that has ever been written: damaged, replaced, cut off, backed up, logged."""
    ids = practised(home, "first")
    path = home / "record.db"
    back_up(path, practice_day(START))
    shutil.copy(path, home / "record.db-wal")
    shutil.copy(path, home / "record.db-shm")
    set_aside(path, "damaged", START)
    ids += practised(home, "second")
    shutil.copy(path, home / "record.db.new-4711")
    shutil.copy(path, home / "record.db.restored-4711")
    shutil.copy(path, home / "record.db.restored-4711-journal")
    shutil.copy(path, home / "record-replaced-20260302T090000Z-2.db")
    # A log whose record is gone.
    shutil.copy(path, home / "record-damaged-19700101T000000Z.db-wal")
    shutil.copy(path, home / "backups" / "record-2026-03-01.db.new-4711")
    assert (home / "record.journal").exists()
    shutil.copy(home / "record.journal", home / "record-damaged-20260302T090000Z.journal")
    shutil.copy(home / "record.journal", home / "record.journal.new-4711")
    shutil.copy(path, home / "record.db.remade-4711")
    shutil.copy(path, home / "record.db.merging-4711-wal")
    shutil.copy(path, home / "record.db-wal.keep-4711")
    waiting = [answer(1, session="waiting")]
    keep_drafts(path, [home, home.parent / "tmp"], waiting)
    keep_drafts(path, [home / "none", home.parent / "tmp"], waiting)
    ids += [one.id for one in waiting]
    shutil.copy(home / "record.journal", home / "crash-20260302T090000Z.txt")
    return ids


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


def test_no_byte_of_the_learner_is_left(home: Path) -> None:
    ids = left_behind(home)
    (home / "class.db").write_bytes(b"a teacher's")
    (home / "record-of-my-garden.db").write_bytes(b"theirs")
    private = [NAME.encode(), *(one.encode() for one in ids)]
    folder = home.parent
    everything = b"".join(file.read_bytes() for file in folder.rglob("*") if file.is_file())
    assert all(word in everything for word in private)
    result = run("scores", "forget", "--yes")
    assert result.exit_code == 0
    left = {file: file.read_bytes() for file in folder.rglob("*") if file.is_file()}
    for file, data in left.items():
        assert not [word for word in private if word in data], file
    assert sorted(file.name for file in left) == ["class.db", "record-of-my-garden.db"]
    assert not (home / "backups").exists()


def test_each_file_is_named_before_it_goes(home: Path) -> None:
    left_behind(home)
    files = places(home)
    assert len(files) >= 18
    # The record last: cut short, the rest can still be forgotten.
    assert files[-1] == home / "record.db"
    result = CliRunner().invoke(cli, ["scores", "forget"], input="n\n")
    assert result.exit_code != 0
    assert all(str(file) in result.output for file in files)
    assert all(file.exists() for file in files)


def test_what_is_left_without_a_record_is_forgotten_too(home: Path) -> None:
    left_behind(home)
    (home / "record.db").unlink()
    assert forget_everywhere(home)
    assert list(home.iterdir()) == []


def test_a_linked_folder_or_file_is_not_followed(home: Path, tmp_path: Path) -> None:
    practised(home, "s")
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "record-2026-03-01.db").write_bytes(b"theirs")
    (home / "backups").symlink_to(elsewhere)
    (home / "record.journal").unlink()
    (home / "record.journal").symlink_to(elsewhere / "record-2026-03-01.db")
    assert "a link: what it leads to stays" in run("scores", "forget", "--yes").output
    assert (elsewhere / "record-2026-03-01.db").read_bytes() == b"theirs"
    assert not (home / "record.journal").is_symlink()


def test_forgetting_a_deck_forgets_it_in_the_backups_as_well(home: Path) -> None:
    left_behind(home)
    result = run("scores", "forget", "--deck", DECK, "--yes")
    assert result.exit_code == 0, result.exception
    # Those of the record set aside came back from the journal, and go as well.
    assert "16 answers" in result.output
    assert "backups deleted" in result.output
    # Those set aside hold them too, and are named.
    assert str(home / "record-damaged-20260302T090000Z.db") in result.output
    assert not (home / "backups").exists()
    assert DECK.encode() not in (home / "record.db").read_bytes()


def test_nothing_to_forget_is_said(home: Path) -> None:
    assert isinstance(run("scores", "forget", "--yes").exception, InputError)
