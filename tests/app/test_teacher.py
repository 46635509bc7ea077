"""Between a student and a teacher, in the student's app: add work, share answers."""

from __future__ import annotations

import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest
from textual.widgets import Input

from coach.screens.classroom import ClassroomScreen
from coach.screens.practice.today import TodayScreen
from coach.screens.teaching.add import AddScreen, files_about
from coach.screens.teaching.answer import AnswerScreen
from coach.screens.teaching.ask import AskScreen
from coach.screens.teaching.preview_deck import PreviewScreen
from coach.screens.teaching.read_reply import ReplyScreen
from coach.screens.teaching.share import ShareScreen
from coach.screens.teaching.targets import TargetsScreen
from coach.screens.teaching.write_deck import WriteDeckScreen
from coach.teaching.question import AskedOfTeacher, load_question, photo_of, question_text
from coach.teaching.reply import Reply, ReplyStep, load_reply, reply_text
from coach.teaching.sharing import student_id
from decks.deck_file import load_deck
from decks.pack import pack
from decks.record_form import to_kept
from decks.starters import starter
from decks.template import TEMPLATE
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from drills.pictures import opening
from drills.pictures.opening import open_picture
from drills.pictures.picture import Picture
from scores.exchange.results_read import load_results
from scores.record.decks_added import decks_kept, put_deck
from tests.answers import answer
from tests.classes import STUDENTS
from tests.photos.made import filed, quarters
from tests.pilots import MORNING, TableApp, painted, rgb, shown, table


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the app was started; its own home is elsewhere, and so is the person's."""
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path / "nobody"))
    return tmp_path / "here"


def unhurried(app: TableApp) -> list[bool]:
    """Have the app only note that it would make the pencils ready: that takes its seconds."""
    asked: list[bool] = []
    app.make_ready = lambda: asked.append(app.app_state.ready_for is None)  # type: ignore[method-assign]
    return asked


async def test_a_deck_is_added_with_a_key_and_two_of_enter(folder: Path, tmp_path: Path):
    (folder / "greys.deck.toml").write_text(pack(starter("greys")), encoding="utf-8")
    app = table(tmp_path)
    made_ready = unhurried(app)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "t share" not in shown(app)
        await pilot.press("a")
        await pilot.pause()
        assert isinstance(app.screen, AddScreen)
        await pilot.press("enter")
        await pilot.pause()
        assert "What it changes: 8 questions a day" in shown(app)
        assert not decks_kept(app.app_state.record)
        await pilot.press("enter")
        await pilot.pause()
        assert [kept.title for kept in decks_kept(app.app_state.record)] == [starter("greys").title]
        assert isinstance(app.screen, TodayScreen)
        assert "is added." in shown(app)
        assert "t share" in shown(app)
        assert made_ready, "what the deck asks is worked out for these pencils"


async def test_a_path_is_written_and_what_is_wrong_with_it_is_told(folder: Path, tmp_path: Path):
    (folder / "broken.toml").write_text("title = Greys\n")
    app = table(tmp_path)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("a", *"broken.toml", "enter")
        await pilot.pause()
        assert "broken.toml" in shown(app)
        assert isinstance(app.screen, AddScreen)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, TodayScreen)


def test_only_files_that_end_as_a_teacher_s_are_offered_the_newest_first(tmp_path: Path):
    import os

    for age, name in enumerate(("a.deck.toml", "b.deck.toml", "mine.toml", "c.deck.toml")):
        (tmp_path / name).write_text("")
        os.utime(tmp_path / name, (1000 - age, 1000 - age))
    (tmp_path / "folder.deck.toml").mkdir()
    found = files_about((tmp_path, tmp_path / "not there"))
    assert [path.name for path in found] == ["a.deck.toml", "b.deck.toml", "c.deck.toml"]


