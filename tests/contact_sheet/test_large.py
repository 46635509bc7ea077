"""Where large things are wanted: fewer of them, and swatches of eight rows at 80 × 24."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

import pytest
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.app import CoachApp
from coach.design.large import fewer, figures_in, short
from coach.design.measures import LARGE_ROWS
from coach.reports.classes.brief import Brief, Shown
from coach.reports.classes.brief_page import brief_lines
from coach.screens.mending import MendingScreen
from coach.screens.plan import PlanScreen
from coach.screens.progress import ProgressScreen
from coach.screens.words_page import PageScreen
from coach.widgets.choices import MOST_LARGE, Choices
from coach.widgets.results import ResultRows
from coach.widgets.scene import Scene
from drills.kinds import all_kinds
from drills.planning.plan import LikelyMiss
from drills.questions.protocol import Lab
from tests.contact_sheet.large_walk import large_walk
from tests.contact_sheet.laws import LAWS, nothing_is_cut
from tests.contact_sheet.pressing import settled
from tests.contact_sheet.walk import app_of, at_home, furnish, of_kind, running
from tests.pilots import answer, practice, rgb, runs, shown, table, until


def rows_of(app: CoachApp, lab: Lab) -> int:
    """The lines in which this colour is painted."""
    return len({run.y for run in runs(app) if run.behind == rgb(lab)})


async def test_swatches_have_eight_rows_and_the_question_is_in_view(tmp_path: Path) -> None:
    app = table(tmp_path, "hue-and-lean")
    app.app_state.record.set_setting("large", True)
    seen = Counter[str]()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await answer(pilot)
        screen = practice(app)
        for kind in all_kinds().values():
            async for state in of_kind(pilot, kind):
                if state.name.startswith("reveal"):
                    continue
                assert screen.query_one("#asking", VerticalScroll).max_scroll_y == 0, kind.name
                asked = screen.query_one(Choices).asked
                assert asked is not None
                shown = asked.scene if screen.query_one(Scene).display else ()
                few = len(asked.choices) <= MOST_LARGE and asked.form == "choose"
                for swatch in (*shown, *(one.swatch for one in asked.choices if few)):
                    # One inside a surround has what that leaves.
                    if swatch is not None and swatch.surround is None:
                        assert rows_of(app, swatch.lab) >= LARGE_ROWS, kind.name
                        seen[kind.name] += 1
    assert len(seen) >= len(all_kinds()) / 2


async def test_a_reveal_has_one_s_own_and_the_best_of_eight_rows(tmp_path: Path) -> None:
    app = table(tmp_path, "nearest-start")
    app.app_state.record.set_setting("large", True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await answer(pilot)
        await pilot.pause()
        lines = practice(app).query_one(ResultRows).lines
        rows = [len(list(part)) for labs, part in groupby(lines, lambda line: line.labs) if labs]
        assert min(rows) >= LARGE_ROWS
        assert len(rows) <= 2


async def test_a_plan_has_two_swatches_of_eight_rows_and_its_words(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        seen = []
        for large in (False, True):
            app.app_state.record.set_setting("large", large)
            await app.push_screen(PlanScreen((45.0, 15.0, 25.0)))
            await until(pilot, lambda: "ΔE00" in shown(app) and "Planning…" not in shown(app))
            await pilot.pause()
            scene = app.screen.query_one(Scene)
            assert len(scene.swatches) == 2
            seen.append([rows_of(app, swatch.lab) for swatch in scene.swatches])
            broken = [what for law in LAWS for what in law(app)]
            assert not broken
            await pilot.press("escape")
        plain, large_rows = seen
        assert min(large_rows) >= LARGE_ROWS > max(plain)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])
async def test_every_state_is_large(tmp_path: Path, size: tuple[int, int]) -> None:
    """All laws, eight rows of what is judged, and pages of our own with fewer figures."""
    furnish(tmp_path, weeks=1)
    broken: list[str] = []
    names = []
    async for seen in large_walk(tmp_path, size):
        app = seen.app
        names.append(seen.name)
        assert app.screen.has_class("-large") or seen.name == "help"
        for law in (*LAWS, scenes_are_large, rows_have_one_figure, sentences_have_one_figure):
            broken += [f"{seen.name}: {law.__name__}: {what}" for what in law(app)]
    assert len(names) >= 40
    assert not broken, "\n".join(broken)


def scenes_are_large(app: CoachApp) -> Iterator[object]:
    for scene in app.screen.query(Scene):
        if scene.is_attached and scene.display and scene.region.area:
            for swatch in scene.swatches:
                plain = swatch.surround is None and not swatch.grain
                if plain and rows_of(app, swatch.lab) < LARGE_ROWS:
                    yield swatch, rows_of(app, swatch.lab)


PAGES = ("figures", "page", "detail", "skills", "items")
"""Parts of screens that hold lists of our own words."""
ROW = re.compile(r"^ {2,}\S.* {2,}\S")


def rows_have_one_figure(app: CoachApp) -> Iterator[object]:
    """A list's rows on a page have one figure at most; in the help they are words said of keys."""
    for part in () if "Help" in str(app.screen.query(Static).first().content) else PAGES:
        for static in app.screen.query(f"#{part}").results(Static):
            for line in str(static.content).split("\n") if static.display else ():
                if ROW.match(line) and figures_in(line) > 1:
                    yield line


