"""Assigned work in a student's app: shown with date and progress, mixed in, kept as the deck's."""

import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from coach.deck_preview import preview_app
from coach.screens.practice.lesson import LessonScreen
from coach.screens.practice.question import PracticeScreen
from coach.session.assigned.deck_work import Assigned
from decks.deck import Deck
from decks.record_form import to_kept
from decks.starters import starter
from drills.pencils.sets import demo_set
from scores.record.decks_added import put_deck
from tests.pilots import MORNING, TRUE_COLOUR, Hands, TableApp, answer, practice, shown, table


def assigned(app: TableApp, name: str = "greys") -> Deck:
    """Put a starter deck on the student's shelf, as ``coach deck add`` does."""
    deck = starter(name)
    put_deck(app.app_state.record, deck.fingerprint, deck.title, to_kept(deck), MORNING)
    app.app_state.use(demo_set())
    return deck


async def settled(app: TableApp, pilot) -> None:
    """The pencils and the decks are ready, and the screen says so."""
    while app.app_state.ready_for is None:
        await pilot.pause()
        await app.workers.wait_for_complete()
    await pilot.pause()


async def on(app: TableApp, pilot) -> None:
    """Enter, and every lesson that then stands before a question is read."""
    await pilot.press("enter")
    await pilot.pause()
    while isinstance(app.screen, LessonScreen):
        await pilot.press("enter")
        await pilot.pause()


async def test_today_shows_the_deck_its_progress_and_its_share(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=10)
    deck = assigned(app)
    async with app.run_test(size=(100, 50)) as pilot:
        await settled(app, pilot)
        assert f"“{deck.title}”: 0 of {deck.items_a_day} today" in shown(app)
        plan = app.app_state.today()
        assert plan is not None
        asked = [item for item in plan.plan if isinstance(item, Assigned)]
        assert asked
        assert len(asked) <= deck.items_a_day
        assert "assigned" in shown(app)
        await pilot.press("d")
        await pilot.pause()
        assert f"assigned: {deck.title}" in shown(app)


async def test_an_assigned_answer_is_kept_as_the_deck_s_and_counts(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=10)
    deck = assigned(app)
    async with app.run_test(size=(100, 40)) as pilot:
        await settled(app, pilot)
        await on(app, pilot)
        given = 0
        for _ in range(8):
            item = practice(app).session.item  # type: ignore[union-attr]
            given += isinstance(item, Assigned)
            await answer(pilot)
            await on(app, pilot)
        with closing(sqlite3.connect(tmp_path / "record.db")) as db:
            (kept,) = db.execute(
                "SELECT count(*) FROM attempts WHERE deck = ?", (deck.fingerprint,)
            ).fetchone()
        assert given
        assert kept == given
        await pilot.press("escape", "enter")
        await pilot.pause()
        assert f"{given} of {deck.items_a_day} today" in shown(app)


async def test_what_is_left_next_day_is_a_day_s_work_again(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=10)
    deck = assigned(app)
    async with app.run_test(size=(100, 40)) as pilot:
        await settled(app, pilot)
        app.app_state.clock = lambda: MORNING + timedelta(days=1)
        plan = app.app_state.today()
        assert plan is not None
        assert [one.left_today for one in plan.standings] == [deck.items_a_day]


async def test_a_preview_asks_the_deck_alone_and_ends_with_it(tmp_path: Path) -> None:
    deck = starter("five-colours")
    app = preview_app(deck, demo_set(), TRUE_COLOUR, tmp_path)
    app.app_state.timer = Hands()
    async with app.run_test(size=(100, 40)) as pilot:
        await settled(app, pilot)
        assert "nothing is kept" in shown(app)
        await on(app, pilot)
        made = app.app_state.ready_for
        assert made is not None
        session = practice(app).session
        assert session is not None
        asked = 0
        while isinstance(app.screen, PracticeScreen):
            assert isinstance(session.item, Assigned)
            await answer(pilot)
            asked += 1
            await on(app, pilot)
        assert asked == len(made.decks[0].tasks)
    app.app_state.record.close()
