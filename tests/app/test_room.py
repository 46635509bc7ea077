"""The room is grey: the only colours on a screen are those judged, and nothing is written there.

ISO 3664 asks for a neutral surround; a grey here is r = g = b to the last bit.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from rich.color import Color, ColorSystem
from rich.terminal_theme import DEFAULT_TERMINAL_THEME, MONOKAI, TerminalTheme
from textual.pilot import Pilot
from textual.widgets import Input

from coach.app import CoachApp
from coach.room import LIGHT, MIDDLE, ROOMS, Room
from coach.screens.pencils import PencilsScreen
from coach.screens.practice.today import TodayScreen
from drills.pencils.sets import pocket_set
from tests.contrast import contrast, contrasts, luminance
from tests.pilots import (
    KINDS,
    RGB,
    answer,
    asked_hues,
    asked_now,
    coloured,
    hues_in,
    new_desk,
    painted,
    place_of,
    practice,
    ready_once,
    rgb,
    runs,
    shown,
    svg_colours,
    table,
    told_hues,
    until,
)

READS = 4.5
"""Least contrast of lettering: WCAG 2.2, success criterion 1.4.3."""


def in_the_picture(app: CoachApp) -> set[RGB]:
    """Every colour that is no grey in the screenshot, modal screens and all."""
    return {colour for colour in svg_colours(app.export_screenshot()) if coloured(colour)}


def all_grey(app: CoachApp) -> None:
    """No colour on the screen, and all that is written there can be read."""
    assert in_the_picture(app) == set(), app.screen
    for run in runs(app):
        if re.search(r"\w", run.text) and run.lettering and run.behind:
            assert contrast(run.lettering[0], run.behind[0]) >= READS, run


def nothing_written_on_swatches(app: CoachApp) -> None:
    for run in runs(app):
        assert run.blank or not coloured(run.lettering)
        assert run.blank or not coloured(run.behind)


async def pressed(pilot: Pilot[None], *keys: str) -> None:
    await pilot.press(*keys)
    await pilot.pause()


@pytest.fixture(params=ROOMS, ids=lambda room: room.name)
def room(request: pytest.FixtureRequest) -> Room:
    return request.param  # type: ignore[no-any-return]


async def test_the_first_start_is_grey(
    tmp_path: Path, room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("coach.app_state.ready", ready_once)
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        app.theme = room.name
        await pilot.pause()
        all_grey(app)
        await pilot.hover(offset=place_of(app, "2  the pocket set"))
        all_grey(app)
        await pressed(pilot, "3")
        # The path being written: cursor, selection, border, what is wrong.
        all_grey(app)
        await pressed(pilot, *"nowhere", "shift+left", "shift+left")
        all_grey(app)
        await pressed(pilot, "enter")
        assert "nowhere" in shown(app)
        all_grey(app)
        await pressed(pilot, "tab")
        all_grey(app)
        await pressed(pilot, "shift+tab", "escape", "2")
        # Two greys to tell apart.
        all_grey(app)


async def test_screens_without_swatches_are_grey(tmp_path: Path, room: Room) -> None:
    app = table(tmp_path, "hue-and-lean")
    async with app.run_test(size=(60, 15)) as pilot:
        app.theme = room.name
        await pilot.pause()
        all_grey(app)
        await pressed(pilot, "question_mark")
        all_grey(app)
        # The scroll bar, under the mouse and held.
        await pilot.hover(offset=(57, 4))
        all_grey(app)
        await pilot.mouse_down(offset=(57, 4))
        all_grey(app)
        await pilot.mouse_up(offset=(57, 4))
        await pressed(pilot, "escape", "ctrl+c")
        # What Textual says of ctrl+c, in a box of its own.
        all_grey(app)
        await pressed(pilot, "enter", "1", "1", "2", "escape")
        assert "How it went" in shown(app)
        all_grey(app)


async def test_the_list_of_commands_is_grey(tmp_path: Path, room: Room) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.theme = room.name
        await pressed(pilot, "ctrl+p")
        all_grey(app)
        # A terminal paints pictures in colours of their own.
        assert not re.search("[\U0001f000-\U0001ffff]", app.export_screenshot())
        await pressed(pilot, *"room")
        await app.workers.wait_for_complete()
        await pressed(pilot, "down")
        all_grey(app)
        await pressed(pilot, *"zzz")
        await app.workers.wait_for_complete()
        await pilot.pause()
        all_grey(app)


async def test_the_room_can_be_changed_by_name(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(pilot, "ctrl+p", *"light grey")
        await app.workers.wait_for_complete()
        await pressed(pilot, "down", "enter")
        await pilot.pause()
        assert app.theme == LIGHT.name
        walls = {run.behind for run in runs(app)}
        assert (LIGHT.wall,) * 3 in walls
        assert (MIDDLE.wall,) * 3 not in walls


@pytest.mark.parametrize("kind", KINDS)
async def test_each_kind_shows_its_swatches_colours_and_no_other(tmp_path: Path, kind: str) -> None:
    app = table(tmp_path, kind)
    async with app.run_test(size=(120, 70)) as pilot:
        await pressed(pilot, "enter")
        asked = asked_now(app)
        assert in_the_picture(app) == painted(app) == asked_hues(asked)
        nothing_written_on_swatches(app)
        # The mark on a choice, and the mouse over one; a colour to set would be moved.
        if asked.form != "set":
            await pressed(pilot, "down")
            await pilot.hover("Choices", offset=(5, 0))
        assert in_the_picture(app) == asked_hues(asked)
        nothing_written_on_swatches(app)
        await answer(pilot, pick=1)
        outcome = practice(app).outcome
        assert outcome is not None
        assert in_the_picture(app) == painted(app) == told_hues(outcome.reveal)
        nothing_written_on_swatches(app)


async def test_swatches_are_the_same_in_every_room(tmp_path: Path) -> None:
    app = table(tmp_path, "mute-with-complement")
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(pilot, "enter")
        expected = asked_hues(asked_now(app))
        assert expected
        for room in ROOMS:
            app.theme = room.name
            await pilot.pause()
            assert in_the_picture(app) == expected
            nothing_written_on_swatches(app)


async def test_grey_swatches_are_not_written_on_either(tmp_path: Path) -> None:
    app = table(tmp_path, "lighter-or-darker")
    walls = {(level,) * 3 for level in (MIDDLE.wall, MIDDLE.panel, MIDDLE.ink)}
    async with app.run_test(size=(100, 40)) as pilot:
        await pressed(pilot, "enter", "1")
        outcome = practice(app).outcome
        assert outcome is not None
        reveal = outcome.reveal
        swatches = {rgb(row.swatch.lab) for row in reveal.results if row.swatch} - walls
        seen = [run for run in runs(app) if run.behind in swatches]
        assert {run.behind for run in seen} == swatches
        assert all(run.blank for run in seen)


async def test_the_pencils_are_shown_each_in_its_colour(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 60)) as pilot:
        await pressed(pilot, "w")
        assert isinstance(app.screen, PencilsScreen)
        made = ready_once(pocket_set()).palette
        from drills.questions.protocol import Swatch

        labs = [
            Swatch((lab[0], lab[1], lab[2]))
            for pencil, lab in zip(made.set.pencils, made.lab.tolist(), strict=True)
            if not pencil.is_blender
        ]
        for room in ROOMS:
            app.theme = room.name
            await pilot.pause()
            assert in_the_picture(app) == painted(app) == hues_in(labs)
            nothing_written_on_swatches(app)


async def test_a_plan_shows_only_its_swatches(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(pilot, "c")
        all_grey(app)
        app.screen.query_one(Input).value = "#a05040"
        await pressed(pilot, "enter")
        await until(pilot, lambda: bool(painted(app)))
        assert in_the_picture(app) == painted(app)
        hues = painted(app)
        # The target and the result; of each of at most five moves, its pencil and what it comes to.
        assert 1 <= len(hues) <= 2 + 2 * 5
        for room in ROOMS:
            app.theme = room.name
            await pilot.pause()
            assert in_the_picture(app) == hues
            nothing_written_on_swatches(app)
        await pressed(pilot, "s")
        assert in_the_picture(app) == painted(app)
        nothing_written_on_swatches(app)


@pytest.mark.parametrize("key", ["g", "s"], ids=["progress", "settings"])
async def test_progress_and_settings_are_grey(tmp_path: Path, key: str) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(pilot, "enter")
        await answer(pilot)
        await pressed(pilot, "enter")
        await answer(pilot)
        await pressed(pilot, "escape", "enter", key)
        assert not isinstance(app.screen, TodayScreen)
        for room in ROOMS:
            app.theme = room.name
            await pilot.pause()
            all_grey(app)
        for _ in range(4):
            await pressed(pilot, "tab", "down", "enter")
            all_grey(app)


def test_lettering_reads_in_every_room() -> None:
    """Every lettering on every ground: WCAG 2.2, success criterion 1.4.3."""
    for room in ROOMS:
        for where, ratio in contrasts(room).items():
            assert ratio >= READS, (room.name, where, ratio)


AS_ROUNDED = (
    *((room, ColorSystem.EIGHT_BIT, DEFAULT_TERMINAL_THEME) for room in ROOMS),
    *(
        (room, ColorSystem.STANDARD, theme)
        for room in (MIDDLE, LIGHT)
        for theme in (DEFAULT_TERMINAL_THEME, MONOKAI)
    ),
)


@pytest.mark.parametrize(("room", "system", "theme"), AS_ROUNDED)
def test_lettering_reads_where_a_terminal_rounds_its_greys(
    room: Room, system: ColorSystem, theme: TerminalTheme
) -> None:
    def rounded(level: int) -> int:
        colour = Color.from_rgb(level, level, level).downgrade(system)
        return int(colour.get_truecolor(theme).red)

    levels = {name: rounded(getattr(room, name)) for name in ("wall", "ink", "faint", "panel")}
    for where, ratio in contrasts(replace(room, **levels)).items():
        assert ratio >= READS, (where, ratio)


def test_every_wall_is_a_surround_that_iso_3664_allows() -> None:
    """Neutral, of 10 to 60 % reflectance (ISO 3664, from memory)."""
    assert all(0.10 <= luminance(room.wall) <= 0.60 for room in ROOMS)
