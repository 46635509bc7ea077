"""Where large things are wanted: fewer of them, and swatches of eight rows at 80 × 24."""

from __future__ import annotations

from collections import Counter
from itertools import groupby
from pathlib import Path

from textual.containers import VerticalScroll

from coach.app import CoachApp
from coach.design.measures import LARGE_ROWS
from coach.screens.plan import PlanScreen
from coach.widgets.choices import MOST_LARGE, Choices
from coach.widgets.results import ResultRows
from coach.widgets.scene import Scene
from drills.kinds import all_kinds
from drills.questions.protocol import Lab
from tests.contact_sheet.laws import LAWS
from tests.contact_sheet.walk import of_kind
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
