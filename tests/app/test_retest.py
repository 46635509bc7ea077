"""The fortnight's re-test: offered when due, asked apart, its answers kept and not told."""

import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from coach.session.retest_session import NOTED
from scores.progress.retest import RETEST
from tests.bench.records import A_DAY, FIRST_DAY, make_long_record
from tests.pilots import TableApp, answer, practice, shown, table


def practised(folder: Path) -> TableApp:
    """Someone with weeks of practice behind them, the day after."""
    make_long_record(folder / "record.db", attempts=900, seed=5)
    app = table(folder)
    app.app_state.clock = lambda: FIRST_DAY + timedelta(days=900 // A_DAY + 1)
    return app


async def test_it_is_offered_and_its_answers_are_kept_apart_and_not_told(tmp_path: Path) -> None:
    app = practised(tmp_path)
    skills = app.app_state.record.skills()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        due = app.app_state.retest_due()
        assert due is not None
        assert f"re-test, {len(due.items)} questions" in shown(app)
        await pilot.press("r")
        await pilot.pause()
        session = practice(app).session
        assert session is not None
        assert list(session.feed.sources) == [RETEST]
        for _ in range(2):
            await answer(pilot)
            assert NOTED in shown(app)
            await pilot.press("enter")
            await pilot.pause()
    with closing(sqlite3.connect(tmp_path / "record.db")) as db:
        (kept,) = db.execute("SELECT count(*) FROM attempts WHERE deck = ?", (RETEST,)).fetchone()
    assert kept == 2
    assert app.app_state.record.skills() == skills, "practice learns nothing from a re-test"
    left = app.app_state.retest_due()
    assert left is not None
    assert left.begun, "what is left is offered again the same day"


async def test_a_newcomer_is_not_re_tested(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "re-test" not in shown(app)
        await pilot.press("r")
        assert app.app_state.retest() is None
