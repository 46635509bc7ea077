"""The solved question before a new one, as a learner looks at it: by key and by mouse."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from coach.app import CoachApp
from coach.screens.help import HelpScreen
from coach.screens.practice.example import PAUSED, ExampleScreen
from coach.screens.practice.question import PracticeScreen
from coach.widgets.choices import DOUBLE_S, Choices
from coach.widgets.results import ResultRows
from drills.questions.protocol import IT_IS, YOU_SAY
from tests.pilots import Hands, asked_hues, lines, painted, place_of, shown, table, told_hues

KINDS = ("lighter-or-darker", "nearest-start")


def example(pilot: Pilot[None]) -> ExampleScreen:
    assert isinstance(pilot.app.screen, ExampleScreen)
    return pilot.app.screen


def session(pilot: Pilot[None]):  # type: ignore[no-untyped-def]
    return example(pilot)._session


async def begun(pilot: Pilot[None]) -> ExampleScreen:
    await pilot.press("enter")
    await pilot.pause()
    return example(pilot)


async def test_it_is_gone_through_step_by_step_and_the_question_follows(tmp_path: Path) -> None:
    app = table(tmp_path, "nearest-start", examples=True)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begun(pilot)
        solved = screen._solved
        assert lines(app)[0].strip().startswith("An example: Nearest start · 1 of 3")
        for at, step in enumerate(solved.steps):
            assert screen.at == at
            assert " ".join(step.words.split()) in shown(app)
            assert " ".join(step.asked.prompt.split()) in shown(app)
            assert painted(app) == asked_hues(step.asked)
            await pilot.press("enter")
            await pilot.pause()
        assert f"The answer: {solved.answer}" in shown(app)
        assert painted(app) <= told_hues(solved.reveal)
        assert "(the best)" not in shown(app)
        assert "(best)" in shown(app)
        assert "yours" not in shown(app)
        await pilot.press("left")
        await pilot.pause()
        assert screen.at == len(solved.steps) - 1
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, PracticeScreen)
        assert app.screen.question is not None
        assert app.screen.question.facts != solved.question.facts
        assert app.app_state.record.count() == 0


async def test_one_key_skips_it_and_it_does_not_come_again(tmp_path: Path) -> None:
    app = table(tmp_path, "nearest-start", examples=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, PracticeScreen)
        assert app.screen.query_one(Choices).asked is not None
        await pilot.press("escape")
        await pilot.pause()
        await pilot.press(*["enter"] * 2)
        await pilot.pause()
        assert not isinstance(app.screen, ExampleScreen)


async def test_a_key_pressed_twice_turns_one_page(tmp_path: Path) -> None:
    hands = Hands(pace=0.0)
    app = table(tmp_path, "nearest-start", timer=hands, examples=True)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begun(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert screen.at == 0, "the key that began the session, pressed twice"
        for at in range(1, screen.steps):
            hands.now += 2 * DOUBLE_S
            await pilot.press("enter", "space", "right")
            await pilot.pause()
            assert screen.at == at
        assert app.screen is screen


async def test_nothing_pressed_in_it_answers(tmp_path: Path) -> None:
    app = table(tmp_path, "nearest-start", examples=True)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begun(pilot)
        await pilot.press("a", "b", "1", "2", "d")
        await pilot.click(Choices, offset=(2, 1))
        await pilot.pause()
        assert app.screen is screen
        assert screen.at == 0
        await pilot.click(offset=place_of(app, "Enter go on"))
        await pilot.pause()
        assert screen.at == 1
        assert app.app_state.record.count() == 0


async def test_its_time_is_the_sessions_and_a_pause_is_not(tmp_path: Path) -> None:
    hands = Hands(pace=0.0)
    app = table(tmp_path, "nearest-start", timer=hands, examples=True)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begun(pilot)
        own = screen._session
        hands.now += 20
        assert own.elapsed == 20
        await pilot.press("p")
        await pilot.pause()
        assert PAUSED in shown(app)
        assert not painted(app)
        hands.now += 500
        await pilot.press("enter", "p", "question_mark")
        await pilot.pause()
        assert isinstance(app.screen, HelpScreen)
        hands.now += 500
        await pilot.press("escape")
        await pilot.pause()
        assert example(pilot).at == 0
        hands.now += 5
        assert own.elapsed == 25
        await pilot.press("escape")
        await pilot.pause()
        hands.now += 3
        assert own.elapsed == 28
        assert not own.paused


@pytest.mark.parametrize("large", [False, True])
async def test_a_colour_to_set_is_shown_from_where_it_stands(tmp_path: Path, large: bool) -> None:
    app = table(tmp_path, "set-the-colour", examples=True)
    app.app_state.record.set_setting("large", large)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begun(pilot)
        assert painted(app) == asked_hues(screen._solved.steps[0].asked)
        await pilot.press("enter")
        await pilot.pause()
        assert "From where it stands it has to become" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert screen.query_one(ResultRows).display
        assert "you" not in screen.query_one(ResultRows).told.because.lower()


async def test_a_step_is_done_and_the_rest_is_asked(tmp_path: Path) -> None:
    """The first question after it: the family is told, and its lean is asked."""
    app: CoachApp = table(tmp_path, "hue-and-lean", examples=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, PracticeScreen)
        assert app.screen.question is not None
        family = app.screen.question.facts["family"]
        assert app.screen.replies == ((family,),)
        assert f"Done for you: {family}." in shown(app)
        await pilot.press("1")
        await pilot.pause()
        assert app.screen.outcome is not None
        assert app.screen.outcome.attempt.chance == 1.0


async def test_a_match_shown_is_nobodys_and_names_no_key_that_does_nothing(tmp_path: Path) -> None:
    app = table(tmp_path, "make-the-match", examples=True)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begun(pilot)
        while screen.at < screen.steps - 1:
            assert "yours" not in shown(app)
            assert " d when" not in shown(app)
            await pilot.press("enter")
            await pilot.pause()


async def test_what_was_said_for_a_learner_is_told_as_a_fact(tmp_path: Path) -> None:
    app = table(tmp_path, "hue-and-lean", examples=True)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begun(pilot)
        stages = [step.asked for step in screen._solved.steps]
        assert any(asked.prompt.startswith(YOU_SAY) for asked in stages)
        for asked in stages:
            assert " ".join(asked.as_fact.split()) in shown(app)
            await pilot.press("enter")
            await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, PracticeScreen)
        # The family is told, as help: the learner said nothing yet.
        assert app.screen.replies
        assert IT_IS in shown(app)
        assert YOU_SAY not in shown(app)
