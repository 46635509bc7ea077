"""A verified copy a day that nobody has to think of; only our own are ever removed."""

from __future__ import annotations

import random
import shutil
import sqlite3
import stat
from collections.abc import Callable
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from coach.cli import cli
from coach.reports.checkup import backup as told_of
from drills.basics.days import practice_day
from scores.record.record import Record
from scores.upkeep import backups as module
from scores.upkeep.ages import age_words
from scores.upkeep.backups import back_up, backups, hindrance, newest_day
from scores.upkeep.health import health
from scores.upkeep.retention import kept
from tests.answers import START, answer
from tests.pilots import new_desk, until

TODAY = practice_day(START)
DAYS = st.dates(date(2024, 1, 1), date(2027, 12, 31))


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A record with thirty answers on three days, in the learner's own folder."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    path = tmp_path / "home" / "record.db"
    record = Record.open(path)
    for number in range(30):
        record.save(answer(number, days=number // 10))
    record.close()
    return path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


def names(path: Path) -> list[str]:
    folder = path.parent / "backups"
    return sorted(file.name for file in folder.iterdir()) if folder.exists() else []


def ids(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as db:
        return [row[0] for row in db.execute("SELECT id FROM attempts ORDER BY seq")]


# -- which are kept ------------------------------------------------------------------------


def test_seven_days_and_four_weeks_of_daily_practice_are_kept() -> None:
    there: set[date] = set()
    for number in range(100):
        day = TODAY + timedelta(days=number)
        there = set(kept({*there, day}, day))
    newest = sorted(there, reverse=True)
    assert newest[:7] == [day - timedelta(days=back) for back in range(7)]
    weeks = {found.isocalendar()[:2] for found in there}
    assert len(weeks) == 4
    # Of the weeks before those days, the last copy of each.
    assert all(found.isoweekday() == 7 for found in newest[7:])


@given(st.sets(DAYS, max_size=40), DAYS)
def test_todays_and_the_newest_stay_and_no_more_than_two_and_twenty(
    days: set[date], today: date
) -> None:
    days |= {today}
    stay = kept(days, today)
    assert stay <= days
    assert {today, max(days)} <= stay
    assert len(stay) <= 22
    assert len(stay) >= min(len(days), 7)
    assert kept(stay, today) == stay


@given(st.sets(DAYS, max_size=20), DAYS, st.dates(date(1970, 1, 1), date(2099, 12, 31)))
def test_one_start_under_a_wrong_clock_costs_no_more_than_one_under_a_right_one(
    days: set[date], today: date, wrong: date
) -> None:
    before = kept({day for day in days if day <= today} | {today}, today)
    during = kept({*before, wrong}, wrong)
    # At most one of the days and one of the weeks make room, as on any new day.
    assert len(before - during) <= 2
    after = kept({*during, today}, today)
    assert len(during - {wrong} - after) <= 2
    assert max(before) in after


# -- made ----------------------------------------------------------------------------------


def test_the_first_start_of_a_day_makes_a_whole_private_copy(path: Path) -> None:
    made = back_up(path, TODAY)
    assert made is not None
    assert names(path) == ["record-2026-03-02.db"]
    assert ids(made) == ids(path)
    assert stat.S_IMODE(made.stat().st_mode) == 0o600
    assert stat.S_IMODE(made.parent.stat().st_mode) == 0o700
    copy = Record.open(made, journaled=False)
    assert copy.check() == ()
    assert copy.replay() == copy.skills()
    copy.close()


def test_a_day_has_one_and_it_is_written_over_by_nothing(path: Path) -> None:
    made = back_up(path, TODAY)
    assert made is not None
    made.write_bytes(b"dear")
    assert back_up(path, TODAY) is None
    assert made.read_bytes() == b"dear"


def test_answers_saved_meanwhile_neither_wait_nor_begin_it_again(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "PAGES", 2)
    before = ids(path)
    app = Record.open(path)
    saved = 0

    def go_on() -> bool:
        nonlocal saved
        assert saved < 300, "it begins again with every answer"
        app.save(answer(100 + saved, days=4))
        saved += 1
        return True

    made = back_up(path, TODAY, go_on)
    slices = saved
    app.close()
    assert made is not None
    # One moment of the record, and each page copied once.
    assert ids(made) == before
    assert 10 < slices < 200
    assert ids(path)[:30] == before
    assert len(ids(path)) == 30 + slices


def test_left_meanwhile_it_is_dropped_and_made_at_the_next_start(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "PAGES", 2)
    turns = iter([True, True, True, False])
    assert back_up(path, TODAY, lambda: next(turns)) is None
    assert names(path) == []
    assert back_up(path, TODAY) is not None


def test_a_damaged_record_makes_none_and_costs_none(path: Path) -> None:
    for number in range(12):
        (path.parent / "backups").mkdir(exist_ok=True)
        good = path.parent / "backups" / f"record-{TODAY - timedelta(days=number + 1)}.db"
        shutil.copy(path, good)
    before = names(path)
    data = bytearray(path.read_bytes())
    for page in range(3, len(data) // 4096):
        data[page * 4096 : page * 4096 + 4096] = random.Random(page).randbytes(4096)
    path.write_bytes(data)
    assert back_up(path, TODAY) is None
    assert names(path) == before


def test_a_copy_that_lacks_rows_is_no_backup(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    counts = module._counts
    more = iter([1])
    monkeypatch.setattr(
        module, "_counts", lambda db: {n: of + next(more, 0) for n, of in counts(db).items()}
    )
    assert back_up(path, TODAY) is None
    assert names(path) == []


def test_a_record_without_answers_needs_none(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    record.set_setting("minutes", 5)
    record.close()
    assert back_up(tmp_path / "record.db", TODAY) is None
    assert back_up(tmp_path / "none.db", TODAY) is None
    assert not list((tmp_path / "backups").glob("*"))


def test_only_files_of_exactly_our_name_are_removed(path: Path) -> None:
    folder = path.parent / "backups"
    folder.mkdir()
    others = (
        *("record-2025-01-01.db.old", "my-record-2025-01-02.db", "record-2025-13-01.db"),
        *("record-2025-01-03.db ", "notes.txt", "record-٢٠٢٥-٠١-٠١.db"),
    )
    for name in others:
        (folder / name).write_bytes(b"theirs")
    (folder / "record-2025-01-04.db").mkdir()
    (folder / "record-2025-01-05.db").symlink_to(folder / "notes.txt")
    for number in range(1, 60):
        shutil.copy(path, folder / f"record-{TODAY - timedelta(days=number)}.db")
    stray = folder / "record-2026-02-01.db.new-77"
    stray.write_bytes(b"cut off")
    assert back_up(path, TODAY) is not None
    left = set(names(path)) - set(others) - {"record-2025-01-04.db", "record-2025-01-05.db"}
    assert len(left) == 9 or len(left) == 10
    assert set(others) <= set(names(path))
    assert (folder / "record-2025-01-04.db").is_dir()
    assert (folder / "record-2025-01-05.db").is_symlink()
    assert not stray.exists()


def test_a_backup_with_more_answers_than_the_record_stays(path: Path) -> None:
    """The record was put back to an older one, or began anew after a loss."""
    folder = path.parent / "backups"
    folder.mkdir()
    more = folder / f"record-{TODAY - timedelta(days=300)}.db"
    shutil.copy(path, more)
    full = Record.open(more, journaled=False)
    full.save(answer(500, days=9))
    full.close()
    for number in range(1, 40):
        shutil.copy(path, folder / f"record-{TODAY - timedelta(days=number)}.db")
    assert back_up(path, TODAY) is not None
    assert more.exists()
    assert len(names(path)) <= 11


# -- can't be made ---------------------------------------------------------------------------


def folder_is_a_file(path: Path, patch: pytest.MonkeyPatch) -> None:
    (path.parent / "backups").write_bytes(b"theirs")


def folder_is_a_link(path: Path, patch: pytest.MonkeyPatch) -> None:
    (path.parent / "elsewhere").mkdir()
    (path.parent / "backups").symlink_to(path.parent / "elsewhere")


def disk_is_full(path: Path, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(module.shutil, "disk_usage", lambda at: shutil._ntuple_diskusage(9, 9, 0))  # type: ignore[attr-defined]


def no_rights(path: Path, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(module.os, "access", lambda at, mode: False)


@pytest.mark.parametrize(
    "spoil", [folder_is_a_file, folder_is_a_link, disk_is_full, no_rights], ids=lambda f: f.__name__
)
def test_what_hinders_it_is_quiet_and_told_by_the_doctor(
    spoil: Callable[[Path, pytest.MonkeyPatch], None], path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    spoil(path, monkeypatch)
    assert back_up(path, TODAY) is None
    why = hindrance(path)
    assert why
    (finding,) = told_of(path, health(path), TODAY + timedelta(days=3))
    assert finding.trouble
    assert why in finding.found
    assert finding.remedy


def test_a_disk_that_fills_up_half_way_leaves_nothing_behind(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(module.os, "fsync", full)
    assert back_up(path, TODAY) is None
    assert names(path) == []


# -- told --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("days", "words"),
    [
        *((0, "today"), (1, "yesterday"), (2, "2 days ago"), (13, "13 days ago")),
        *((14, "2 weeks ago"), (60, "8 weeks ago"), (61, "2 months ago"), (800, "2 years ago")),
    ],
)
def test_an_age_is_told_in_words(days: int, words: str) -> None:
    assert age_words(TODAY, TODAY + timedelta(days=days)) == words


def test_the_doctor_says_how_old_the_newest_is(path: Path) -> None:
    back_up(path, TODAY + timedelta(days=2))
    assert newest_day(path.parent) == TODAY + timedelta(days=2)
    (finding,) = told_of(path, health(path), TODAY + timedelta(days=5))
    assert (finding.found, finding.trouble) == ("3 days ago", False)
    result = run("doctor")
    assert "newest backup" in result.output


def test_days_of_practice_in_no_backup_are_a_trouble_but_one_is_not(path: Path) -> None:
    back_up(path, TODAY + timedelta(days=1))
    assert not told_of(path, health(path), TODAY + timedelta(days=2))[0].trouble
    (path.parent / "backups" / f"record-{TODAY + timedelta(days=1)}.db").unlink()
    (finding,) = told_of(path, health(path), TODAY + timedelta(days=2))
    assert finding.found == "none yet; 3 days of practice are in none"
    assert finding.trouble


def test_a_backup_dated_in_the_future_is_a_trouble(path: Path) -> None:
    back_up(path, TODAY + timedelta(days=90))
    (finding,) = told_of(path, health(path), TODAY)
    assert finding.trouble
    assert "clock" in finding.remedy


def test_restore_with_no_file_lists_them_and_takes_a_date(path: Path) -> None:
    assert "no backups yet" in run("scores", "restore").output
    back_up(path, TODAY)
    record = Record.open(path)
    record.save(answer(70, days=6))
    record.close()
    (path.parent / "backups" / "record-2026-03-01.db").write_bytes(b"not one")
    output = run("scores", "restore").output
    lines = output.splitlines()
    assert lines[0].startswith("2026-03-02")
    assert lines[0].endswith("30 answers")
    assert lines[1].startswith("2026-03-01")
    assert lines[1].endswith("can't be read")
    assert lines[2] == "Put one back with: coach scores restore 2026-03-02"
    assert backups(path.parent)[0].answers == 30
    assert len(ids(path)) == 31
    result = run("scores", "restore", "2026-03-02", "--yes", "--exactly")
    assert result.exit_code == 0
    assert "Restored: 30 answers." in result.output
    assert len(ids(path)) == 30
    assert len(list(path.parent.glob("record-replaced-*.db"))) == 1


def test_answers_given_since_come_back_from_the_journal_unless_exactly_is_said(path: Path) -> None:
    back_up(path, TODAY)
    record = Record.open(path)
    record.save(answer(70, days=6))
    record.save(answer(71, days=6))
    record.close()
    output = run("scores", "restore", "2026-03-02", "--yes").output
    assert "Restored: 30 answers, and 2 answers given since." in output
    assert len(ids(path)) == 32
    assert (
        "Restored: 30 answers.\n"
        in run("scores", "restore", "2026-03-02", "--yes", "--exactly").output
    )
    record = Record.open(path)
    assert len(list(record.attempts())) == 30
    record.close()


# -- in the app ----------------------------------------------------------------------------------


async def test_the_app_makes_it_once_the_pencils_are_ready(path: Path) -> None:
    from coach.app import CoachApp
    from drills.pencils.sets import pocket_set

    desk = new_desk(path.parent)
    desk.use(pocket_set())
    app = CoachApp(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: names(path) == ["record-2026-03-02.db"])
