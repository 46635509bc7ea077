"""Practice: every kind by keyboard alone and by mouse alone, paused, stopped, never lost."""

from __future__ import annotations

import random
from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot

from coach.app import CoachApp
from coach.screens.help import HelpScreen
from coach.screens.practice.closing import ClosingScreen
from coach.screens.practice.question import PracticeScreen
from coach.screens.practice.today import TodayScreen
from coach.widgets.choices import DOUBLE_S, Choices
from coach.widgets.scene import Scene
from scores.progress.sureness import SURE
from tests.pilots import (
    KINDS,
    Hands,
    answer,
    asked_hues,
    asked_now,
    choose,
    kept,
    lines,
    painted,
    place_of,
    practice,
    shown,
    table,
    told_hues,
)


async def press_hint(pilot: Pilot[None], app: CoachApp, hint: str, key: str, mouse: bool) -> None:
    """Do what a hint at the foot says, by its key or by a click on it."""
    if mouse:
        await pilot.click(offset=place_of(app, hint))
    else:
        await pilot.press(key)
    await pilot.pause()


@pytest.mark.parametrize("kind", KINDS)
async def test_each_kind_is_answered_by_mouse_alone_and_by_keys_alone(
    tmp_path: Path, kind: str
) -> None:
    app = table(tmp_path, kind)
    async with app.run_test(size=(80, 24)) as pilot:
        await press_hint(pilot, app, "Enter begin", "enter", mouse=True)
        asked = []
        for mouse in (True, False):
            question = practice(app).question
            assert question is not None
            assert question.kind == kind
            asked.append((kind, question.seed))
            await answer(pilot, pick=1, mouse=mouse)
            outcome = practice(app).outcome
            assert outcome is not None
            assert outcome.grade.verdict in shown(app)
            # On the disk before the next question is drawn.
            assert kept(tmp_path) == asked
            await press_hint(pilot, app, "Enter next", "enter", mouse)
            assert practice(app).outcome is None
            assert practice(app).question is not question
        await press_hint(pilot, app, "Esc stop", "escape", mouse=True)
        assert isinstance(app.screen, ClosingScreen)
        assert "2 answered" in shown(app)


@pytest.mark.parametrize("kind", ["hue-and-lean", "order-of-layers", "make-the-match"])
async def test_the_mark_moves_by_arrows_and_enter_takes_it(tmp_path: Path, kind: str) -> None:
    app = table(tmp_path, kind)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        asked = asked_now(app)
        await pilot.press("down", "down", "up", "enter")
        await pilot.pause()
        first = (asked.choices[0].key,)
        if asked.form == "arrange":
            assert practice(app).query_one(Choices).placed == first
        else:
            assert practice(app).replies[-1] == first


async def test_a_match_is_not_done_while_it_is_asked_how_hard(tmp_path: Path) -> None:
    app = table(tmp_path, "make-the-match")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        assert "d done" in lines(app)[-1]
        await pilot.press("1")
        await pilot.pause()
        assert "how hard?" in shown(app)
        assert "d done" not in lines(app)[-1]
        held = practice(app).replies
        await pilot.press("d")
        await pilot.pause()
        assert practice(app).replies == held


async def test_the_question_is_numbered_and_why_it_came_is_told_only_after(tmp_path: Path) -> None:
    """Why it came names the colour family, which may be the very answer."""
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        for number in range(1, 5):
            screen = practice(app)
            assert screen.session is not None
            assert screen.session.item is not None
            assert screen.question is not None
            title = screen.session.kinds[screen.question.kind].title
            assert f"{title} · question {number}" in lines(app)[0]
            why = screen.session.item.why
            assert why not in shown(app)
            await answer(pilot)
            assert why in lines(app)[1]
            await pilot.press("enter")
            await pilot.pause()


