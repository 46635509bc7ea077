"""The first start: whose pencils, a look at the screen, and the first question in three keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from coach.app import CoachApp
from coach.app_state import AppState
from coach.screens.first_start.pencil_file import PencilFileScreen
from coach.screens.first_start.screen_check import GREYS, EyesScreen
from coach.screens.first_start.welcome import WelcomeScreen
from coach.screens.practice.example import ExampleScreen
from coach.screens.practice.question import PracticeScreen
from coach.screens.practice.today import TodayScreen
from drills.pencils.sets import demo_set, pocket_set
from scores.record.record import Record
from tests.pilots import (
    FEW_COLOURS,
    MORNING,
    TRUE_COLOUR,
    answer,
    asked_now,
    kept,
    new_desk,
    painted,
    place_of,
    practice,
    ready_once,
    rgb,
    runs,
    shown,
    until,
)


@pytest.fixture(autouse=True)
def _pencils_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A thread makes the pencils ready, as ever, but each set only once for all tests."""
    monkeypatch.setattr("coach.app_state.ready", ready_once)


async def until_asked(pilot: Pilot[None], app: CoachApp) -> None:
    """Wait for the pencils to be made ready (a thread's work), pass over the example that they
    give, and wait for the question."""
    await until(pilot, lambda: isinstance(app.screen, ExampleScreen))
    await pilot.press("escape")
    await until(pilot, lambda: isinstance(app.screen, PracticeScreen))
    await until(pilot, lambda: practice(app).question is not None)


@pytest.mark.parametrize("keys", [("1", "enter"), ("enter", "enter"), ("2", "enter")])
async def test_from_the_start_to_the_first_example_in_two_keys(
    tmp_path: Path, keys: tuple[str, ...]
) -> None:
    app_state = new_desk(tmp_path)
    assert app_state.newcomer
    app = CoachApp(app_state)
    async with app.run_test(size=(80, 24)) as pilot:
        assert isinstance(app.screen, WelcomeScreen)
        await pilot.press(keys[0])
        await pilot.pause()
        assert isinstance(app.screen, EyesScreen)
        await pilot.press(keys[1])
        await until_asked(pilot, app)
        assert asked_now(app).as_fact.split()[0] in shown(app)
        assert not app_state.newcomer
        assert app_state.pencils_name == (pocket_set() if keys[0] == "2" else demo_set()).name
        # The third passed over the example, the fourth answers.
        await answer(pilot)
        assert len(kept(tmp_path)) == 1
    assert not AppState(Record.open(tmp_path / "record.db"), TRUE_COLOUR).newcomer


async def test_the_first_start_by_mouse(tmp_path: Path) -> None:
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.click(offset=place_of(app, "2  the pocket set"))
        await pilot.pause()
        await pilot.click(offset=place_of(app, "Enter begin"))
        await until_asked(pilot, app)
        assert app.app_state.pencils_name == pocket_set().name


async def test_the_screen_check_shows_two_greys_that_differ(tmp_path: Path) -> None:
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1")
        await pilot.pause()
        greys = {rgb(swatch.lab) for swatch in GREYS}
        assert len(greys) == 2
        assert greys <= {run.behind for run in runs(app)}
        for word in ("24-bit", "night tint", "brightness", "not a test of colour vision"):
            assert word in shown(app)


async def test_leaving_at_the_welcome_keeps_nothing(tmp_path: Path) -> None:
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("escape")
    assert app.return_code == 0
    assert list(tmp_path.iterdir()) == []


async def test_help_over_the_waiting_room_does_not_lose_the_first_question(tmp_path: Path) -> None:
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1", "enter", "question_mark")
        await until(pilot, lambda: app.app_state.ready_for is not None)
        await pilot.press("escape")
        await until_asked(pilot, app)


# A file of one's own


async def give(pilot: Pilot[None], app: CoachApp, path: str) -> None:
    app.screen.query_one(Input).value = path
    await pilot.press("enter")
    await pilot.pause()


async def test_a_file_of_ones_own(tmp_path: Path) -> None:
    file = tmp_path / "mine.csv"
    rows = ["#c33935", "#e0c02a", "#2a5caa", "#3a7a3a", "#7a4a2a", "#8a3a7a", "#dd7722", "#2a9a9a"]
    file.write_text("name,hex\n" + "".join(f"My {i},{row}\n" for i, row in enumerate(rows)))
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("3")
        await pilot.pause()
        assert isinstance(app.screen, PencilFileScreen)
        assert app.screen.query_one(Input).has_focus
        await give(pilot, app, str(file))
        assert isinstance(app.screen, EyesScreen)
        await pilot.press("enter")
        await until_asked(pilot, app)
        assert app.app_state.pencils_name == "mine"


BAD_FILES = {
    "hex": (b"name,hex\nRed,#c3393\n", "row 2"),
    "no colour": (b"name,notes\nRed,nice\n", "hex"),
    "empty": (b"", ""),
    "not text": (b"name,hex\n\xff\xfe,#c33935\n", "UTF-8"),
    "markup": (b"name,hex\n[red]\x1b[31m x,nothex\n", "row 2"),
}


@pytest.mark.parametrize("name", BAD_FILES)
async def test_a_bad_file_is_one_line_and_another_can_be_given(tmp_path: Path, name: str) -> None:
    data, words = BAD_FILES[name]
    bad = tmp_path / "bad.csv"
    bad.write_bytes(data)
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("3")
        await pilot.pause()
        await give(pilot, app, str(bad))
        assert isinstance(app.screen, PencilFileScreen)
        # A long path may be wrapped anywhere.
        assert "bad.csv" in shown(app).replace(" ", "")
        assert words in shown(app)
        assert not any("\x1b" in run.text for run in runs(app))
        assert app.app_state.newcomer
        await give(pilot, app, str(tmp_path / "not there.csv"))
        assert isinstance(app.screen, PencilFileScreen)
        assert "notthere.csv" in shown(app).replace(" ", "")
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, WelcomeScreen)
    assert not (tmp_path / "record.db").exists()


async def test_without_24_bit_colour_the_screen_check_says_so_and_paints_nothing(
    tmp_path: Path,
) -> None:
    app = CoachApp(new_desk(tmp_path, FEW_COLOURS))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1")
        await pilot.pause()
        assert FEW_COLOURS.words in shown(app)
        assert FEW_COLOURS.remedy in shown(app)
        assert "left out" in shown(app)
        assert painted(app) == set()
        greys = {rgb(swatch.lab) for swatch in GREYS}
        assert not greys & {run.behind for run in runs(app)}


async def test_someone_whose_pencils_are_chosen_is_not_welcomed_again(tmp_path: Path) -> None:
    app_state = new_desk(tmp_path)
    app_state.use(pocket_set())
    app = CoachApp(app_state)
    async with app.run_test(size=(80, 24)):
        assert isinstance(app.screen, TodayScreen)
        assert f"{MORNING:%A}" in shown(app)


async def test_enter_before_the_pencils_are_ready_begins_as_soon_as_they_are(
    tmp_path: Path,
) -> None:
    app_state = new_desk(tmp_path)
    app_state.use(pocket_set())
    app = CoachApp(app_state)
    async with app.run_test(size=(80, 24)) as pilot:
        app.screen.action_begin()  # type: ignore[attr-defined]
        await until_asked(pilot, app)
