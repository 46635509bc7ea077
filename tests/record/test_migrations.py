"""The schema grows without losing an answer, or does not grow at all."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from sqlite_utils import Database

from drills.basics.errors import InputError
from scores.record import migrations, storage
from scores.record.migrations import APPLICATION_ID, LATEST, TABLES, migrate
from scores.record.record import Record
from tests.answers import START, answer


def add_mood(db: Database) -> None:
    db.table("attempts").add_column("mood", str)
    db.execute("UPDATE attempts SET mood = 'calm'")


def break_down(db: Database) -> None:
    db.table("attempts").add_column("half_done", str)
    db.execute("INSERT INTO no_such_table VALUES (1)")


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A record of today's schema, with answers."""
    path = tmp_path / "record.db"
    record = Record.open(path)
    for number in range(12):
        record.save(answer(number, days=number))
    record.put_pencils("a" * 64, "Tin", "name,hex\r\n", START)
    record.close()
    return path


def grow(monkeypatch: pytest.MonkeyPatch, step) -> int:  # type: ignore[no-untyped-def]
    """Release a coach whose schema has one more step."""
    steps = (*migrations.STEPS, step)
    monkeypatch.setattr(migrations, "STEPS", steps)
    monkeypatch.setattr(migrations, "LATEST", len(steps))
    monkeypatch.setattr(storage, "LATEST", len(steps))
    return len(steps)


def test_a_new_record_has_every_table_and_says_its_version(old: Path) -> None:
    db = sqlite3.connect(old)
    assert db.execute("PRAGMA user_version").fetchone() == (LATEST,)
    assert db.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
    assert {row[0] for row in db.execute("SELECT name FROM sqlite_master")} >= TABLES
    assert db.execute("PRAGMA foreign_key_check").fetchall() == []
    db.close()


def test_an_older_record_is_brought_up_to_date_with_every_answer(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = list(Record.open(old).attempts()), Record.open(old).skills()
    version = grow(monkeypatch, add_mood)
    record = Record.open(old)
    assert (list(record.attempts()), record.skills()) == before
    assert record._rows("SELECT DISTINCT mood FROM attempts") == [("calm",)]
    assert record._rows("PRAGMA user_version") == [(version,)]
    assert record.active_pencils() is not None
    record.save(answer(100, days=20))
    assert record.replay() == record.skills()


def test_a_step_that_fails_leaves_the_record_as_it_was(
    old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        grow(patch, break_down)
        with pytest.raises(InputError):
            Record.open(old)
    db = sqlite3.connect(old)
    assert db.execute("PRAGMA user_version").fetchone() == (LATEST,)
    columns = [row[1] for row in db.execute("PRAGMA table_info(attempts)")]
    db.close()
    assert "half_done" not in columns
    assert Record.open(old).count() == 12


def test_the_first_schema_can_still_be_made_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a record of the first release is: its step alone, before a later one."""
    grow(monkeypatch, add_mood)
    db = sqlite3.connect(tmp_path / "v1.db", isolation_level=None)
    migrate(db, stop_before="add_mood")
    assert db.execute("PRAGMA user_version").fetchone() == (len(migrations.STEPS) - 1,)
    columns = [row[1] for row in db.execute("PRAGMA table_info(attempts)")]
    assert "mood" not in columns
    db.close()
    assert Record.open(tmp_path / "v1.db").count() == 0


def test_the_daily_start_imports_nothing_heavy(old: Path) -> None:
    """The first screen's imports leave out sqlite-utils, fsrs, numpy and the screen library."""
    import subprocess
    import sys

    script = (
        "import sys; from pathlib import Path; from datetime import datetime, UTC\n"
        "from coach.home import record_path; from coach.session.session import today\n"
        "from scores.record.record import Record\n"
        f"record, _ = Record.open_mended(Path({str(old)!r}), datetime.now(UTC))\n"
        "assert record.skills() and record.settings()\n"
        "today(record, 'x', datetime.now(UTC), 1)\n"
        "heavy = {'sqlite_utils', 'fsrs', 'numpy', 'textual', 'platformdirs', 'uuid', 'zoneinfo'}\n"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parent.parent.parent,
    )
    assert done.stdout.strip() == "[]"