async def test_answers_are_shared_with_a_key_under_a_name_asked_once(folder: Path, tmp_path: Path):
    app = table(tmp_path)
    deck = starter("greys")
    put_deck(app.app_state.record, deck.fingerprint, deck.title, to_kept(deck), MORNING)
    app.app_state.record.save(answer(1, deck=deck.fingerprint))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("t")
        await pilot.pause()
        assert isinstance(app.screen, ShareScreen)
        assert "Which name will your teacher know you by?" in shown(app)
        await pilot.press(*"Wren", "enter")
        await pilot.pause()
        assert "1 answer, 1 right, on 1 day." in shown(app)
        assert not list(folder.iterdir())
        await pilot.press("enter")
        await pilot.pause()
        assert "Written, 1 answer. Send your teacher this file" in shown(app)
        await pilot.press("enter", "escape", "t")
        await pilot.pause()
        assert "1 answer, 1 right" in shown(app)
    names = sorted(path.name for path in folder.iterdir())
    assert names == [
        "wren-the-colour-in-a-grey-2.results.json",
        "wren-the-colour-in-a-grey.results.json",
    ]
    found = load_results(folder / names[0], datetime(2026, 4, 1, tzinfo=UTC))
    assert (found.name, len(found.answers), found.pencils) == (
        "Wren",
        1,
        app.app_state.pencils_name,
    )


async def test_a_reply_shows_on_the_first_screen_until_it_is_read(folder: Path, tmp_path: Path):
    app = table(tmp_path)
    record = app.app_state.record
    step = ReplyStep("Lay [bold]green[/] lightly.", (50.0, -20.0, 20.0))
    reply = Reply(
        (student_id(record),),
        "Wren",
        "A. Teacher",
        "[red]Warm it.",
        (40.0, 15.0, 25.0),
        None,
        (step,),
    )
    (folder / "wren.reply.json").write_text(reply_text(reply), encoding="utf-8")
    unhurried(app)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "y reply" not in shown(app)
        await pilot.press("a", "enter")
        await pilot.pause()
        assert "[red]Warm it." in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "A. Teacher replied to you. y reads it." in shown(app)
        await pilot.press("y")
        await pilot.pause()
        assert isinstance(app.screen, ReplyScreen)
        assert "1. Lay [bold]green[/] lightly." in shown(app)
        assert rgb((40.0, 15.0, 25.0)) in painted(app)
        await pilot.press("escape")
        await pilot.pause()
        assert "replied to you" not in shown(app)
        assert "y reply" in shown(app)


async def test_a_question_is_asked_from_a_plan_with_a_key(folder: Path, tmp_path: Path):
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.plan_for((45.0, 15.0, 25.0))
        await pilot.pause()
        await app.workers.wait_for_complete()
        await pilot.press("k")
        await pilot.pause()
        assert isinstance(app.screen, AskScreen)
        await pilot.press(*"Why", "enter", "enter", *"Wren", "enter")
        await pilot.pause()
        assert "Written. Send your teacher this file" in shown(app)
    asked = load_question(folder / "wren-asks.question.json")
    assert (asked.note, asked.name, asked.wanted) == ("Why", "Wren", (45.0, 15.0, 25.0))