async def test_a_long_reveal_is_read_on_by_keys_and_the_next_begins_at_its_top(
    tmp_path: Path,
) -> None:
    app = table(tmp_path, "order-of-layers")
    async with app.run_test(size=(80, 16)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        await answer(pilot)
        await pilot.press("l")
        await pilot.pause()
        telling = practice(app).query_one("#telling", VerticalScroll)
        assert telling.max_scroll_y > 2
        places = []
        for key in ("down", "down", "up", "end", "home", "pagedown", "pageup"):
            await pilot.press(key)
            await pilot.pause()
            places.append(telling.scroll_offset.y)
        assert places[:5] == [1, 2, 1, telling.max_scroll_y, 0]
        assert places[5] > places[6]
        await pilot.press("end", "enter")
        await pilot.pause()
        await answer(pilot)
        assert telling.scroll_offset.y == 0


# Pause


async def test_a_pause_covers_the_swatches_and_stops_the_clock(tmp_path: Path) -> None:
    timer = Hands(pace=0.0)
    app = table(tmp_path, "lighter-or-darker", timer=timer)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        screen = practice(app)
        assert screen.session is not None
        hues = asked_hues(asked_now(app))
        assert painted(app) == hues != set()
        timer.now += 5
        await pilot.press("p")
        await pilot.pause()
        timer.now += 3000
        assert painted(app) == set()
        assert "Paused" in shown(app)
        assert "p go on" in shown(app)
        await pilot.press("1", "enter")
        await pilot.pause()
        assert screen.outcome is None
        assert kept(tmp_path) == []
        await pilot.press("p")
        await pilot.pause()
        assert painted(app) == hues
        assert screen.session.elapsed == 5
        timer.now += 2
        await pilot.press("1")
        await pilot.pause()
        assert screen.outcome is not None
        assert screen.outcome.attempt.response_s == 7


async def test_a_pause_at_the_reveal_covers_it_and_enter_waits(tmp_path: Path) -> None:
    app = table(tmp_path, "lighter-or-darker")
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("enter", "1")
        await pilot.pause()
        screen = practice(app)
        assert screen.outcome is not None
        told = told_hues(screen.outcome.reveal)
        assert painted(app) == told
        await pilot.press("p", "enter")
        await pilot.pause()
        assert painted(app) == set()
        assert screen.outcome is not None
        await pilot.press("p")
        await pilot.pause()
        assert painted(app) == told
        await pilot.press("enter")
        await pilot.pause()
        assert screen.outcome is None


async def test_a_half_made_order_is_kept_over_a_pause(tmp_path: Path) -> None:
    app = table(tmp_path, "order-of-layers")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "2", "1")
        placed = practice(app).query_one(Choices).placed
        assert len(placed) == 2
        await pilot.press("p", "p")
        await pilot.pause()
        assert practice(app).query_one(Choices).placed == placed
        await pilot.click(offset=place_of(app, "Backspace back"))
        assert practice(app).query_one(Choices).placed == placed[:1]


async def test_help_over_a_question_stops_the_clock_too(tmp_path: Path) -> None:
    timer = Hands(pace=0.0)
    app = table(tmp_path, "lighter-or-darker", timer=timer)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "question_mark")
        await pilot.pause()
        assert isinstance(app.screen, HelpScreen)
        timer.now += 500
        await pilot.press("escape")
        await pilot.pause()
        timer.now += 4
        await pilot.press("1")
        await pilot.pause()
        outcome = practice(app).outcome
        assert outcome is not None
        assert outcome.attempt.response_s == 4


# Stopping


async def stop_paused(pilot: Pilot[None]) -> None:
    await pilot.press("p", "escape")


async def stop_half_way(pilot: Pilot[None]) -> None:
    await choose(pilot, 0)
    await pilot.press("escape")


async def stop_at_the_reveal(pilot: Pilot[None]) -> None:
    await answer(pilot)
    await pilot.press("escape")


@pytest.mark.parametrize(
    ("stop", "answered"), [(stop_paused, 1), (stop_half_way, 1), (stop_at_the_reveal, 2)]
)
async def test_it_stops_at_any_moment_with_every_answer_kept(
    tmp_path: Path, stop: Callable[[Pilot[None]], Awaitable[None]], answered: int
) -> None:
    app = table(tmp_path, "hue-and-lean")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await answer(pilot)
        await pilot.press("enter")
        await pilot.pause()
        await stop(pilot)
        await pilot.pause()
        assert isinstance(app.screen, ClosingScreen)
        assert f"{answered} answered" in shown(app)
        assert len(kept(tmp_path)) == answered
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, TodayScreen)
        assert "1 of" in shown(app) or "2 of" in shown(app)


async def test_leaving_in_the_middle_of_a_question_loses_nothing(tmp_path: Path) -> None:
    app = table(tmp_path, "hue-and-lean")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await answer(pilot)
        await pilot.press("enter")
        await pilot.pause()
        await choose(pilot, 0)
        await pilot.press("ctrl+q")
    assert app.return_code == 0
    assert len(kept(tmp_path)) == 1


async def test_when_the_time_is_up_the_answer_is_still_told_and_then_it_closes(
    tmp_path: Path,
) -> None:
    timer = Hands(pace=0.0)
    app = table(tmp_path, "lighter-or-darker", timer=timer, minutes=2)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        timer.now += 200
        await pilot.press("1")
        await pilot.pause()
        assert practice(app).outcome is not None
        timer.now += 1
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, ClosingScreen)
        assert len(kept(tmp_path)) == 1


# A key pressed twice


async def test_a_key_pressed_twice_answers_once(tmp_path: Path) -> None:
    timer = Hands(pace=0.0)
    app = table(tmp_path, "grey-lean", timer=timer)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "1", "1")
        await pilot.pause()
        # The second 1 is not taken for the hue.
        assert len(practice(app).replies) == 1
        timer.now += 2 * DOUBLE_S
        await pilot.press("1")
        await pilot.pause()
        assert practice(app).outcome is not None
        assert len(kept(tmp_path)) == 1


