"""A whole day by mouse alone, and by keys alone: from the first start to progress."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NoReturn

import pytest
from textual.pilot import Pilot

from coach.app import CoachApp
from coach.screens.first_start.screen_check import EyesScreen
from coach.screens.first_start.welcome import WelcomeScreen
from coach.screens.giving.give import GiveScreen
from coach.screens.help import HelpScreen
from coach.screens.plan import PlanScreen
from coach.screens.practice.closing import ClosingScreen
from coach.screens.practice.example import ExampleScreen
from coach.screens.practice.question import PracticeScreen
from coach.screens.practice.today import TodayScreen
from coach.screens.progress import ProgressScreen
from tests.pilots import answer, kept, new_desk, place_of, practice, ready_once, shown, until


@pytest.fixture(autouse=True)
def _pencils_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A thread makes the pencils ready, as ever, but each set only once for all tests."""
    monkeypatch.setattr("coach.app_state.ready", ready_once)


def never(*_: object, **__: object) -> NoReturn:
    raise AssertionError("this walk does without")


class Walk:
    """Does what stands on the screen, by ``mouse`` or by its key; the other hand fails."""

    def __init__(self, pilot: Pilot[None], mouse: bool, monkeypatch: pytest.MonkeyPatch) -> None:
        self.pilot, self.mouse = pilot, mouse
        for name in ("press",) if mouse else ("click", "hover", "mouse_down"):
            monkeypatch.setattr(pilot, name, never)

    @property
    def app(self) -> CoachApp:
        assert isinstance(self.pilot.app, CoachApp)
        return self.pilot.app

    async def do(self, words: str, key: str, to: type[Any]) -> None:
        """Do what ``words`` on the screen say, and stand on another screen then."""
        if self.mouse:
            await self.pilot.click(offset=place_of(self.app, words))
        else:
            assert words in "\n".join([shown(self.app), *self.texts()])
            await self.pilot.press(key)
        await until(self.pilot, lambda: isinstance(self.app.screen, to))
        await self.pilot.pause()

    def texts(self) -> list[str]:
        """The screen's lines as they stand, for words that have more than one space."""
        return [strip.text for strip in self.app.screen._compositor.render_strips()]


@pytest.mark.parametrize("mouse", [True, False], ids=["mouse", "keys"])
async def test_a_day_from_the_first_start_to_progress(
    tmp_path: Path, mouse: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        walk = Walk(pilot, mouse, monkeypatch)
        do = walk.do
        assert isinstance(app.screen, WelcomeScreen)
        await do("2  the pocket set", "2", EyesScreen)
        await do("Enter begin", "enter", ExampleScreen)
        await do("Esc skip it", "escape", PracticeScreen)
        await until(pilot, lambda: practice(app).question is not None)
        await pilot.pause()
        for number in (1, 2):
            await answer(pilot, pick=1, mouse=mouse)
            outcome = practice(app).outcome
            assert outcome is not None
            assert outcome.grade.verdict.split(".")[0] in shown(app)
            assert len(kept(tmp_path)) == number
            # Each of the first questions is of a drill never met.
            await do("Enter next", "enter", ExampleScreen)
            await do("Esc skip it", "escape", PracticeScreen)
            assert practice(app).outcome is None
        await do("? help", "question_mark", HelpScreen)
        await do("Esc back", "escape", PracticeScreen)
        await do("Esc stop", "escape", ClosingScreen)
        assert "2 answered" in shown(app)
        await do("d each skill", "d", ClosingScreen)
        await do("Enter today", "enter", TodayScreen)
        await do("c plan", "c", PlanScreen)
        if not mouse:
            # The field has the focus first: r would be a letter in it.
            await pilot.press("tab")
        await do("r any", "r", PlanScreen)
        await until(pilot, lambda: "ΔE00" in shown(app) and "Planning…" not in shown(app))
        await do("a next way", "a", PlanScreen)
        await do("m what came", "m", GiveScreen)
        await do("Esc back", "escape", PlanScreen)
        await do("Esc back", "escape", TodayScreen)
        await do("g progress", "g", ProgressScreen)
        await until(pilot, lambda: "Progress from" in shown(app))
        await do("Esc back", "escape", TodayScreen)


async def test_the_other_hand_would_be_noticed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        Walk(pilot, True, monkeypatch)
        with pytest.raises(AssertionError, match="does without"):
            await answer_by_key(pilot)


async def answer_by_key(pilot: Pilot[None]) -> None:
    await pilot.press("1")