async def test_the_photo_of_a_question_is_opened_off_the_screen_s_own_thread(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    """24 megapixels take a second: the keys go on meanwhile."""
    (tmp_path / "leaf.png").write_bytes(filed(quarters()))
    opened: list[int] = []

    def noted(path: str) -> Picture:
        opened.append(threading.get_ident())
        return open_picture(path)

    monkeypatch.setattr(opening, "open_picture", noted)
    app = table(tmp_path)
    async with app.run_test(size=(80, 30)) as pilot:
        await app.push_screen(AskScreen((45.0, 15.0, 25.0)))
        await pilot.press(*"Why", "enter")
        app.screen.query_one("#photo", Input).value = str(tmp_path / "none.png")
        await pilot.press("enter", *"Wren", "enter")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "no such file" in shown(app)
        assert not (folder / "here" / "wren-asks.question.json").exists()
        app.screen.query_one("#photo", Input).value = str(tmp_path / "leaf.png")
        await pilot.press("enter")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "Written. Send your teacher this file" in shown(app)
    assert opened
    assert threading.get_ident() not in opened
    (asked,) = (load_question(path) for path in tmp_path.rglob("wren-asks.question.json"))
    assert photo_of(asked) is not None


async def test_a_teacher_replies_to_the_question_that_came_last(folder: Path, tmp_path: Path):
    student = STUDENTS["Wren"]
    asked = AskedOfTeacher(
        student, "Wren", (45.0, 15.0, 25.0), None, "Why?", "Pocket", to_csv(pocket_set())
    )
    (folder / "wren-asks.question.json").write_text(question_text(asked), encoding="utf-8")
    app = table(tmp_path)
    async with app.run_test(size=(80, 30)) as pilot:
        await pilot.press("k", "r")
        await pilot.pause()
        assert isinstance(app.screen, AnswerScreen)
        await pilot.press("enter")
        await pilot.pause()
        assert "Wren asks, with Pocket" in shown(app)
        await pilot.press(*"Slowly", "enter", "enter", "enter")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "Written for Wren." in shown(app)
    reply = load_reply(folder / "wren-reply.reply.json")
    assert (reply.to, reply.note) == ((student,), "Slowly")
    assert reply.steps


async def test_a_deck_is_made_by_choosing_and_looking(folder: Path, tmp_path: Path):
    """From nothing to the file to send, by keys alone; each question seen in colour first."""
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("k", "w")
        await pilot.pause()
        assert isinstance(app.screen, WriteDeckScreen)
        await pilot.press("w")
        assert "It still wants a title." in shown(app)
        await pilot.press("enter", *"Slates", "enter", "down", "enter", *"A. T.", "enter")
        await pilot.press(*["down"] * 3, "enter", "up", "enter", "escape")
        await pilot.pause()
        assert "Which way does the grey lean?" in shown(app)
        await pilot.press("down", "down", "enter")
        await pilot.pause()
        assert isinstance(app.screen, TargetsScreen)
        await pilot.press("n", "2", *"#64686c", "enter")
        await pilot.pause()
        await pilot.press(*"Wet slate", "enter")
        await pilot.pause()
        assert rgb(app.screen.deck.targets[0].lab) in painted(app)
        await pilot.press("escape")
        await pilot.pause()
        # None of the drills can be asked about a colour given: said by its title, then mended.
        assert "Make the match" in shown(app)
        await pilot.press("up", "up", "enter", *["down"] * 13, "enter", "escape")
        await pilot.press("down", "down", "down", "minus")
        await pilot.pause()
        assert app.screen.deck.items_a_day == 9  # type: ignore[attr-defined]
        await pilot.press("p")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert isinstance(app.screen, PreviewScreen)
        assert "Is it warm or cool?" in shown(app)
        assert painted(app)
        await pilot.press("enter")
        await pilot.pause()
        assert "The answer:" in shown(app)
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert "It is not written yet." in shown(app)
        await pilot.press("w")
        await pilot.pause()
        assert "Send your students this file" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, ClassroomScreen)
    deck = load_deck(folder / "slates.deck.toml").sound()
    assert (deck.title, deck.author, deck.kinds, deck.items_a_day) == (
        "Slates",
        "A. T.",
        ("grey-lean", "set-the-colour"),
        9,
    )
    assert [one.name for one in deck.targets] == ["Wet slate"]


async def test_a_deck_written_by_hand_is_opened_and_its_slips_told(folder: Path, tmp_path: Path):
    (folder / "mine.toml").write_text(TEMPLATE.replace('"Your name"', "Nobody"), encoding="utf-8")
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("k", "w", "o", *"mine.toml", "enter")
        await pilot.pause()
        assert 'Put quotes round it: author = "Nobody"' in shown(app)
        (folder / "mine.toml").write_text(TEMPLATE, encoding="utf-8")
        await pilot.press("enter")
        await pilot.pause()
        assert "Dark greyed greens" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, ClassroomScreen)
