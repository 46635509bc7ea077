"""Spots of a photo taken in the room where a deck is written, one after another, each named."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.screens.teaching.photo_spots import PhotoSpotsScreen
from coach.screens.teaching.share import ShareScreen
from coach.screens.teaching.targets import TargetsScreen
from coach.teaching.photo.colours import LESSON
from decks.deck import Deck
from decks.record_form import to_kept
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from scores.exchange.results_read import load_results
from scores.record.decks_added import put_deck
from tests.classes import attempts, class_of, results_file
from tests.photos.made import filed, quarters
from tests.pilots import MORNING, painted, rgb, shown, table, until

EMPTY = Deck("The bronze", "A. Teacher", ("make-the-match",))


async def test_two_spots_of_a_photo_become_named_colours_with_the_photo(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    photo = tmp_path / "quarters.png"
    photo.write_bytes(filed(quarters().repeat(10, 0).repeat(10, 1)))
    pencils = to_csv(pocket_set())
    class_of(
        tmp_path / "class.db",
        results_file("Wren", attempts("Wren", range(2)), pencil_set=pencils),
        results_file("Rail", attempts("Rail", range(2)), pencil_set=pencils),
    ).close()
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.push_screen(TargetsScreen(EMPTY))
        await pilot.press("f", *str(photo), "enter")
        room = app.screen
        assert isinstance(room, PhotoSpotsScreen)
        await until(pilot, lambda: room.spot is not None)
        await pilot.press(*["left"] * 6, "enter")
        await pilot.pause()
        assert "What is this colour called?" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "is taken, 1 in all" in shown(app)
        # The light and the place stay as they are; the next one is named by hand.
        await pilot.press(*["right"] * 14, "enter", "ctrl+u", *"Glass", "enter")
        await pilot.pause()
        assert "“Glass” is taken, 2 in all" in shown(app)
        # The same name again is refused in words, and nothing is lost.
        await pilot.press("enter", "ctrl+u", *"Glass", "enter")
        await pilot.pause()
        assert "there is a colour “Glass”" in shown(app)
        await pilot.press("escape", "escape")
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, TargetsScreen)
        assert [one.name for one in screen.deck.targets][1] == "Glass"
        assert [step.title for step in screen.deck.steps] == [LESSON]
        assert screen.deck.steps[0].picture
        assert rgb(screen.deck.targets[1].lab) in painted(app)
        await until(pilot, lambda: "of 2 can" in shown(app) or "All 2" in shown(app))


async def test_a_photo_left_without_taking_anything_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.push_screen(TargetsScreen(EMPTY))
        await pilot.press("f", "escape")
        await pilot.pause()
        assert isinstance(app.screen, TargetsScreen)
        assert app.screen.deck == EMPTY


async def test_pencils_go_into_the_file_by_p_and_only_by_p(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    app = table(tmp_path)
    record = app.app_state.record
    put_deck(record, EMPTY.fingerprint, EMPTY.title, to_kept(EMPTY), MORNING)
    record.set_setting("pseudonym", "Wren")
    async with app.run_test(size=(80, 24)) as pilot:
        await app.push_screen(ShareScreen())
        await pilot.pause()
        assert "They stay out unless you do." in shown(app)
        await pilot.press("enter", "p")
        await pilot.pause()
        assert "all their colours" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
    files = sorted((tmp_path / "here").glob("*.json"))
    found = [load_results(one, MORNING).pencil_set for one in files]
    assert sorted(map(bool, found)) == [False, True]
