"""What the app says when the disk, the record or the terminal won't do; nothing is lost."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from coach.app_state import Ready
from coach.screens.first_start.welcome import WelcomeScreen
from coach.screens.practice.closing import ClosingScreen
from coach.screens.practice.example import ExampleScreen
from coach.screens.practice.today import TodayScreen
from drills.pencils.sets import demo_set
from scores.record.record import NotSavedError, Record
from tests.pilots import (
    FEW_COLOURS,
    KINDS,
    MORNING,
    TableApp,
    answer,
    damaged_record,
    kept,
    new_desk,
    painted,
    practice,
    ready_once,
    shown,
    table,
    until,
)

# A full disk


class FullDisk:
    """Refuses every answer until there is room."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.room = False
        save = Record.save

        def refuse(record: Record, attempt):  # type: ignore[no-untyped-def]
            if not self.room:
                raise NotSavedError("the disk is full")
            return save(record, attempt)

        monkeypatch.setattr(Record, "save", refuse)


async def test_an_answer_the_disk_refuses_is_kept_on_screen_and_saved_later(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = FullDisk(monkeypatch)
    app = table(tmp_path, "lighter-or-darker")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        await answer(pilot)
        outcome = practice(app).outcome
        assert outcome is not None
        assert "Not saved: the disk is full. Your answer is kept here" in shown(app)
        assert outcome.grade.verdict in shown(app)
        assert "r save again" in shown(app)
        assert kept(tmp_path) == []
        await pilot.press("r")
        await pilot.pause()
        assert "Not saved" in shown(app)
        disk.room = True
        await pilot.press("r")
        await pilot.pause()
        assert "Not saved" not in shown(app)
        assert "save again" not in shown(app)
        assert len(kept(tmp_path)) == 1


async def test_answers_that_wait_are_saved_with_the_next_one_or_at_the_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = FullDisk(monkeypatch)
    app = table(tmp_path, "lighter-or-darker")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        await answer(pilot)
        await pilot.press("enter")
        await pilot.pause()
        await answer(pilot)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, ClosingScreen)
        assert "2 not saved yet; r tries again" in shown(app)
        disk.room = True
        await pilot.press("r")
        await pilot.pause()
        assert "not saved" not in shown(app)
        assert len(kept(tmp_path)) == 2


async def test_a_file_that_may_not_grow_is_a_full_disk(tmp_path: Path) -> None:
    app = table(tmp_path, "lighter-or-darker")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        await answer(pilot)
        db = app.app_state.record._db
        assert db is not None
        db.execute("PRAGMA max_page_count = 1")
        count = 1
        while "Not saved" not in shown(app):
            await pilot.press("enter")
            await pilot.pause()
            await answer(pilot)
            count += 1
            assert count < 60
        assert "Not saved: the disk is full." in shown(app)
        assert len(kept(tmp_path)) == count - 1
        db.execute("PRAGMA max_page_count = 1000000")
        await pilot.press("r")
        await pilot.pause()
        assert len(kept(tmp_path)) == count


async def test_minutes_that_can_not_be_kept_are_said_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = table(tmp_path, minutes=10)

    def refuse(*_: object) -> None:
        raise NotSavedError("the disk is full")

    async with app.run_test(size=(80, 24)) as pilot:
        monkeypatch.setattr(Record, "set_setting", refuse)
        await pilot.press("plus")
        await pilot.pause()
        assert "10 minutes, about" in shown(app)
        assert "The minutes were not kept: the disk is full" in shown(app)


