"""Where large things are wanted, lists have fewer things set apart, each with one figure."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.app import ComposeResult
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from coach.design.large import figures_in, one_figure, spaced_rows
from coach.design.measures import LARGE_ROWS
from coach.screens.base import CoachScreen
from coach.widgets.heat import HEAD, Heat
from coach.widgets.lines import Lines
from coach.widgets.tray import HIGH, Tray
from tests.contact_sheet.large_lists import large_lists
from tests.contact_sheet.laws import LAWS
from tests.contact_sheet.pressing import settled
from tests.contact_sheet.walk import app_of, at_home, furnish, running
from tests.pilots import lines, rgb, runs, table


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        ("oranges: level 48 of 100 (18 to 78); 2 of 2 right", "oranges: level 48 of 100"),
        ("  yellows   0.28 (0.2–0.4)   12 answers   tomorrow", "  yellows   0.28   tomorrow"),
        ("  02 Mar 26  12 of 14 right, 3 unsure", "  02 Mar 26  12 of 14 right"),
        ("M02 Oilskin Row, 3 left, 4 used", "M02 Oilskin Row, 3 left"),
        ("Everything in yellows", "Everything in yellows"),
        ("30.1 12.5 -4 at the left, 1.5 off", "30.1 12.5 -4 at the left"),
    ],
)
def test_a_line_keeps_its_first_figure_and_its_words(line: str, kept: str) -> None:
    assert one_figure(line) == kept


@given(st.lists(st.sampled_from(["blue", "12", "3 of 4", "off", "1.5"]), min_size=1, max_size=9))
def test_no_line_keeps_more_figures_than_its_first_part_has(parts: list[str]) -> None:
    line = ", ".join(parts)
    kept = one_figure(line)
    assert figures_in(kept) == min(1, figures_in(line))
    assert [part for part in kept.split(", ") if not figures_in(part)] == [
        part for part in parts if not figures_in(part)
    ]
    assert one_figure(kept) == kept


def test_rows_of_a_page_stand_apart_and_prose_does_not() -> None:
    page = [
        "Each skill:",
        "  red    0.2   3 answers",
        "  blue   0.3   4 answers",
        "Of 2 that, 3 met.",
    ]
    assert list(spaced_rows(page)) == [
        *("Each skill:", "  red   0.2", "", "  blue  0.3"),
        "Of 2 that, 3 met.",
    ]


async def test_lists_are_large(tmp_path: Path) -> None:
    furnish(tmp_path, weeks=1)
    seen_names = []
    with at_home(tmp_path):
        app = app_of(tmp_path / "record.db")
        app.app_state.record.set_setting("large", True)
        async with running(app, (80, 24)) as pilot:
            await settled(pilot, "skills met")
            async for seen in large_lists(pilot):
                seen_names.append(seen.name)
                broken = [what for law in LAWS for what in law(app)]
                assert not broken, (seen.name, broken)
                screen = app.screen
                if options := list(screen.query(OptionList)):
                    _set_apart(app, options[0])
                    for at in range(options[0].option_count):
                        prompt = str(options[0].get_option_at_index(at).prompt)
                        assert figures_in(prompt) <= 1, (seen.name, prompt)
                if trays := list(screen.query(Tray)):
                    lab = trays[0].pencils[trays[0].marked].lab
                    assert lab is not None
                    rows = {run.y for run in runs(app) if run.behind == rgb(lab)}
                    assert len(rows) >= LARGE_ROWS > HIGH, seen.name
                if heats := list(screen.query(Heat)):
                    _students(lines(app)[heats[0].region.y + HEAD :], heats[0])
    assert len(seen_names) >= 8


def _set_apart(app: object, options: OptionList) -> None:
    """The marked line is bold on the ground of ink, and the rows round it are empty."""
    from coach.app import CoachApp

    assert isinstance(app, CoachApp)
    place = options.scrollable_content_region
    text = [line[place.x : place.right].strip() for line in lines(app)[place.y : place.bottom]]
    filled = [at for at, line in enumerate(text) if line]
    assert filled
    assert all(after - before > 1 for before, after in pairwise(filled))
    ground = app.screen.rich_style.bgcolor
    dark = {
        run.y
        for run in runs(app)
        if place.y <= run.y < place.bottom and place.x <= run.x < place.right
        if (run.style.bgcolor != ground) != bool(run.style.reverse)
    }
    assert len(dark) == 1, "the mark is one line high"


def _students(rows: list[str], heat: Heat) -> None:
    names = [student.name for student in heat.students]
    found = [at for at, row in enumerate(rows) if any(name in row for name in names)][: len(names)]
    assert [after - before for before, after in pairwise(found)] == [2, 2]
    assert all(figures_in(rows[at]) <= 1 for at in found)


class _Page(CoachScreen[None]):
    """A list made with one line; another comes later, and changes."""

    def compose(self) -> ComposeResult:
        yield Lines(Option("made with 3, 4", id="first"), markup=False)


async def test_any_list_is_made_large_whenever_its_lines_come(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        for large in (False, True):
            app.app_state.record.set_setting("large", large)
            await app.push_screen(_Page())
            await pilot.pause()
            found = app.screen.query_one(Lines)
            found.add_option(Option("later 1 of 2, 3", id="later"))
            found.replace_option_prompt("later", "changed 5  6")
            await pilot.pause()
            rows = [line.strip() for line in lines(app)[1:5]]
            plain = ["made with 3, 4", "changed 5  6"]
            assert rows[: 4 if large else 2] == (
                ["made with 3", "", "changed 5", ""] if large else plain
            )
            assert found.highlighted == 0
            await app.pop_screen()
