"""The room of this screen, by keys; what is painted follows it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from textual.app import App, ComposeResult
from textual.widgets import Static

from coach.screens.display.match import MatchScreen
from coach.screens.display.room import DisplayScreen
from coach.this_screen.kept import screens_of
from coach.widgets.drawn.picture_view import PictureView
from coach.widgets.drawn.still_picture import StillPicture
from coach.widgets.paint import cell_style, correct_for, photo_levels
from drills.colour.difference import delta_e00
from drills.colour.spaces import srgb_to_lab
from drills.questions.draw import as_lab
from drills.screen.model import Screen, powers
from tests.photos.made import opened, plain
from tests.pilots import TableApp, new_desk

LAB = (50.0, 3.0, 2.0)
UNEVEN = Screen(powers((2.1, 2.2, 2.3)))


@pytest.fixture(autouse=True)
def painted_as_before() -> Iterator[None]:
    yield
    correct_for(None)


class BareApp(TableApp):
    """The app where no pencils are made ready: the room needs none."""

    def make_ready(self) -> None:
        pass


def bare(folder: Path) -> BareApp:
    return BareApp(new_desk(folder))


def painted() -> tuple[int, int, int]:
    colour = cell_style(LAB).bgcolor
    assert colour is not None
    assert colour.triplet is not None
    return tuple(colour.triplet)


async def test_a_match_by_keys_corrects_what_is_drawn(tmp_path: Path) -> None:
    """A person before a screen of 2.1, 2.2, 2.3 moves until the grey has half the light."""
    app = bare(tmp_path)
    before = painted()
    goal = [int(np.argmin(np.abs(np.array(curve) - 0.5))) for curve in UNEVEN.curves]
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(DisplayScreen())
        await pilot.pause()
        await pilot.press("m")
        for _ in range(2):
            match = app.screen
            assert isinstance(match, MatchScreen)
            while match.now.red != goal[0]:
                await pilot.press("down" if match.now.red > goal[0] else "up")
            while match.now.green != goal[1]:
                await pilot.press("right" if match.now.green > goal[1] else "left")
            while match.now.blue != goal[2]:
                await pilot.press("minus" if match.now.blue > goal[2] else "plus")
            await pilot.press("enter")
        await pilot.press("2", "5", "y")
        await pilot.press("enter")
        assert isinstance(app.screen, DisplayScreen)
        screens = screens_of(app.app_state.record)
        assert screens.active == "this screen"
        assert screens.now is not None
        assert screens.now.powers == pytest.approx((2.1, 2.2, 2.3), abs=0.04)
        assert "raise the brightness" in str(app.screen.query_one("#trouble", Static).content)
        # Seen on that screen it was another colour before, and now is the one meant.
        assert delta_e00(UNEVEN.lab(before), LAB) > 1.5
        assert delta_e00(UNEVEN.lab(painted()), LAB) < 0.8
        # With nothing known it is as it was.
        await pilot.press("home", "enter")
        await pilot.pause()
        assert painted() == before


async def test_matches_far_apart_are_asked_for_again(tmp_path: Path) -> None:
    app = bare(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(DisplayScreen())
        await pilot.pause()
        await pilot.press("m", "enter", "enter")
        assert "too far apart" in str(app.screen.query_one("#asked", Static).content)
        await pilot.press("escape")
        assert screens_of(app.app_state.record).known == ()


async def test_a_screen_said_to_be_wide_is_named_used_and_taken_out(tmp_path: Path) -> None:
    app = bare(tmp_path)
    before = painted()
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(DisplayScreen())
        await pilot.pause()
        await pilot.press("w", "enter")
        assert screens_of(app.app_state.record).active == "this screen"
        assert painted() != before
        await pilot.press("down", "x")
        assert screens_of(app.app_state.record).known == ()
        assert painted() == before


def test_a_photo_is_drawn_for_this_screen_as_a_swatch_is() -> None:
    photo = np.array([[[120, 90, 60], [30, 200, 140]]], dtype=np.uint8)
    assert photo_levels(photo) == photo.tolist()
    correct_for(lambda: UNEVEN)
    for (level,), seen in zip(photo_levels(photo.swapaxes(0, 1)), photo[0], strict=True):
        swatch = cell_style(as_lab(srgb_to_lab(seen / 255))).bgcolor
        assert swatch is not None
        assert tuple(level) == swatch.triplet
        assert level != seen.tolist()


async def test_a_lesson_s_picture_and_the_photo_room_draw_by_it() -> None:
    picture = opened(plain((120, 90, 60)))
    correct_for(lambda: UNEVEN)
    ((wanted,),) = photo_levels(np.array([[[120, 90, 60]]], dtype=np.uint8))
    still, view = StillPicture(picture), PictureView()

    class Wall(App[None]):
        def compose(self) -> ComposeResult:
            yield still
            yield view

    async with Wall().run_test(size=(40, 24)) as pilot:
        view.show(picture)
        await pilot.pause()
        for widget in (still, view):
            row = widget.render_line(widget.size.height // 2)
            drawn = {
                cell.style.bgcolor.triplet for cell in row if cell.style and cell.style.bgcolor
            }
            assert tuple(wanted) in drawn
