"""The room for photos: a crosshair, what a spot is, and what becomes of it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from coach.screens.look import ASKED, NO_COLOUR, LookScreen
from coach.screens.looking.kept import NONE_YET, KeptScreen
from coach.screens.plan import PlanScreen
from coach.screens.practice.question import PracticeScreen
from coach.screens.teaching.targets import TargetsScreen
from coach.screens.teaching.write_deck import WriteDeckScreen
from coach.session.on_paper import UNLIT_PHOTO_SD, photo_sd
from coach.session.own_skills import ABOUT
from coach.teaching.drafting import EMPTY
from coach.widgets.drawn.picture_view import PictureView
from coach.widgets.hints import Hints
from drills.colour.difference import delta_e00
from drills.colour.parse import parse_colour
from drills.colour.spaces import srgb_to_lab
from drills.layering.constants import WARM_SD
from drills.pictures.chart import ChartCorrection
from drills.pictures.light import DOUBT_BY_WHITE
from drills.pictures.spot import Spot
from drills.questions.given_colour import region_of
from scores.learner.kept_colours import KeptColour, forget_colour, keep_colour, kept_colours
from scores.today.wishes import wishes_in
from tests.photos.made import filed, quarters
from tests.photos.test_white import photo_of_chart
from tests.pilots import (
    FEW_COLOURS,
    TableApp,
    answer,
    coloured,
    painted,
    runs,
    shown,
    table,
    until,
    widths,
)

RED = (200, 40, 40)


@pytest.fixture
def photo(tmp_path: Path) -> str:
    """Red, green over blue, yellow; 240 × 160."""
    path = tmp_path / "four.png"
    path.write_bytes(filed(quarters().repeat(10, 0).repeat(10, 1)))
    return str(path)


def view(app: TableApp) -> PictureView:
    return app.screen.query_one(PictureView)


async def look(pilot: Pilot[None], app: TableApp, screen: LookScreen) -> LookScreen:
    await app.push_screen(screen)
    await until(pilot, lambda: screen.spot is not None)
    await pilot.pause()
    return screen


def off(screen: LookScreen, rgb: tuple[int, int, int]) -> float:
    assert screen.spot is not None
    return float(delta_e00(screen.spot.lab, srgb_to_lab(np.array(rgb) / 255)))


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_a_photo_typed_is_shown_with_its_spot(
    size: tuple[int, int], photo: str, tmp_path: Path
) -> None:
    app = table(tmp_path)
    async with app.run_test(size=size) as pilot:
        await pilot.press("p")
        assert " ".join(ASKED.split()) in shown(app)
        screen = app.screen
        assert isinstance(screen, LookScreen)
        await pilot.press(*"zz", "enter")
        await until(pilot, lambda: "no such file" in shown(app))
        screen.query_one(Input).value = photo
        await pilot.press("enter")
        await until(pilot, lambda: screen.spot is not None)
        await pilot.press("shift+left", "shift+up")
        assert off(screen, RED) < 0.01
        assert "#c82828" in shown(app)
        assert "middle-value" in shown(app)
        assert {(200, 40, 40), (40, 160, 60), (40, 60, 180), (220, 200, 60)} <= painted(app)
        assert widths(app) == {size[0]}
        for hint in screen.query_one(Hints).hints:
            assert f"{hint.keys} {hint.words}" in shown(app)


async def test_the_crosshair_is_grey_and_leaves_its_pixel_free(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await look(pilot, app, LookScreen(photo))
        await pilot.press("shift+left", "shift+up")
        whole = view(app)
        assert whole.view is not None
        assert whole.view.crosshair not in whole._drawn
        assert {len(set(grey)) for grey in whole._drawn.values()} == {1}
        # All that has a hue on screen is the photo's or the swatch's.
        hues = {pixel for row in whole._pixels for pixel in row} | {(200, 40, 40)}
        letters = {run.lettering for run in runs(app) if not run.blank and run.lettering}
        assert {colour for colour in painted(app) | letters if coloured(colour)} <= hues


async def test_mouse_and_keys_move_zoom_and_widen(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await look(pilot, app, LookScreen(photo))
        seen = view(app)
        left, top = (m // k for m, k in zip(seen.view.margin, (1, 2), strict=True))
        await pilot.click(PictureView, offset=(left + 2, top + 1))
        assert off(screen, RED) < 0.01
        at = seen.view
        await pilot.press("plus")
        assert seen.view.scale < at.scale
        await pilot.press("minus", "minus")
        assert seen.view.scale == at.scale
        wide = seen.radius
        await pilot.press("right_square_bracket", "right_square_bracket")
        assert screen.spot.radius == seen.radius == wide + 2
        await pilot.press("left_square_bracket")
        assert seen.radius == wide + 1


async def test_a_step_draws_only_the_lines_it_touches(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        await look(pilot, app, LookScreen(photo))
        seen = view(app)
        cells = seen._cells
        drawn: list[int] = []
        render = seen.render_line
        seen.render_line = lambda y: (drawn.append(y), render(y))[1]
        await pilot.press("right")
        await pilot.pause()
        assert seen._cells is cells
        assert 0 < len(set(drawn)) < seen.size.height / 2


async def test_white_paper_takes_the_cast_off_and_x_puts_it_back(tmp_path: Path) -> None:
    levels = np.full((60, 90, 3), (230, 190, 130), np.uint8)
    levels[:, 60:] = (150, 60, 40)
    path = tmp_path / "lamp.png"
    path.write_bytes(filed(levels))
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await look(pilot, app, LookScreen(str(path)))
        before = screen.spot.lab
        await pilot.press("w")
        assert "white drawing paper" in shown(app)
        assert abs(screen.spot.lab[2]) < 3 < before[2]
        assert view(app).marks != ()
        assert (230, 190, 130) not in painted(app)
        await pilot.press("x")
        assert screen.spot.lab == before
        assert (230, 190, 130) in painted(app)
        # What can't be white says so and changes nothing.
        await pilot.press("g")
        assert "grey card" in shown(app)


async def test_how_well_a_colour_is_known_is_said_whole(tmp_path: Path) -> None:
    """The doubt of a light taken off, once; that a strong red may be far off, on each."""
    levels = np.full((60, 90, 3), (200, 195, 180), np.uint8)
    levels[:, 50:] = (190, 50, 30)
    path = tmp_path / "red.png"
    path.write_bytes(filed(levels))
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await look(pilot, app, LookScreen(str(path)))
        assert "its light taken off" not in shown(app)
        await pilot.press("w")
        words = " ".join(shown(app).split())
        assert DOUBT_BY_WHITE in words
        assert "90 by 60 pixels, its light taken off" in words
        for _ in range(6):
            await pilot.press("shift+right")
        words = " ".join(shown(app).split())
        assert "9 off (ΔE00)" in words
        assert "its light taken off" in words
        assert DOUBT_BY_WHITE not in words
        # And it weighs so much in a plan.
        assert isinstance(app.screen, LookScreen)
        assert photo_sd(app.screen.light, app.screen.spot) == WARM_SD


async def test_a_spot_is_kept_by_a_new_name_and_planned(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await look(pilot, app, LookScreen(photo))
        await pilot.press("shift+left", "shift+up", "enter", *"petal", "enter")
        record = app.app_state.record
        (kept,) = kept_colours(record)
        assert kept.name == "petal"
        assert float(delta_e00(kept.lab, screen.spot.lab)) < 0.01
        await pilot.press("shift+right", "shift+right", "enter", *"Petal", "enter")
        assert "kept already" in shown(app)
        assert kept_colours(record) == (kept,)
        await pilot.press("escape", "k")
        assert isinstance(app.screen, KeptScreen)
        assert "petal: A middle-value" in shown(app)
        await pilot.press("m")
        (wish,) = wishes_in(record.settings())
        assert wish.lab == pytest.approx(kept.lab)
        assert wish.region == "red"
        assert "matches will take “petal”" in shown(app)
        await pilot.press("m")
        assert "on the list already" in shown(app)
        assert len(wishes_in(record.settings())) == 1
        await pilot.press("enter")
        plan = app.screen
        assert isinstance(plan, PlanScreen)
        await until(pilot, lambda: plan.plan is not None)
        assert plan.plan.target == kept.lab
        assert plan.plan.target_sd == kept.sd == UNLIT_PHOTO_SD
        await pilot.press("escape", "d")
        assert "again" in shown(app)
        await pilot.press("d")
        assert kept_colours(record) == ()
        assert NONE_YET.split(".")[0] in shown(app)


async def test_the_spot_itself_is_planned(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await look(pilot, app, LookScreen(photo))
        await pilot.press("shift+left", "shift+up", "p")
        plan = app.screen
        assert isinstance(plan, PlanScreen)
        await until(pilot, lambda: plan.plan is not None)
        assert plan.plan.target == screen.spot.lab
        assert plan.plan.target_sd == UNLIT_PHOTO_SD
        await pilot.press("t", "enter")  # entered again, it is no surer
        await until(pilot, lambda: "Planning" not in shown(app))
        assert plan.plan.target_sd == UNLIT_PHOTO_SD


async def test_who_asks_for_a_spot_gets_it_back(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        got: list[Spot | None] = []
        screen = LookScreen(photo, picks=True, what="what is on your paper")
        await app.push_screen(screen, got.append)
        await until(pilot, lambda: screen.spot is not None)
        assert "What is on your paper" in shown(app)
        await pilot.press("shift+left", "shift+up", "enter")
        assert got == [screen.spot]
        assert off(screen, RED) < 0.01
        await app.push_screen(LookScreen(photo, picks=True), got.append)
        await pilot.press("escape")
        assert got[1:] == [None]


async def test_few_colours_are_told_of_and_no_photo_is_painted(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path, depth=FEW_COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await look(pilot, app, LookScreen(photo))
        await pilot.press("shift+left", "shift+up")
        assert painted(app) == set()
        assert NO_COLOUR.split(":")[0] in shown(app)
        assert off(screen, RED) < 0.01


async def test_it_can_be_left_while_a_photo_opens(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = LookScreen(photo)
        await app.push_screen(screen)
        await pilot.press("escape")
        screen._opened(None)  # type: ignore[arg-type]
        assert not isinstance(app.screen, LookScreen)


async def test_any_size_holds(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        await look(pilot, app, LookScreen(photo))
        await pilot.press("plus", "plus", "w")
        for size in ((60, 15), (80, 24), (200, 60)):
            await pilot.resize_terminal(*size)
            await until(pilot, lambda wide=size[0]: widths(app) == {wide})
            await until(pilot, lambda: len(view(app)._cells) == view(app).size.height)


def test_a_name_is_kept_once_and_no_other_setting_is_a_colour(tmp_path: Path) -> None:
    app = table(tmp_path)
    record = app.app_state.record
    keep_colour(record, KeptColour("dusk", (40.0, 1.0, -20.0), "a photo"))
    for junk in (None, 3, [], {"lab": [1, 2]}, {"lab": "x"}, {"lab": [1, 2, True]}):
        record.set_setting("colour:junk", junk)
    assert [one.name for one in kept_colours(record)] == ["dusk"]
    for name in ("", "  ", "x" * 61, "a\nb", "DUSK", "\x1b[31m"):
        with pytest.raises(ValueError, match=r"colour|name"):
            keep_colour(record, KeptColour(name, (1.0, 2.0, 3.0)))
    forget_colour(record, "dusk")
    assert kept_colours(record) == ()
    keep_colour(record, KeptColour("dusk", (41.0, 1.0, -20.0)))
    assert kept_colours(record)[0].lab[0] == 41.0


async def test_a_chart_is_marked_by_its_corners_and_what_is_left_is_told(tmp_path: Path) -> None:
    picture, corners = photo_of_chart()
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = LookScreen()
        await app.push_screen(screen)
        screen._opened(picture)
        await pilot.pause()

        async def mark(x: float, y: float) -> None:
            view(app).view = replace(view(app).view, x=x, y=y)
            await pilot.press("c")

        for number, corner in enumerate(corners[:3], start=1):
            await mark(*corner)
            assert f"{number} of the 4 outer corners" in shown(app)
            assert screen.light is None
        await pilot.press("x")  # begins anew
        assert "corners" not in shown(app)
        for corner in corners:
            await mark(*corner)
        assert isinstance(screen.light, ChartCorrection)
        assert "patches are met to ΔE00" in shown(app)
        assert view(app).marks == corners
        # Four places that are no chart's say so and leave the light as it was.
        kept = screen.light
        for corner in ((9, 9), (30, 9), (30, 30), (9, 30)):
            await mark(*corner)
        assert "chart" in shown(app)
        assert screen.light is kept


async def kept_room(pilot: Pilot[None], app: TableApp, *colours: KeptColour) -> KeptScreen:
    for colour in colours:
        keep_colour(app.app_state.record, colour)
    await app.push_screen(KeptScreen())
    await pilot.pause()
    assert isinstance(app.screen, KeptScreen)
    return app.screen


async def test_a_colour_kept_is_practised_alone_at_one_key(tmp_path: Path) -> None:
    """And is not put on the list of those wished for."""
    app = table(tmp_path)
    colour = KeptColour("brick", parse_colour("#a05040"))
    async with app.run_test(size=(80, 24)) as pilot:
        await kept_room(pilot, app, colour)
        await pilot.press("o")
        await until(pilot, lambda: getattr(app.screen, "question", None) is not None)
        screen = app.screen
        assert isinstance(screen, PracticeScreen)
        itself = 0
        for _ in range(4):
            assert screen.question is not None
            assert screen.question.kind in ABOUT
            assert screen.question.region == region_of(colour.lab), "what lies near it, at least"
            assert screen.question.target is not None
            itself += bool(delta_e00(screen.question.target, colour.lab) < 1.0)
            await answer(pilot)
            await pilot.press("enter")
            await pilot.pause()
        assert itself
        assert wishes_in(app.app_state.record.settings()) == ()


async def test_a_colour_kept_begins_a_deck_at_one_key(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await kept_room(pilot, app, KeptColour("brick", parse_colour("#a05040")))
        await pilot.press("w")
        await pilot.pause()
        assert isinstance(app.screen, WriteDeckScreen)
        (target,) = app.screen.deck.targets
        assert (target.name, target.colour) == ("brick", "#a05040")
        assert "brick" in shown(app)
        await pilot.press("escape")
        assert "It is not written yet" in shown(app)


async def test_a_colour_kept_goes_into_the_deck_being_written(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        keep_colour(app.app_state.record, KeptColour("brick", parse_colour("#a05040")))
        await app.push_screen(TargetsScreen(EMPTY))
        await pilot.press("k")
        assert "take it" in shown(app)
        assert "forget" not in shown(app), "picking does nothing else"
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, TargetsScreen)
        assert [one.name for one in app.screen.deck.targets] == ["brick"]
        await pilot.press("k", "enter")
        await pilot.pause()
        assert "There is a colour of this name" in shown(app)
        assert len(app.screen.deck.targets) == 1


async def test_a_colour_no_screen_shows_is_told_of_and_goes_nowhere(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await kept_room(pilot, app, KeptColour("glare", (60.0, -120.0, 60.0)))
        for key in ("o", "w"):
            await pilot.press(key)
            await pilot.pause()
            assert isinstance(app.screen, KeptScreen)
            assert "No screen shows this colour" in shown(app)
