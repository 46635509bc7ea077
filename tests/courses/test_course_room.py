"""A course on screen: the student's page of it, the teacher's list, a day of it on paper."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.screens.teaching.course_decks import CourseScreen
from coach.screens.teaching.preview_deck import PreviewScreen
from coach.screens.teaching.write_deck import WriteDeckScreen, day_of
from coach.screens.words_page import PageScreen
from coach.session.assigned.course_work import as_sent, course_lines, courses, opening_words
from coach.teaching.adding_course import add_course, course_looked_at
from coach.teaching.paper.sheet import PaperDeck
from coach.teaching.paper.typed import read_typed
from decks.courses.levels import at_level
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from tests.courses.made import TEXT, course, stands, taken
from tests.pilots import TableApp, lines, shown, table


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the app was started, a course's file in it; its own home is elsewhere."""
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    (tmp_path / "here" / "weeks.toml").write_text(TEXT, encoding="utf-8")
    return tmp_path / "here"


def with_course(tmp_path: Path) -> TableApp:
    app = table(tmp_path)
    state = app.app_state
    add_course(state.record, course_looked_at(state.record, course(), state.clock()), state.clock())
    state.keep(state.ready_for)  # type: ignore[arg-type]
    return app


async def test_a_student_reads_the_whole_course_and_why_each_is_closed(tmp_path: Path):
    app = with_course(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "u course" in shown(app)
        await pilot.press("u")
        await pilot.pause()
        assert isinstance(app.screen, PageScreen)
        told = shown(app)
        assert "Three weeks (A. Teacher)" in told
        assert "Week 1 of 3: Value 0 of 4 today, day 1 of 2" in told
        assert "Week 2 of 3: Hue opens once “Value” is passed" in told
        assert "Week 3 of 3: Greys opens once “Value” and “Hue” are passed" in told


async def test_who_has_no_course_is_offered_none(tmp_path: Path):
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert "u course" not in shown(app)
        before = app.screen
        await pilot.press("u")
        await pilot.pause()
        assert app.screen is before


def test_what_a_teacher_is_told_of_closed_decks_is_what_the_student_reads(tmp_path: Path):
    (told,) = courses(tuple(stands(taken(tmp_path / "record.db", course())).values()))
    read = [line.split(": ", 2)[2] for line in course_lines(told)]
    sent = [opening_words(one) for one in as_sent(course()).decks]
    assert sent[0] == "open from the start"
    assert sent[1:] == read[1:] == ["opens once “Value” is passed", told.decks[2].closed_words]
    lighter = as_sent(at_level(course(), "lighter")).decks
    assert [one.deck.items_a_day for one in lighter] == [2, 2, 2]


async def test_a_teacher_opens_a_course_looks_at_a_deck_and_goes_on_with_it(
    folder: Path, tmp_path: Path
):
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("k", "w", "o", *"weeks.toml", "enter")
        await pilot.pause()
        assert isinstance(app.screen, CourseScreen)
        assert "Week 2 of 3: Hue, 4 questions a day for 2 days" in shown(app)
        assert "opens once “Value” and “Hue” are passed" in shown(app)
        await pilot.press("down", "down", "p")
        await pilot.pause()
        assert isinstance(app.screen, PreviewScreen)
        assert app.screen.deck.title == "Greys"
        await pilot.press("escape")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, WriteDeckScreen)
        assert app.screen.deck == course().decks[2].deck
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(app.screen, WriteDeckScreen)


async def test_a_day_goes_on_paper_from_the_deck_room_over_nothing_that_is_there(
    folder: Path, tmp_path: Path
):
    app = table(tmp_path)
    assert app.app_state.ready_for is not None
    deck, palette = course().decks[0].deck, app.app_state.ready_for.palette
    sheet = PaperDeck(deck, palette, all_kinds()).sheet(2)
    theirs = folder / f"value-{sheet.name}-sheet.html"
    theirs.write_text("dear", encoding="utf-8")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("k", "w", "s")
        await pilot.pause()
        assert "It still wants a title." in shown(app)
        await pilot.press("o", *"weeks.toml", "enter")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("s", "backspace", "3", "enter")
        await pilot.pause()
        assert "the deck has 2 days. Write its number." in shown(app)
        await pilot.press("backspace", "2", "enter")
        await app.workers.wait_for_complete()
        await pilot.pause()
        told = "".join(line.strip() for line in lines(app))
        assert f"Sheet {sheet.name}, {len(sheet.questions)} questions" in told
        assert f"value-{sheet.name}-sheet-2.html" in told
        assert f"value-{sheet.name}-answers.html" in told
    assert theirs.read_text(encoding="utf-8") == "dear"
    page = (folder / f"value-{sheet.name}-sheet-2.html").read_text(encoding="utf-8")
    assert sheet.name in page
    assert "written by coach: worksheet" in page
    # What comes back is graded by the deck's file, as for a sheet written by a command.
    key = " ".join(f"{one.number}{one.key}" for one in sheet.questions)
    again = PaperDeck(deck, palette, all_kinds()).named(sheet.name)
    assert all(one.grade.right for one in read_typed(again, key))


@pytest.mark.parametrize("text", ["", "0", "3", "-1", "1.5", "٢", "x", "9" * 5_000])
def test_a_day_that_the_deck_has_not_is_refused(text: str):
    deck = course().decks[0].deck
    assert day_of("2", deck) == 2
    with pytest.raises(InputError, match="the deck has 2 days"):
        day_of(text, deck)
