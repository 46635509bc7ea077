"""The end of a session: a known change drawn for the drills practised, and for no others."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.screens.practice.closing import ClosingScreen
from coach.terminal import ColourDepth
from coach.widgets.drawn.then_now import ThenNowPairs
from scores.progress.answers import Answers
from scores.progress.claim import Claim, Direction
from scores.skill.model.layout import Layout
from tests.bench.records import make_long_record
from tests.pilots import FEW_COLOURS, TRUE_COLOUR, answer, painted, shown, table


@pytest.mark.parametrize(
    ("direction", "depth"), [("finer", TRUE_COLOUR), ("finer", FEW_COLOURS), (None, TRUE_COLOUR)]
)
async def test_it_draws_then_and_now_only_where_a_change_is_known(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    direction: Direction | None,
    depth: ColourDepth,
) -> None:
    def told(answers: Answers, layout: Layout, day: int) -> Claim:
        return Claim(day - 60, day, 30, len(answers), -0.15, -0.2, -0.1, 9.0, direction)

    monkeypatch.setattr("coach.reports.progress_figures.claim", told)
    make_long_record(tmp_path / "record.db", attempts=250, seed=3)
    app = table(tmp_path, "hue-and-lean", depth=TRUE_COLOUR)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.press("enter")
        await answer(pilot)
        app.app_state.depth = depth
        await pilot.press("escape")
        await pilot.pause()
        await pilot.pause()
        assert isinstance(app.screen, ClosingScreen)
        pairs = app.screen.query_one(ThenNowPairs)
        known = direction is not None
        assert [one.title for one in pairs.shown] == ["Hue family and lean"] * known
        assert ("today:" in shown(app)) == known
        assert bool(painted(app)) == (known and depth.true_colour)
