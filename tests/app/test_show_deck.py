"""A deck shown to a class: large, nothing given away, hands counted and told, nothing kept."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from click.testing import CliRunner
from scipy import stats
from textual.pilot import Pilot
from textual.widgets import Input

from coach.cli import cli
from coach.deck_preview import show_app
from coach.screens.teaching.preview_deck import PreviewScreen
from coach.screens.teaching.showing.asking import CALL_OUT, prompt
from coach.screens.teaching.showing.deck import HandChoices, ShowDeckScreen
from coach.screens.teaching.showing.hands import counted, read_hands, said_words
from coach.screens.teaching.write_deck import WriteDeckScreen
from coach.teaching.previewing import answered_rightly
from coach.widgets.scene import TO_SET, Scene
from decks.deck import Deck
from decks.starters import starter
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from drills.pencils.sets import demo_set, pocket_set
from drills.questions.protocol import IT_IS, YOU_SAY, Choice
from scores.classes.confusions import RISK, STUDENTS, hands_read
from tests.first_question import first_question
from tests.pilots import (
    FEW_COLOURS,
    TRUE_COLOUR,
    asked_hues,
    painted,
    place_of,
    ready_once,
    shown,
    table,
    until,
)

SIZES = [(80, 24), (120, 40), (200, 60)]


def deck_of(*kinds: str) -> Deck:
    """A deck of these drills."""
    two = ("yellow", "blue") if kinds == ("lighter-or-darker",) else ()
    return replace(starter("greys"), kinds=kinds, families=two, targets=(), steps=())


async def showing(pilot: Pilot[None], deck: Deck) -> ShowDeckScreen:
    screen = ShowDeckScreen(deck)
    await pilot.app.push_screen(screen)
    await until(pilot, lambda: screen.done)
    await pilot.pause()
    return screen


@pytest.mark.parametrize("size", SIZES)
async def test_a_question_fills_the_screen_then_its_answer_then_the_next(
    size: tuple[int, int], tmp_path: Path
):
    app = table(tmp_path)
    async with app.run_test(size=size) as pilot:
        screen = await showing(pilot, deck_of("lighter-or-darker"))
        one = screen.found[0]
        assert one.answer not in shown(app).replace(one.asks[0].choices[0].text, "", 1)
        assert one.about not in shown(app)
        assert painted(app) == asked_hues(one.asks[0])
        # Huge: swatches take the whole width and half of the screen, and more where it is large.
        scene = screen.query_one(Scene)
        assert scene.block_width(scene.size.width) == scene.size.width // 2
        assert scene.size.height >= size[1] * (0.45 if size[1] == 24 else 0.6)
        await pilot.press("pagedown")
        await pilot.pause()
        assert f"The answer: {one.answer}" in shown(app)
        assert one.about in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert screen.at == 1
        assert screen.asked is not None
        await pilot.press("left", "left")
        await pilot.pause()
        assert (screen.at, screen.asked) == (0, one.asks[0])


async def test_hands_are_counted_by_key_mouse_and_typing_and_told_with_the_answer(tmp_path: Path):
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await showing(pilot, deck_of("lighter-or-darker"))
        first = screen.found[0].asks[0]
        texts = [choice.text for choice in first.choices]
        await pilot.press("1", "1", "1", "2", "backspace")
        column, row = place_of(app, f"2  {texts[1]}")
        await pilot.click(offset=(column, row), times=2)
        await pilot.pause()
        assert f"3 said {texts[0]}, 2 said {texts[1]}." in shown(app)
        await pilot.click(offset=place_of(app, "t type the hands"))
        await pilot.press(*"12 3 4", "enter")
        await pilot.pause()
        assert "there are 2 choices" in shown(app)
        field = screen.query_one(Input)
        field.value = ""
        await pilot.press(*"12 3", "enter")
        await pilot.pause()
        assert f"12 said {texts[0]}, 3 said {texts[1]}." in shown(app)
        assert "guess" not in shown(app), "what it comes to would give the answer away"
        await pilot.press("enter")
        await pilot.pause()
        right = [choice.key for choice in first.choices].index(str(screen.found[0].answers[0][0]))
        told = "More were right than guessing" if right == 0 else "Chosen more than chance gives:"
        assert told in shown(app)
        # Counted for this screen alone: the next time it is there, and in no file.
        await pilot.press("left")
        await pilot.pause()
        assert "12 said" in shown(app)
        assert app.app_state.record.count() == 0
        settings = app.app_state.record.settings()
        await pilot.press("escape")
        assert app.app_state.record.settings() == settings
    app.app_state.record.close()


async def test_each_form_has_its_own_way(tmp_path: Path):
    app = table(tmp_path)
    wanted = ("value-order", "set-the-colour", "make-the-match", "hue-and-lean", "hold-in-mind")
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await showing(pilot, deck_of(*wanted))
        seen = {}
        for _ in wanted:
            seen[screen.found[screen.at].kind] = shown(app)
            kind, asked = screen.found[screen.at].kind, screen.asked
            assert asked is not None
            assert counted(asked) == ("t type the hands" in shown(app))
            if kind == "value-order":
                await pilot.press("a", "b", "backspace")
                await pilot.pause()
                assert "1 of 5 placed" in shown(app)
            elif kind == "hold-in-mind":
                screen._hide_scene()
                await pilot.pause()
                assert not painted(app)
                await pilot.click(HandChoices)
                await pilot.pause()
                assert screen.stage == 1
            await pilot.press("s")
            await pilot.pause()
        assert set(seen) == set(wanted)
        assert screen.at == 0, "after the last drill the first"
        assert TO_SET in seen["set-the-colour"]
        assert CALL_OUT in seen["make-the-match"]
        hue = next(at for at, one in enumerate(screen.found) if one.kind == "hue-and-lean")
        screen.to(hue)
        for stage in (0, 1):
            assert screen.stage == stage
            await pilot.press("2", "enter")
            await pilot.pause()
        # Of each stage the one choice that a hand was shown for.
        texts = [asked.choices[1].text for asked in screen.found[hue].asks]
        assert all(f"1 said {text}." in shown(app) for text in texts)
        assert shown(app).count(" said ") == len(texts) == 2


async def test_other_questions_are_asked_of_the_same_drills(tmp_path: Path):
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await showing(pilot, deck_of("lighter-or-darker"))
        before = screen.found
        await pilot.press("1", "o")
        await until(pilot, lambda: screen.done)
        await pilot.pause()
        assert [one.about for one in screen.found] == [one.about for one in before]
        assert screen.found[0].asks != before[0].asks
        assert " said " not in shown(app)
        # The same as the preview shows, at first.
        look = PreviewScreen(screen.deck)
        await app.push_screen(look)
        await until(pilot, lambda: look.done)
        assert look.found[0].asks == before[0].asks
        await pilot.press("c")
        await pilot.pause()
        assert isinstance(app.screen, ShowDeckScreen)


async def test_where_swatches_can_t_be_shown_it_says_where_they_can(tmp_path: Path):
    app = table(tmp_path, depth=FEW_COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await showing(pilot, deck_of("lighter-or-darker"))
        assert "In a browser they have it: coach serve" in shown(app)
        screen = await showing(pilot, deck_of("lighter-or-darker", "handling"))
        assert {one.kind for one in screen.found} == {"handling"}


async def test_the_room_where_decks_are_made_shows_one(tmp_path: Path):
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.push_screen(WriteDeckScreen())
        await pilot.press("c")
        await pilot.pause()
        assert "Choose drills first" in shown(app)
        await pilot.press("escape")
        await app.push_screen(WriteDeckScreen(deck_of("lighter-or-darker")))
        await pilot.pause()
        await pilot.click(offset=place_of(app, "c show to a class"))
        await pilot.pause()
        assert isinstance(app.screen, ShowDeckScreen)


async def test_the_command_s_app_shows_it_with_the_pencils_named_and_ends(tmp_path: Path):
    app = show_app(deck_of("lighter-or-darker"), pocket_set(), TRUE_COLOUR, tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        screen = app.screen
        assert isinstance(screen, ShowDeckScreen)
        await until(pilot, lambda: screen.done)
        names = {pencil.name for pencil in pocket_set().pencils}
        because = [line for one in screen.found if one.reveal for line in one.reveal.because]
        assert any(name in line for name in names for line in because)
        await pilot.press("escape")
        await pilot.pause()
        assert app.ending
    assert app.app_state.record.count() == 0
    app.app_state.record.close()


def test_without_a_terminal_the_command_says_so_in_a_line(monkeypatch, tmp_path: Path):
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    done = CliRunner().invoke(cli, ["deck", "show", "--starter", "greys"])
    assert isinstance(done.exception, InputError)
    assert "terminal to draw in" in str(done.exception)
    assert "\n" not in str(done.exception)


# What is said of hands


def test_of_what_nobody_said_nothing_is_said():
    choices = tuple(Choice(name, name) for name in ("green", "yellow", "orange"))
    assert said_words(choices, (2, 0, 1)) == "2 said green, 1 said orange."
    assert said_words(choices, (0, 0, 0)) == ""


@pytest.mark.parametrize("name", ["hue-and-lean", "grey-lean"])
def test_a_second_stage_says_to_a_class_what_the_first_was(name: str):
    kind = all_kinds()[name]
    asks, _ = answered_rightly(kind, first_question(kind, ready_once(demo_set()).palette))
    assert asks[1].prompt.startswith(YOU_SAY), "to one who chose"
    assert prompt(asks[1]) == asks[1].prompt.replace(YOU_SAY, IT_IS)
    assert prompt(asks[0]) == asks[0].prompt


@pytest.mark.parametrize(
    ("text", "problem"),
    [("", "no counts"), ("12", "2 choices"), ("1 -2", "no counts"), ("1 9999", "at most 999")],
)
def test_what_is_no_count_is_told_in_one_line(text: str, problem: str):
    with pytest.raises(InputError, match=problem):
        read_hands(text, 2)
    assert read_hands(" 12, 3 ", 2) == (12, 3)


def outcomes(hands: int, choices: int) -> Iterator[tuple[int, ...]]:
    return (counts for counts in product(range(hands + 1), repeat=choices) if sum(counts) == hands)


def chance_of(counts: tuple[int, ...], shares: list[float]) -> float:
    """The multinomial's."""
    return float(stats.multinomial.pmf(counts, sum(counts), shares))