async def test_a_reply_to_what_is_no_longer_asked_is_dropped(tmp_path: Path) -> None:
    app = table(tmp_path, "grey-lean")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        choices = practice(app).query_one(Choices)
        family = asked_now(app).choices[1].key
        # Two keys between two looks at the screen.
        choices.pick(1)
        choices.pick(0)
        await pilot.pause()
        assert practice(app).replies == ((family,),)


@pytest.mark.parametrize("key", ["enter", "space"])
async def test_enter_pressed_twice_neither_skips_a_reveal_nor_answers_the_next_question(
    tmp_path: Path, key: str
) -> None:
    timer = Hands(pace=0.0)
    app = table(tmp_path, "lighter-or-darker", timer=timer)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "down", "enter", key)
        await pilot.pause()
        screen = practice(app)
        assert screen.outcome is not None
        timer.now += 2 * DOUBLE_S
        await pilot.press(key, key, key)
        await pilot.pause()
        assert screen.outcome is None
        assert screen.session is not None
        assert screen.session.number == 2
        assert len(kept(tmp_path)) == 1


async def test_a_double_click_answers_once(tmp_path: Path) -> None:
    app = table(tmp_path, "grey-lean")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        x, y = place_of(app, f"1  {asked_now(app).choices[0].text}")
        await pilot.double_click(offset=(x, y))
        await pilot.pause()
        assert len(practice(app).replies) == 1


# Anything at all


async def test_no_run_of_keys_breaks_it_or_counts_an_answer_twice(tmp_path: Path) -> None:
    rng = random.Random(7)
    keys = [*"123456abdr", *["enter", "space", "backspace", "up", "down", "tab", "pageup"]] * 3
    keys += ["p", "question_mark", "escape", "ctrl+p"]
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        for _ in range(90):
            key = rng.choice(keys)
            if isinstance(app.screen, PracticeScreen):
                session = app.screen.session
                if session is not None and session.paused:
                    key = "p"
            elif not isinstance(app.screen, TodayScreen | ClosingScreen):
                key = "escape"
            elif key == "escape":
                key = "enter"
            await pilot.press(key)
        record = app.app_state.record
        assert record.count() == len(kept(tmp_path)) > 1
        assert record.replay() == record.skills()


async def test_where_the_scene_is_only_lent_it_is_taken_away(tmp_path: Path) -> None:
    app = table(tmp_path, "lighter-or-darker")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        assert painted(app)
        practice(app)._hide_scene()
        await pilot.pause()
        assert practice(app).query_one(Scene).swatches == ()
        assert painted(app) == set()


async def test_who_is_new_to_a_step_sees_help_until_two_are_right(tmp_path: Path) -> None:
    app = table(tmp_path, "nearest-start")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        for right, helped in ((True, True), (False, True), (True, True), (True, False)):
            assert ("Help: " in shown(app)) is helped
            question = practice(app).question
            assert question is not None
            key = str(question.facts["key"])
            wrong = next(one.key for one in asked_now(app).choices if one.key != key)
            await pilot.press((key if right else wrong).lower())
            await pilot.pause()
            assert ("answered with help" in shown(app)) is helped
            await pilot.press("enter")
            await pilot.pause()


@pytest.mark.parametrize("mouse", [True, False])
async def test_sure_is_said_by_one_more_key_where_it_is_asked_for(
    tmp_path: Path, mouse: bool
) -> None:
    app = table(tmp_path, "brighter-or-duller")
    app.app_state.record.set_setting("sure", True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        assert "I am sure" in shown(app)
        await press_hint(pilot, app, "I am sure", "full_stop", mouse)
        assert "you are sure" in shown(app)
        # Paused and gone on with, it still stands.
        await pilot.press("p", "full_stop", "p")
        await pilot.pause()
        assert "you are sure" in shown(app)
        await answer(pilot)
        await pilot.press("full_stop", "enter")
        await pilot.pause()
        assert "I am sure" in shown(app)
        await pilot.press("full_stop", "full_stop")
        await answer(pilot)
        said = [one.facts for one in app.app_state.record.attempts()]
    assert [isinstance(facts, dict) and facts[SURE] for facts in said] == [True, False]


async def test_sure_is_not_asked_unless_it_is_wanted(tmp_path: Path) -> None:
    app = table(tmp_path, "brighter-or-duller")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("full_stop")
        assert "I am sure" not in shown(app)
        assert "you are sure" not in shown(app)
        await answer(pilot)
        [one] = app.app_state.record.attempts()
    assert isinstance(one.facts, dict)
    assert SURE not in one.facts


@pytest.mark.parametrize(("kind", "hides"), [("handling", False), ("hue-and-lean", True)])
async def test_every_answer_is_hinted_only_where_some_are_hidden(
    tmp_path: Path, kind: str, hides: bool
) -> None:
    app = table(tmp_path, kind)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        await answer(pilot)
        await pilot.pause()
        assert ("l every answer" in lines(app)[-1]) is hides
