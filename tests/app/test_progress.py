"""The progress screen: the figures of ``coach progress``, over a range; nothing by colour alone."""

import threading
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from coach.reports.progress_figures import Figures, figures
from coach.reports.progress_words import page
from coach.reports.seen.curves import curves
from coach.screens.progress import WORKING, ProgressScreen
from coach.terminal import ColourDepth
from scores.progress.answers import Answers
from scores.progress.claim import Claim
from scores.skill.model.layout import Layout
from tests.bench.records import make_long_record
from tests.pilots import (
    FEW_COLOURS,
    MORNING,
    TRUE_COLOUR,
    TableApp,
    lines,
    painted,
    shown,
    table,
    until,
)


def practised(tmp_path: Path, attempts: int = 250) -> TableApp:
    """Someone who has practised for a while."""
    make_long_record(tmp_path / "record.db", attempts=attempts, seed=3)
    return table(tmp_path)


def has(app: TableApp, words: str) -> bool:
    """Whether these words stand in the title."""
    return words in lines(app)[0]


async def test_keys_are_heard_while_the_figures_are_worked_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app, go_on = table(tmp_path), threading.Event()

    def slow(*args: Any, **how: Any) -> Figures:
        assert go_on.wait(30)
        return figures(*args, **how)

    monkeypatch.setattr("coach.reports.progress_figures.figures", slow)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g")
        await pilot.pause()
        assert WORKING in shown(app)
        await pilot.press("y", "escape")
        assert not isinstance(app.screen, ProgressScreen)
        await pilot.press("g")
        await pilot.pause()
        go_on.set()
        await until(pilot, partial(has, app, "(3 months)"))
        assert WORKING not in shown(app)


async def test_it_shows_what_the_command_says(tmp_path: Path) -> None:
    app = practised(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g", "a")
        await until(pilot, lambda: "(all)" in lines(app)[0])
        said = list(page(figures(app.app_state.record, app.app_state.clock(), "all")))
        assert isinstance(app.screen, ProgressScreen)
        assert said[0] in lines(app)[0]
        for line in said[1:5]:
            assert " ".join(line.split()) in shown(app)
        assert "smaller is better" in " ".join(said)
        assert painted(app) == set()


async def test_each_curve_is_a_key_away_and_its_data_as_a_table(tmp_path: Path) -> None:
    app = practised(tmp_path)
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("g", "a")
        await until(pilot, lambda: "(all)" in lines(app)[0] and "1 of" in shown(app))
        drawn = curves(figures(app.app_state.record, app.app_state.clock(), "all"))
        assert len(drawn) > 2
        for curve in drawn:
            words = shown(app)
            assert curve.title in words
            assert curve.says in words
            for _, said in (*curve.marks, *curve.dates):
                assert said in words
            assert any("\u2801" <= letter <= "\u28ff" for letter in words)
            await pilot.press("t")
            await until(pilot, lambda: "Day" in shown(app))
            for row in curve.rows():
                assert " ".join(row) in shown(app)
            await pilot.press("t", "right")
            await pilot.pause()
        await until(pilot, lambda: drawn[0].title in shown(app))
        await pilot.press("left")
        await until(pilot, lambda: drawn[-1].title in shown(app))


@pytest.mark.parametrize("depth", [TRUE_COLOUR, FEW_COLOURS])
async def test_a_known_change_is_drawn_where_the_terminal_shows_colours(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, depth: ColourDepth
) -> None:
    told = partial(known, change=-0.15)
    monkeypatch.setattr("scores.progress.figures.claim", told)
    make_long_record(tmp_path / "record.db", attempts=250, seed=3)
    app = table(tmp_path, depth=depth)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g")
        await until(pilot, lambda: "As far apart" in shown(app))
        assert "today:" in shown(app)
        assert bool(painted(app)) == depth.true_colour


def known(answers: Answers, layout: Layout, day: int, change: float) -> Claim:
    """A change that is told, whatever was answered."""
    return Claim(
        day - 60, day, 30, len(answers), change, change - 0.05, change + 0.05, 9.0, "finer"
    )


async def test_ranges_and_sections_are_a_key_away(tmp_path: Path) -> None:
    app = practised(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g")
        await pilot.pause()
        for key, name in {"w": "2 weeks", "y": "year", "a": "all", "m": "3 months"}.items():
            await pilot.press(key)
            await until(pilot, partial(has, app, f"({name})"))
        await pilot.press("a")
        await until(pilot, partial(has, app, "(all)"))
        await pilot.press("5")
        await pilot.pause()
        await pilot.pause()
        assert "Minutes of answering" in shown(app)
        assert "1–5 go to a part" in shown(app)
        assert "← → curves" in shown(app)
        await pilot.press("escape")
        assert not isinstance(app.screen, ProgressScreen)


async def test_a_newcomer_s_page_is_not_empty_words(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g")
        await until(pilot, lambda: "Nothing has been measured yet" in shown(app))
        assert MORNING.strftime("%B %Y") in lines(app)[0]
        # No key is named that would do nothing.
        assert "curves" not in shown(app)
        assert "as a table" not in shown(app)
