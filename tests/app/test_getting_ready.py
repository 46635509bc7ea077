"""Screens that wait for pencils, while others lie over them; what a screen left leaves undone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from coach.app import CoachApp
from coach.app_state import AppState
from coach.screens.help import HelpScreen
from coach.screens.practice.question import PracticeScreen
from coach.screens.practice.today import TodayScreen
from coach.screens.teaching.answer import AnswerScreen
from coach.this_screen.kept import Known, keep, look_at
from drills.pencils.sets import demo_set
from scores.record.record import NotSavedError
from tests.pilots import (
    TableApp,
    new_desk,
    practice,
    ready_once,
    shown,
    table,
    until,
    without_examples,
)


class LateApp(CoachApp):
    """One whose pencils are ready, or fail, when the test says so."""

    def make_ready(self) -> None:
        """Not yet."""

    def ready_now(self) -> None:
        self.app_state.keep(ready_once(demo_set()))
        self.tell_all(self.PencilsReady)


def late(folder: Path) -> LateApp:
    state = new_desk(folder)
    state.use(demo_set())
    without_examples(state.record)
    return LateApp(state)


async def test_pencils_that_fail_are_told_to_the_screen_under_help(tmp_path: Path) -> None:
    app = late(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.push_screen(PracticeScreen())
        await pilot.press("question_mark")
        await pilot.pause()
        assert isinstance(app.screen, HelpScreen)
        app.tell_all(app.PencilsFailed, "demo.csv: line 3 can't be read")
        await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        assert "demo.csv: line 3 can't be read" in shown(app)


async def test_a_failed_start_is_told_to_every_screen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What goes wrong in the thread itself, with help lying over the screen that waits."""
    app = table(tmp_path)

    def fails(*_: object) -> None:
        raise RuntimeError("out of films")

    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.press("question_mark")
        monkeypatch.setattr("coach.app_state.ready", fails)
        CoachApp.make_ready(app)
        with pytest.raises(Exception, match="out of films"):
            await app.workers.wait_for_complete()
        await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, TodayScreen)
        assert app.screen._why_not == "out of films"


async def test_enter_pressed_too_soon_begins_once_help_is_closed(tmp_path: Path) -> None:
    app = late(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "question_mark")
        await pilot.pause()
        app.ready_now()
        await pilot.pause()
        # Not under the help that is being read.
        assert isinstance(app.screen, HelpScreen)
        await pilot.press("escape")
        await until(pilot, lambda: isinstance(app.screen, PracticeScreen))
        assert practice(app).session is not None


def test_offers_are_kept_for_each_screen_that_is_looked_at(tmp_path: Path) -> None:
    state = new_desk(tmp_path)
    state.use(demo_set())
    made = ready_once(demo_set())
    state.keep(made)
    assert state.offers_kept() == made.offers
    keep(state.record, "desk", Known("wide"))
    state.see_by()
    assert state.offers_kept() is None
    state.keep(made)
    look_at(state.record, "")
    state.see_by()
    # The record has those of the other screen by now.
    assert AppState(state.record, state.depth).offers_kept() is None
    assert state.offers_kept() == made.offers


def test_offers_that_could_not_be_saved_are_not_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    state = new_desk(tmp_path)
    state.use(demo_set())

    def refuses(*_: object) -> None:
        raise NotSavedError("the disk is full")

    monkeypatch.setattr("coach.app_state.keep_offers", refuses)
    made = ready_once(demo_set())
    state.keep(made)
    state.see_by()
    assert state.offers_kept() == made.offers


async def test_a_reply_is_not_written_once_its_screen_was_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    app: TableApp = table(tmp_path)
    async with app.run_test(size=(80, 30)) as pilot:
        screen = AnswerScreen()
        await app.push_screen(screen)
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen is not screen

        class Reply:
            name = "Wren"

        made: Any = Reply()
        # What its thread has made comes after.
        screen._write(made, "{}")
        screen._say("Written for Wren.")
        assert not list(tmp_path.glob("*.reply.json"))
