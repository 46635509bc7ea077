"""Today: figures that are true to the record, one key to begin, and a session's length."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot

from coach.app import CoachApp
from coach.screens.first_start.welcome import WelcomeScreen
from coach.screens.pencils import PencilsScreen
from coach.screens.practice.closing import ClosingScreen
from coach.screens.practice.question import PracticeScreen
from coach.screens.practice.today import TodayScreen
from coach.screens.practice.today_words import NO_FOCUS, NO_FOCUS_WHY, figures, headline
from coach.session.today_plan import Today
from drills.pencils.sets import pocket_set
from scores.today.day_plan import Item
from scores.today.offers import KindFacts, Offers
from tests.pilots import (
    MORNING,
    TableApp,
    answer,
    kept,
    lines,
    new_desk,
    place_of,
    practice,
    ready_once,
    shown,
    table,
    until,
)

FACTS = KindFacts("hue", 1, "Hue", 10.0, "ΔL*", (9.0, 1.0), 0.5, True)
ITEMS = tuple(
    Item("hue:red", "hue", "red", "", "due", 20.0, part=part)
    for part in ("warm-up", "mixed", "mixed", "match")
)  # fmt: skip


def of_a_day(plan: tuple[Item, ...]) -> Today:
    """What the first screen shows of someone who has met one skill."""
    return Today(plan, Offers({"hue": FACTS}, (("hue", "red"),)), 10, 0, 0, 0, 1)


def again(folder: Path, days: float) -> TableApp:
    """The app opened anew some days later."""
    app_state = new_desk(folder)
    app_state.clock = lambda: MORNING + timedelta(days=days)
    app_state.keep(ready_once(app_state.pencil_set()))
    return TableApp(app_state)


@pytest.mark.parametrize(
    ("marked", "told"), [(0, ""), (1, " and 1 example"), (3, " and 3 examples")]
)
def test_what_is_shown_solved_is_counted_beside_the_questions(marked: int, told: str) -> None:
    plan = tuple(replace(one, example_s=21.0 * (at < marked)) for at, one in enumerate(ITEMS))
    assert f"10 minutes, about 4 questions{told}:" in figures(of_a_day(plan), "Mine")


def test_a_day_without_a_focus_says_what_it_is_for_and_why() -> None:
    assert headline(of_a_day(ITEMS)) == (NO_FOCUS, NO_FOCUS_WHY)
    # A short day, which begins with its match, has no room for a focus anyway.
    assert headline(of_a_day(ITEMS[::-1])) == (NO_FOCUS, "")
    assert headline(of_a_day(ITEMS[:3])) == ("Today", "")


async def answers(pilot: Pilot[None], count: int) -> None:
    for _ in range(count):
        await answer(pilot)
        await pilot.press("enter")
        await pilot.pause()


async def test_a_day_with_nothing_behind_it(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=10)
    async with app.run_test(size=(80, 70)) as pilot:
        assert isinstance(app.screen, TodayScreen)
        plan = app.app_state.today()
        assert plan is not None
        skills = len(plan.offers.pairs)
        assert f"0 of {skills} skills met, nothing is due." in shown(app)
        assert f"10 minutes, about {len(plan.plan)} questions:" in shown(app)
        assert lines(app)[0].split()[0] == "Today:"
        assert f"{MORNING:%A} 2 March" in lines(app)[1]
        await pilot.press("d")
        await pilot.pause()
        first = plan.plan[0]
        called: dict[str, str] = {}
        for item in plan.plan:
            called.setdefault(item.skill, item.why)
            title = plan.offers.kinds[item.kind].title
            why = called[item.skill]
            found = [
                line for line in lines(app) if title in line and line.rstrip().endswith(f"  {why}")
            ]
            assert len(found) == 1, "each skill is listed once, with what first called for it"
        await pilot.press("enter")
        await pilot.pause()
        # The plan shown is the plan that is asked.
        assert practice(app).session is not None
        assert practice(app).session.item == first  # type: ignore[union-attr]


async def test_the_figures_follow_the_record_over_days(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        await answers(pilot, 4)
        await pilot.press("escape", "enter")
        await pilot.pause()
        met = len(app.app_state.record.skills())
        assert f"{met} of" in shown(app)
        app.app_state.record.close()
    for days in (0, 1, 3, 13):
        later = again(tmp_path, days)
        async with later.run_test(size=(80, 24)):
            states = later.app_state.eye.skills(later.app_state.day).values()
            day = (MORNING + timedelta(days=days)).date()
            due = sum(1 for state in states if state.due and state.due <= day)
            words = f"{due} due" if due else "nothing is due"
            assert f"{met} of" in shown(later)
            assert f"skills met, {words}." in shown(later)
            later.app_state.record.close()


@pytest.mark.parametrize(
    ("start", "key", "end"), [(10, "plus", 11), (10, "minus", 9), (60, "plus", 60), (2, "minus", 2)]
)
async def test_minutes_change_within_two_and_sixty_and_are_kept(
    tmp_path: Path, start: float, key: str, end: float
) -> None:
    app = table(tmp_path, minutes=start)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(key)
        await pilot.pause()
        assert f"{end} minutes, about" in shown(app)
        plan = app.app_state.today()
        assert plan is not None
        assert plan.minutes == end
    assert again(tmp_path, 0).app_state.minutes == end


async def test_minutes_change_by_mouse_too(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=10)
    async with app.run_test(size=(80, 24)) as pilot:
        for hint, minutes in (("+ longer", 11), ("− shorter", 10), ("− shorter", 9)):
            await pilot.click(offset=place_of(app, hint))
            await pilot.pause()
            assert f"{minutes} minutes, about" in shown(app)


async def test_a_long_plan_is_read_on_by_keys(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=60)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("d")
        plan = app.screen.query_one("#plan", VerticalScroll)
        await until(pilot, lambda: plan.max_scroll_y > plan.size.height)
        page = plan.size.height
        for key, at in {"down": 1, "pagedown": 1 + page, "pageup": 1, "up": 0}.items():
            await pilot.press(key)
            await until(pilot, lambda at=at: plan.scroll_y == at)


async def test_without_a_record_the_welcome_comes_first(tmp_path: Path) -> None:
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)):
        assert isinstance(app.screen, WelcomeScreen)


async def test_the_pencils_can_be_changed_and_today_follows(tmp_path: Path) -> None:
    ready_once(pocket_set())
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.click(offset=place_of(app, "w pencils"))
        await pilot.pause()
        assert isinstance(app.screen, PencilsScreen)
        await pilot.press("2")
        await until(pilot, lambda: "12 pencils" in shown(app))
        await pilot.press("escape")
        await pilot.pause()
        assert pocket_set().name in shown(app)
        assert "skills met" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        await answer(pilot)
        assert len(kept(tmp_path)) == 1


async def test_a_session_ends_where_it_began_and_another_can_follow(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        for turn in (1, 2):
            await pilot.press("enter")
            await pilot.pause()
            await answer(pilot)
            await pilot.press("escape")
            await pilot.pause()
            assert isinstance(app.screen, ClosingScreen)
            assert "1 answered" in shown(app)
            assert "For the drawing table" in shown(app)
            await pilot.press("enter")
            await pilot.pause()
            assert isinstance(app.screen, TodayScreen)
            assert len(kept(tmp_path)) == turn
        assert len(app.screen_stack) == 1
        await pilot.press("q")
    assert app.return_code == 0


async def test_a_session_stopped_before_an_answer_says_that_nothing_has_changed(
    tmp_path: Path,
) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "escape")
        await pilot.pause()
        assert not isinstance(app.screen, PracticeScreen)
        assert "Nothing was answered" in shown(app)


async def test_what_a_set_offers_is_worked_out_once_and_not_at_every_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = table(tmp_path)
    offered = first.app_state.ready_for.offers  # type: ignore[union-attr]
    first.app_state.record.close()

    def never(*given: object) -> None:
        raise AssertionError("the offers kept would have served")

    monkeypatch.setattr("coach.app_state.work_out_offers", never)
    later = CoachApp(new_desk(tmp_path))
    async with later.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: later.app_state.ready_for is not None)
        assert later.app_state.ready_for is not None
        assert later.app_state.ready_for.offers == offered


async def test_a_first_day_back_is_short_and_told(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        await answers(pilot, 3)
    app.app_state.record.close()
    back = again(tmp_path, 20)
    async with back.run_test(size=(80, 24)) as pilot:
        assert "You were away for 20 days." in shown(back)
        assert "6 minutes, about" in shown(back)
        # Nor the re-test, nor the colour of the week on paper, which wait a day.
        assert " due" not in shown(back)
        assert "on paper   " not in shown(back).replace("m on paper", "")
        await pilot.press("enter")
        await pilot.pause()
        session = practice(back).session
        assert session is not None
        assert session.minutes == 6
        await answer(pilot)
        # The next one of that day is as long as ever.
        plan = back.app_state.today()
        assert plan is not None
        assert (plan.minutes, plan.away) == (10, 0)