@pytest.mark.parametrize(("hands", "choices"), [(5, 2), (24, 2), (9, 3), (12, 4)])
def test_guessing_hands_are_called_confused_within_the_risk(hands: int, choices: int):
    """All outcomes of guessing, each with its chance (scipy's): false alarms within RISK."""
    shares = [1 / choices] * choices
    alarm = sum(
        chance_of(counts, shares)
        for counts in outcomes(hands, choices)
        if hands_read(counts, 0).pulled
    )
    assert alarm <= RISK
    right = sum(
        chance_of(counts, shares)
        for counts in outcomes(hands, choices)
        if hands_read(counts, 0).right_told
    )
    assert 0 < right <= RISK


def test_hands_at_the_edge_of_accident_are_told_apart_as_scipy_s_binomial_does():
    for hands in range(3, 30):
        for wrong in range(hands + 1):
            beyond = stats.binom.sf(wrong - 1, hands, 0.5) <= RISK and wrong >= STUDENTS
            assert bool(hands_read((hands - wrong, wrong), 0).pulled) == beyond
            of_three = hands_read((10, wrong, hands - wrong), 0).pulled
            tail = 2 * stats.binom.sf(wrong - 1, hands, 0.5)
            assert (1 in of_three) == (tail <= RISK and wrong >= STUDENTS)
    assert hands_read((0, 5), 0).pulled == (1,)


def test_a_family_s_neighbours_take_its_wrong_hands_by_themselves():
    names = ("yellow", "yellow-green", "yellow-orange", "blue")
    assert hands_read((10, 6, 1, 0), 0).pulled == (1,), "evenly, six of seven is beyond accident"
    assert not hands_read((10, 6, 1, 0), 0, names).pulled
    assert hands_read((10, 0, 1, 6), 0, names).pulled == (3,)
    assert not hands_read((10, 0, 0, STUDENTS - 1), 0, names).pulled, "too few to be the class's"
    shares = [0.35, 0.35, 0.01]
    tail = 3 * stats.binom.sf(6 - 1, 7, shares[0] / sum(shares))
    assert tail > RISK
