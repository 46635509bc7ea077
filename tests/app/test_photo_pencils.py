"""The pencils for a photo, from the photo's room by one key."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from textual.widgets import Static

from coach.screens.look import LookScreen
from coach.screens.looking.photo_pencils import WORKING, PhotoPencilsScreen
from coach.widgets.drawn.copies import Copies
from coach.widgets.hints import Hints
from drills.colour.spaces import screen_rgb, srgb_to_lab
from drills.pictures.greys import value_study
from drills.pictures.main_colours import main_colours
from drills.pictures.opening import open_picture
from drills.planning.for_picture.pencils_for import pencils_for
from tests.photos.made import filed, quarters
from tests.pilots import FEW_COLOURS, coloured, painted, runs, shown, table, until, widths


@pytest.fixture
def photo(tmp_path: Path) -> str:
    path = tmp_path / "four.png"
    path.write_bytes(filed(quarters().repeat(10, 0).repeat(10, 1)))
    return str(path)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_one_key_shows_the_photo_in_a_few_pencils_and_greys(size, photo, tmp_path):
    app = table(tmp_path)
    async with app.run_test(size=size) as pilot:
        look = LookScreen(photo)
        await app.push_screen(look)
        await until(pilot, lambda: look.spot is not None)
        await pilot.press("t")
        await until(pilot, lambda: isinstance(app.screen, PhotoPencilsScreen))
        screen = app.screen
        assert isinstance(screen, PhotoPencilsScreen)
        await until(pilot, lambda: screen.found is not None)
        await pilot.pause()
        # The photo's own colours stand beside those that the pencils make, and greys.
        assert {(200, 40, 40), (40, 160, 60), (40, 60, 180), (220, 200, 60)} <= painted(app)
        study = value_study(srgb_to_lab(np.array([[(200, 40, 40)]]) / 255), 5)
        grey = tuple(int(level) for level in screen_rgb(study)[0, 0])
        assert len(set(grey)) == 1
        assert grey in {run.behind for run in runs(app)}
        assert "in 5 greys" in shown(app)
        await pilot.press("g")
        await pilot.pause()
        assert "in 7 greys" in shown(app)
        assert widths(app) == {size[0]}
        for hint in screen.query_one(Hints).hints:
            assert f"{hint.keys} {hint.words}" in shown(app)


async def test_the_choice_is_the_commands_and_fewer_are_chosen_anew(photo, tmp_path):
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        picture = open_picture(photo)
        screen = PhotoPencilsScreen(picture, None)
        screen.most = 2
        await app.push_screen(screen)
        await until(pilot, lambda: screen.found is not None and len(screen.found.pencils) == 2)
        wanted = pencils_for(app.app_state.ready_for.palette, main_colours(picture, 8, None), 2)
        assert screen.found.pencils == wanted.pencils  # as the command would choose
        words = str(screen.query_one("#words", Static).content)
        assert "One more, " in words
        await pilot.press("minus")
        await until(pilot, lambda: screen.found is not None and len(screen.found.pencils) == 1)
        await pilot.press("minus")  # fewer there are not
        assert screen.most == 1
        assert "one pencil at most" in shown(app)


async def test_in_few_colours_it_is_told_in_words_alone(photo, tmp_path):
    app = table(tmp_path, depth=FEW_COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = PhotoPencilsScreen(open_picture(photo), None)
        await app.push_screen(screen)
        await until(pilot, lambda: screen.found is not None and WORKING not in shown(app))
        assert not screen.query_one(Copies).display
        assert "Take out: " in shown(app)
        assert not {colour for colour in painted(app) if coloured(colour)}