async def test_where_nothing_can_be_written_practice_goes_on_and_says_so(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.write_text("a file stands where the folder should be")
    app_state = new_desk(home)
    app_state.use(demo_set())
    app_state.keep(ready_once(demo_set()))
    app = TableApp(app_state)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "not kept" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        for _ in range(3):
            if isinstance(app.screen, ExampleScreen):
                await pilot.press("escape")
                await pilot.pause()
            await answer(pilot)
            assert "Not saved" in shown(app)
            assert practice(app).outcome is not None
            await pilot.press("enter")
            await pilot.pause()
        if isinstance(app.screen, ExampleScreen):
            await pilot.press("escape")
            await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        assert "3 answered" in shown(app)
        assert "3 not saved yet" in shown(app)
    assert home.read_text().startswith("a file stands")


# A record that can't be read


def from_the_future(path: Path) -> bytes:
    Record.open(path).set_setting("minutes", 10)
    with closing(sqlite3.connect(path)) as db:
        db.execute("PRAGMA user_version = 999")
        db.commit()
    return path.read_bytes()


@pytest.mark.parametrize(
    ("spoil", "words"), [(damaged_record, "was damaged"), (from_the_future, "newer coach")]
)
async def test_a_record_set_aside_is_said_with_its_path_and_stays(
    tmp_path: Path, spoil: Callable[[Path], bytes], words: str
) -> None:
    path = tmp_path / "record.db"
    before = spoil(path)
    record, notice = Record.open_mended(path, MORNING)
    assert notice is not None
    app_state = new_desk(tmp_path, notice=notice.text)
    app_state.record.close()
    app_state.record = record
    app = TableApp(app_state)
    async with app.run_test(size=(120, 30)) as pilot:
        assert isinstance(app.screen, WelcomeScreen)
        assert words in shown(app)
        # The path may be broken over lines, so it is looked for without spaces.
        assert notice.path.name in shown(app).replace(" ", "")
        await pilot.press("2")
        await pilot.pause()
    assert notice.path.read_bytes() == before
    assert path.exists()


# A terminal without 24-bit colour


async def test_without_24_bit_colour_colour_drills_are_withheld_and_nothing_is_painted(
    tmp_path: Path,
) -> None:
    app = table(tmp_path, depth=FEW_COLOURS)
    assert app.app_state.ready_for is not None
    colourless = {n for n, kind in app.app_state.ready_for.kinds.items() if not kind.needs_colour}
    async with app.run_test(size=(80, 24)) as pilot:
        assert isinstance(app.screen, TodayScreen)
        plan = app.app_state.today()
        assert plan is not None
        assert {item.kind for item in plan.plan} <= colourless
        assert "drills that judge colour are left out" in shown(app)
        assert FEW_COLOURS.words in shown(app)
        assert FEW_COLOURS.remedy in shown(app)
        if not plan.plan:
            assert "Nothing can be asked here and now" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert painted(app) == set()
        if not plan.plan:
            assert isinstance(app.screen, TodayScreen)
            await pilot.press("w")
            await pilot.pause()
            assert painted(app) == set()
            return
        for _ in range(6):
            question = practice(app).question
            assert question is not None
            assert question.kind in colourless
            await answer(pilot)
            assert painted(app) == set()
            await pilot.press("enter")
            await pilot.pause()
            assert painted(app) == set()


async def test_every_kind_says_whether_it_needs_colour_on_screen() -> None:
    from drills.kinds import all_kinds

    assert {kind.needs_colour for kind in all_kinds().values()} <= {True, False}
    assert set(KINDS) == set(all_kinds())


async def test_pencils_that_can_not_be_read_back_are_said_so_in_one_line(tmp_path: Path) -> None:
    app_state = new_desk(tmp_path)
    app_state.record.put_pencils("0" * 64, "Broken", "name,hex\nRed,#nothex\n", MORNING)
    app_state.record.close()
    app = TableApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: "Working out" not in shown(app))
        assert "Broken" in shown(app)
        assert "hex" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, TodayScreen)
        # Another set is the way out.
        await pilot.press("w", "2")
        await until(pilot, lambda: "12 pencils" in shown(app))


async def test_a_module_seen_half_made_by_a_thread_is_no_end_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two threads that import the same at once: a second try finds it whole."""
    tries: list[int] = []

    def half_made(*_: object) -> Ready:
        tries.append(1)
        if len(tries) == 1:
            raise ImportError("cannot import name 'x' from partially initialized module 'y'")
        return ready_once(demo_set())

    monkeypatch.setattr("coach.app_state.ready", half_made)
    app = table(tmp_path)
    app.app_state.ready_for = None
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.app_state.ready_for is not None)
        assert len(tries) == 2