SENTENCES = (PlanScreen, MendingScreen, ProgressScreen, PageScreen)
"""Screens that say figures in sentences of ours, beside what is a table or others' own words."""
END = re.compile(r"\n(?=[ ▸])|\n\n|(?<=[.;!?:])\s")
OF_THE_LEAST = re.compile(r"\d+ days of practice so far, of at least \d+")
"""A part of a whole, as "3 of 10" is."""


def sentences_have_one_figure(app: CoachApp) -> Iterator[object]:
    if not isinstance(app.screen, SENTENCES):
        return
    for static in app.screen.query(Static):
        words = str(static.content) if static.display and static.region.area else ""
        for sentence in END.split(words):
            said = OF_THE_LEAST.sub("so many", " ".join(sentence.split()))
            if figures_in(said) > 1:
                yield sentence


def test_a_range_is_told_alone_where_there_is_to_be_one_figure() -> None:
    miss = LikelyMiss(4.1, 1.6, 6.2)
    assert miss.words() == "Expect to land plainly off: about 4, most likely between 1.5 and 6."
    assert miss.words(few=True) == "Expect to land plainly off: 1.5 to 6."
    assert LikelyMiss(4.1, 4.0, 4.2).words(few=True) == "Expect to land plainly off: about 4."


def test_a_brief_says_how_many_stand_where_a_line_each() -> None:
    why = "2 of 9 right; harder for the class than the others, likely (7 in 10)"
    brief = Brief(
        *("Week 3", "2 stuck at a drill, 1 on track."),
        *((Shown("blue", "", why, ()),), (("Wren", "0 of 5 right, 2 of 3 there (so far 9)"),)),
        *(0, (), (), 0, (), ""),
    )
    told = list(brief_lines(brief, 66, False, short))
    assert told[:2] == ["Before class: Week 3. 2 stuck at a drill", "  1 on track."]
    colours = told.index("Show these colours")
    assert " ".join(told[colours + 1].split() + told[colours + 2].split()) == (
        "blue: 2 of 9 right; harder for the class than the others, likely"
    )
    assert "  Wren: 0 of 5 right" in told


def test_of_a_page_brackets_with_figures_go_and_rows_stand_apart() -> None:
    page = [
        *("Level 40 of 100 (32 to", "  48): weak, sure (98 in 100) (so far)"),
        *("   7  Red (3 of 4)", "  10  Blue (1)"),
    ]
    assert fewer("\n".join(page)).split("\n") == [
        "Level 40 of 100: weak, sure (so far)",
        *("   7  Red", "", "  10  Blue"),
    ]


async def test_from_a_wide_screen_on_a_reveal_is_twice_the_size(tmp_path: Path) -> None:
    app = table(tmp_path, "hue-and-lean")
    cells = []
    for large in (False, True):
        app.app_state.record.set_setting("large", large)
        async with app.run_test(size=(120, 40)) as pilot:
            await pilot.press("enter")
            await answer(pilot)
            await pilot.pause()
            laid = practice(app).query_one(ResultRows)
            rows = sum(bool(line.labs) for line in laid.lines)
            cells.append((laid.half, rows / len({line.labs for line in laid.lines if line.labs})))
        app = table(tmp_path / "again", "hue-and-lean") if not large else app
    (usual, few), (twice, more) = cells
    assert twice == 2 * usual
    assert more > few


async def test_today_is_set_apart_only_where_there_is_room(tmp_path: Path) -> None:
    furnish(tmp_path, weeks=1)
    with at_home(tmp_path):
        app = app_of(tmp_path / "record.db")
        app.app_state.record.set_setting("large", True)
        async with running(app, (80, 24)) as pilot:
            await settled(pilot, "skills met")
            told = str(app.screen.query_one("#figures", Static).content)
            parts = [line for line in told.split("\n") if " min " in line]
            assert len(parts) >= 3
            assert told.count("\n\n") == len([x for x in told.split("\n") if ROW.match(x)]) - 1
            # With more to say below, nothing goes beyond the screen.
            app.screen.query_one("#trouble", Static).update("\n".join(["more"] * 8))
            app.screen.on_resize()  # type: ignore[attr-defined]
            await pilot.pause()
            told = str(app.screen.query_one("#figures", Static).content)
            assert "\n\n" not in told
            assert not list(nothing_is_cut(app))
