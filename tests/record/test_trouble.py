"""A record that is damaged, newer, foreign, read-only, locked, or on a full disk."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import textwrap
from collections.abc import Iterator
from pathlib import Path

import pytest

from drills.basics.errors import InputError
from scores.record import storage
from scores.record.attempt import Attempt
from scores.record.mending import remake
from scores.record.mending.compare import look_over
from scores.record.migrations import LATEST
from scores.record.record import NotSavedError, Record
from scores.record.set_aside import set_aside
from tests.answers import START, answer

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture
def sound(tmp_path: Path) -> Path:
    """A closed record with some answers."""
    path = tmp_path / "record.db"
    record = Record.open(path)
    for number in range(60):
        record.save(answer(number, region=f"region {number % 9}", days=number / 7))
    record.put_pencils("a" * 64, "Tin", "name,hex\r\n" * 300, START)
    record.close()
    return path


def attempts_of(path: Path) -> list[Attempt]:
    record = Record.open(path)
    kept = list(record.attempts())
    record.close()
    return kept


def random_bytes(path: Path) -> None:
    path.write_bytes(random.Random(1).randbytes(9000))


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-5000])


def cut_in_the_header(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:60])


def empty(path: Path) -> None:
    path.write_bytes(b"")


def a_text(path: Path) -> None:
    path.write_text("Dear diary, today I drew a pear.\n" * 100)


def another_programs(path: Path) -> None:
    path.unlink()
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE skills (skill TEXT)")
        other.execute("PRAGMA user_version = 1")
    other.close()


def skills_scribbled_over(path: Path) -> None:
    root = page_of(path, "skills")
    data = bytearray(path.read_bytes())
    data[(root - 1) * 4096 : root * 4096] = random.Random(2).randbytes(4096)
    path.write_bytes(data)


def schema_scribbled_over(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[100:4096] = random.Random(3).randbytes(3996)
    path.write_bytes(data)


def a_table_missing(path: Path) -> None:
    with sqlite3.connect(path) as db:
        db.execute("DROP TABLE days")
    db.close()


def nonsense_in_skills(path: Path) -> None:
    with sqlite3.connect(path) as db:
        db.execute("UPDATE skills SET due = 'someday'")
    db.close()


def page_of(path: Path, table: str) -> int:
    db = sqlite3.connect(path)
    (root,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()
    (size,) = db.execute("PRAGMA page_size").fetchone()
    assert size == 4096
    db.close()
    return int(root)


DAMAGES = (
    random_bytes,
    cut_short,
    cut_in_the_header,
    empty,
    a_text,
    another_programs,
    skills_scribbled_over,
    schema_scribbled_over,
    a_table_missing,
)


@pytest.mark.parametrize("damage", DAMAGES, ids=lambda d: d.__name__)
def test_a_damaged_record_is_set_aside_whole_and_made_again(damage, sound: Path) -> None:  # type: ignore[no-untyped-def]
    kept = attempts_of(sound)
    damage(sound)
    before = sound.read_bytes()
    with pytest.raises(InputError) as refusal:
        Record.open(sound)
    assert "\n" not in str(refusal.value)
    assert str(sound) in str(refusal.value)
    assert sound.read_bytes() == before

    record, notice = Record.open_mended(sound, START)
    assert notice is not None
    assert notice.state == "damaged"
    assert notice.path is not None
    assert notice.path.name == "record-damaged-20260302T090000Z.db"
    assert notice.path.read_bytes() == before
    assert str(notice.path) in notice.text
    assert "made again with 60 answers" in notice.text
    assert list(record.attempts()) == kept
    assert record.active_pencils() is not None
    assert record.skills() == record.replay()
    record.save(answer(1000, days=30))
    assert record.count() == 61
    assert record.check() == ()


def test_nonsense_that_follows_from_answers_is_worked_out_anew(sound: Path) -> None:
    record = Record.open(sound)
    before = record.skills()
    record.close()
    nonsense_in_skills(sound)
    record, notice = Record.open_mended(sound, START)
    assert notice is not None
    assert notice.state == "mended"
    assert notice.path is None
    assert "worked out again" in notice.text
    assert record.skills() == before


@pytest.mark.parametrize("with_journal", [True, False])
def test_a_setting_that_is_not_json_costs_that_setting_alone(
    sound: Path, with_journal: bool
) -> None:
    record = Record.open(sound)
    record.set_setting("minutes", 12)
    record.close()
    if not with_journal:
        sound.with_suffix(".journal").unlink()
    with sqlite3.connect(sound) as db:
        db.execute("UPDATE settings SET value = '{twelve' WHERE key = 'minutes'")
    db.close()
    record, notice = Record.open_mended(sound, START)
    assert notice is not None
    assert "minutes" in notice.text
    assert record.count() == 60
    assert record.setting("minutes") == (12 if with_journal else None)
    assert record.active_pencils() is not None
    record.close()
    assert Record.open_mended(sound, START)[1] is None


@pytest.mark.parametrize("seed", range(15))
def test_bytes_changed_anywhere_lose_no_answer(seed: int, sound: Path) -> None:
    kept = attempts_of(sound)
    rng = random.Random(seed)
    data = bytearray(sound.read_bytes())
    for _ in range(rng.randrange(1, 60)):
        data[rng.randrange(len(data))] = rng.randrange(256)
    sound.write_bytes(data)
    record, notice = Record.open_mended(sound, START)
    record.save(answer(1000, days=30))
    for _ in look_over(record):
        pass
    assert list(record.attempts())[:60] == kept
    assert record.count() == 61
    assert record.skills() == record.replay()
    assert record.check() == ()
    aside = notice.path if notice else None
    assert aside is None or len(aside.read_bytes()) == len(data)
    # What was mended stays mended.
    record.close()
    again, notice = Record.open_mended(sound, START)
    assert notice is None
    assert not any(look_over(again))
    assert again.said() == ""


def test_a_page_scribbled_over_while_it_is_open_is_mended_by_the_next_answer(sound: Path) -> None:
    kept = attempts_of(sound)
    root = page_of(sound, "attempt_facts")
    record = Record.open(sound)
    data = bytearray(sound.read_bytes())
    data[(root - 1) * 4096 : root * 4096] = bytes(4096)
    sound.write_bytes(data)
    assert record.skills()
    assert record.check() != ()
    record.save(answer(1000, days=30))
    assert list(record.attempts())[:60] == kept
    assert record.count() == 61
    assert record.check() == ()
    assert "made again with 60 answers" in record.said()


def test_a_newer_record_is_set_aside_under_its_own_name(sound: Path) -> None:
    with sqlite3.connect(sound) as db:
        db.execute(f"PRAGMA user_version = {LATEST + 1}")
    db.close()
    with pytest.raises(InputError, match=r"made by a newer coach\. Update the coach"):
        Record.open(sound)
    record, notice = Record.open_mended(sound, START)
    assert notice is not None
    assert notice.state == "newer"
    assert notice.path is not None
    assert notice.path.name == "record-newer-20260302T090000Z.db"
    assert "update the coach" in notice.text
    assert "60 answers" in notice.text
    assert record.count() == 60


def test_setting_aside_overwrites_nothing_and_takes_the_logs_along(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    names = []
    for turn in range(3):
        path.write_text(f"main {turn}")
        (tmp_path / "record.db-wal").write_text(f"log {turn}")
        names.append(set_aside(path, "damaged", START))
    assert [n.name for n in names] == [
        "record-damaged-20260302T090000Z.db",
        "record-damaged-20260302T090000Z-2.db",
        "record-damaged-20260302T090000Z-3.db",
    ]
    for turn, name in enumerate(names):
        assert name.read_text() == f"main {turn}"
        assert name.with_name(name.name + "-wal").read_text() == f"log {turn}"
    assert len(list(tmp_path.iterdir())) == 6


def test_a_log_without_its_record_is_not_replayed_into_a_new_one(sound: Path) -> None:
    record = Record.open(sound)
    record.save(answer(500))
    shutil.copy(f"{sound}-wal", sound.with_name("kept-wal"))
    record.close()
    sound.unlink()
    sound.with_suffix(".journal").unlink()
    sound.with_name("kept-wal").rename(f"{sound}-wal")
    fresh, notice = Record.open_mended(sound, START)
    assert notice is None
    fresh.save(answer(1))
    assert fresh.count() == 1
    assert fresh.check() == ()
    assert [p for p in sound.parent.iterdir() if p.name.startswith("record-damaged")]


def test_answers_waiting_in_the_log_of_a_killed_coach_are_read(sound: Path) -> None:
    record = Record.open(sound)
    record.save(answer(500))
    copy = sound.with_name("copy.db")
    shutil.copy(sound, copy)
    shutil.copy(f"{sound}-wal", f"{copy}-wal")
    assert Record.open(copy).count() == 61


def test_another_program_holding_the_record_is_waited_for_then_said(
    sound: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(storage, "BUSY_MS", 50)
    record = Record.open(sound)
    other = sqlite3.connect(sound, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(NotSavedError, match="another program is holding the record"):
        record.save(answer(500))
    assert record.skills()
    other.execute("ROLLBACK")
    record.save(answer(500))
    assert record.count() == 61
    other.close()


def test_a_folder_in_the_records_place_is_one_line(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    path.mkdir()
    with pytest.raises(InputError, match="is a directory"):
        Record.open_mended(path, START)


def test_a_damaged_record_that_cannot_be_moved_is_one_line(
    sound: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    a_text(sound)

    def refuse(*_: object) -> Path:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(remake, "set_aside", refuse)
    with pytest.raises(InputError, match=r"can't be set aside: permission denied\. Move it away"):
        Record.open_mended(sound, START)


# -- a disk or a folder that refuses, in a process of its own ---------------------------


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that another user of this machine can reach."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def run(script: str, folder: Path, as_nobody: bool = False) -> str:
    """Run a script in a process of its own, as an ordinary user if need be.

    The rights of a file mean nothing to root, so root steps down to "nobody",
    once everything that a save imports has been imported.
    """
    head = f"""
        import os, sys, tempfile
        from pathlib import Path
        sys.path.insert(0, {str(ROOT)!r})
        from scores.record.record import NotSavedError, Record
        from tests.answers import START, answer
        path = Path({str(folder)!r}) / "record.db"
        def refused(number):
            try:
                record.save(answer(number))
            except NotSavedError as error:
                return str(error)
            return ""
    """
    if as_nobody and os.geteuid() == 0:
        head += """
        with tempfile.TemporaryDirectory() as elsewhere:
            Record.open(Path(elsewhere) / "record.db").save(answer(1))
        os.chown(path.parent, 65534, 65534)
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)
        """
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(head) + textwrap.dedent(script)],
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


needs_posix = pytest.mark.skipif(os.name != "posix", reason="POSIX rights and limits")


@needs_posix
def test_a_disk_that_takes_no_more_loses_nothing_and_a_later_try_succeeds(tmp_path: Path) -> None:
    """RLIMIT_FSIZE stands for the full disk: a write that would grow a file fails."""
    out = run(
        """
        import resource
        record = Record.open(path)
        for number in range(5):
            record.save(answer(number))
        hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
        size = os.path.getsize(str(path) + "-wal")
        resource.setrlimit(resource.RLIMIT_FSIZE, (size + 9000, hard))
        number, trouble = 5, ""
        while not trouble:
            trouble = refused(number)
            number += 1
        number -= 1
        print(trouble)
        assert record.count() == number
        assert record.replay() == record.skills()
        assert Record.open(path).count() == number
        assert refused(number)
        resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
        assert not refused(number)
        assert record.count() == number + 1
        assert record.replay() == record.skills()
        assert record.check() == ()
        """,
        tmp_path,
    )
    assert out.strip() == "the disk did not take it (full, over quota, or failing)"


@needs_posix
def test_a_record_never_begun_on_a_full_disk_leaves_no_half_file(tmp_path: Path) -> None:
    run(
        """
        import resource
        hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
        resource.setrlimit(resource.RLIMIT_FSIZE, (20000, hard))
        record = Record.open(path)
        assert "disk" in refused(1), refused(1)
        assert os.listdir(path.parent) == ["record.journal"]
        resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
        assert not refused(1)
        assert record.count() == 1
        """,
        tmp_path,
    )


@needs_posix
def test_a_read_only_folder_shows_the_plan_and_says_that_nothing_is_saved(
    open_folder: Path,
) -> None:
    out = run(
        """
        record = Record.open(path)
        record.save(answer(1))
        record.close()
        os.chmod(path, 0o444)
        os.chmod(path.parent, 0o555)
        record, notice = Record.open_mended(path, START)
        assert notice is None
        assert list(record.skills()) == ["value:violet"]
        print(refused(2))
        assert record.count() == 1
        os.chmod(path.parent, 0o755)
        os.chmod(path, 0o644)
        assert refused(2) == ""
        assert record.count() == 2
        """,
        open_folder,
        as_nobody=True,
    )
    assert out.strip() == "the record or its folder is read-only"


@needs_posix
def test_a_folder_that_cannot_be_made_is_said_at_the_first_answer(open_folder: Path) -> None:
    out = run(
        """
        os.chmod(path.parent, 0o555)
        record = Record.open(path.parent / "home" / "record.db")
        print(refused(1))
        os.chmod(path.parent, 0o755)
        assert refused(1) == ""
        """,
        open_folder,
        as_nobody=True,
    )
    assert out.strip() == "permission denied"
