"""A deck's colours that wait for the screen to be measured: which, how many, and what is said."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from coach.app_state import AppState
from coach.cli import cli
from coach.deck_preview import preview_app
from coach.screens.display.room import DisplayScreen
from coach.session.assigned.deck_questions import ready_deck
from coach.this_screen.kept import Known, keep
from decks.record_form import to_kept
from decks.starters import starter
from decks.targets import target_of
from decks.tasks import DeckTask
from decks.waiting import Waiting, waiting_for_screen, waiting_words
from drills.kinds import all_kinds
from drills.layering.palette import Palette
from drills.pencils.sets import demo_set
from drills.screen.known import ScreenKnown
from scores.record.decks_added import put_deck
from tests.palettes import palette_of
from tests.pilots import TRUE_COLOUR, TableApp, lines, ready_once, shown, table, without_examples

KINDS = all_kinds()
DECK = replace(starter("five-colours"), kinds=("hue-and-lean", "set-the-colour"))


def on(known: ScreenKnown) -> Palette:
    return replace(palette_of("demo"), screen_known=known)


@pytest.mark.parametrize("known", [False, "by eye"])
def test_what_waits_is_what_a_better_known_screen_asks(known: ScreenKnown) -> None:
    here, at_best = (ready_deck(DECK, on(one), KINDS) for one in (known, True))
    by_eye = {(task.kind, task.target) for task in ready_deck(DECK, on("by eye"), KINDS).tasks}
    missing = {(t.kind, t.target) for t in at_best.tasks} - {(t.kind, t.target) for t in here.tasks}
    assert missing
    assert {(one.kind, one.target) for one in here.waiting} == missing
    for one in here.waiting:
        assert one.by_eye is (known is False and (one.kind, one.target) in by_eye)
    assert at_best.waiting == ()


def test_what_no_screen_would_bring_does_not_wait_for_one() -> None:
    """A colour these pencils can't be asked about is missing, and not for the screen."""
    bright = target_of("Too bright", "#00ff00")
    deck = replace(DECK, kinds=("make-the-match",), targets=(bright,))
    assert ready_deck(deck, on(False), KINDS).tasks == ()
    assert waiting_for_screen(deck, (), on(False), KINDS) == ()


def test_one_asked_already_does_not_wait() -> None:
    every = [DeckTask(k, t.region, t.name) for k in DECK.kinds for t in DECK.targets]
    assert waiting_for_screen(DECK, every, on(False), KINDS) == ()
    assert len(waiting_for_screen(DECK, every[1:], on(False), KINDS)) <= 1


def waits(*said: str) -> list[Waiting]:
    return [Waiting(*one.split("/")[:2], by_eye=one.endswith("/eye")) for one in said]


def test_the_words_count_colours_and_say_what_brings_them() -> None:
    some = waits("a/Plum/eye", "b/Plum/eye", "a/Pear/eye", "b/Pear/profile")
    told = waiting_words(some, 5, False, "v")
    assert told.startswith("2 of its 5 colours wait in 2 drills: ")
    assert told.endswith("Two minutes of measuring bring 1, its profile all 2 (v).")
    assert waiting_words(some[:2], 5, False).endswith("Two minutes of measuring bring it.")
    assert "1 of its 5 colours waits in 2 drills" in waiting_words(some[:2], 5, False)
    assert "bring all 2." in waiting_words(some[:3], 5, False)
    assert "not enough; its profile brings it." in waiting_words(waits("a/Plum/profile"), 5, False)
    eye = waiting_words(waits("a/Plum/profile"), 5, True, "v")
    assert "measured by eye" in eye
    assert eye.endswith("Its profile brings them (v).")
    assert waiting_words((), 5, False) == ""


def assigned(tmp_path: Path) -> TableApp:
    app = table(tmp_path)
    state: AppState = app.app_state
    put_deck(state.record, DECK.fingerprint, DECK.title, to_kept(DECK), state.clock())
    get_ready(state)
    return app


def get_ready(state: AppState) -> None:
    state.keep(ready_once(demo_set(), (DECK,), None, (), state.screen_known))


async def test_today_says_it_and_leads_to_measuring(tmp_path: Path) -> None:
    app = assigned(tmp_path)
    count = len({one.target for one in ready_deck(DECK, on(False), KINDS).waiting})
    async with app.run_test(size=(80, 24)) as pilot:
        assert f"“{DECK.title}”: {count} of its 5 colours wait in 2 drills" in shown(app)
        assert "v measure this screen" in shown(app)
        await pilot.press("v")
        await pilot.pause()
        assert isinstance(app.screen, DisplayScreen)
        keep(app.app_state.record, "desk", Known("wide"))
        get_ready(app.app_state)
        await pilot.press("escape")
        await pilot.pause()
        assert "of its 5 colours" not in shown(app)
        assert not any("v measure" in line for line in lines(app))


async def test_a_deck_done_for_today_waits_for_nothing(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)):
        assert "of its" not in shown(app)
        assert "v measure" not in shown(app)


async def test_a_preview_goes_by_the_teachers_own_screen_and_offers_no_measuring(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.setenv("COACH_HOME", str(home))
    for known, told in ((None, True), (Known("wide"), False)):
        if known is not None:
            from coach.home import record_path
            from scores.record.record import Record

            with_own = Record.open(record_path())
            keep(with_own, "desk", known)
            with_own.close()
        folder = tmp_path / f"preview-{told}"
        folder.mkdir()
        state = preview_app(DECK, demo_set(), TRUE_COLOUR, folder).app_state
        assert (state.screen_known is False) is told
        without_examples(state.record)
        get_ready(state)
        app = TableApp(state)
        async with app.run_test(size=(80, 24)):
            assert ("of its 5 colours wait" in shown(app)) is told
            assert "v measure" not in shown(app)
        state.record.close()


def test_check_and_preview_tell_a_teacher(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    file = str(tmp_path / "five.toml")
    runner = CliRunner()
    assert runner.invoke(cli, ["deck", "new", file, "--starter", "five-colours"]).exit_code == 0
    for command in (["deck", "check", file], ["deck", "preview", file, "--text"]):
        told = runner.invoke(cli, command).output
        assert "Before a student has measured their screen, 4 of its 5 colours wait" in told
    greys = ["deck", "preview", "--starter", "first-week", "--text"]
    assert "measured their screen" not in runner.invoke(cli, greys).output
