"""A whole course on paper: every day's sheet in its order, nothing cut, greys alone where asked."""

from __future__ import annotations

import re
import signal
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from html import unescape
from io import StringIO
from pathlib import Path

import pyte
import pytest
from click.testing import CliRunner, Result

import coach.teaching.paper.sheet as sheet_module
from coach.cli import cli
from coach.reports.printed.drawing import SIZES
from coach.reports.printed.lettering import width_mm
from coach.running.status_line import StatusLine
from coach.teaching.paper.by_hand import PlanToLay
from coach.teaching.paper.course import (
    UNGRADED,
    CourseSheets,
    course_answers_page,
    course_page,
    course_sheets,
)
from coach.teaching.paper.page import BY_HAND_ALONE, worksheet_page
from coach.teaching.paper.sheet import PaperDeck, PaperQuestion, in_colour
from decks.courses.course import Course
from decks.courses.course_pack import pack_course
from decks.deck import Target
from decks.starters import starter, starter_course
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from drills.layering.palette import Palette, prepare
from drills.pencils.sets import demo_set
from drills.questions.protocol import Kind, Question
from tests.first_question import first_question
from tests.pseudo_terminal import COACH, Terminal, surroundings

Regions = Callable[[Palette], tuple[str, ...]]

PALETTE = prepare(demo_set())
TEXT = re.compile(r'<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)"([^>]*)>([^<]*)</text>')
FILL = re.compile(r'fill="#(..)(..)(..)"')


def short_course(days: int = 2, asked: int = 3) -> Course:
    """The first month with fewer days and questions."""
    course = starter_course("first-month")
    return replace(
        course,
        decks=tuple(
            replace(
                one,
                deck=replace(
                    one.deck,
                    days=days,
                    items_a_day=asked,
                    steps=tuple(
                        replace(step, items_a_day=None)
                        for step in one.deck.steps
                        if step.day <= days
                    ),
                ),
            )
            for one in course.decks
        ),
    )


@cache
def sheets(grey: bool = False) -> CourseSheets:
    return course_sheets(short_course(), PALETTE, all_kinds(), grey)


def words_of(page: str) -> str:
    return " ".join(unescape(found[4]) for found in TEXT.findall(page))


def test_every_day_of_every_deck_has_its_sheet_in_the_course_s_order():
    made = sheets()
    assert [deck.title for deck, _ in made.decks] == [one.deck.title for one in made.course.decks]
    assert [[sheet.day for sheet in each] for _, each in made.decks] == [[1, 2]] * 4
    words = words_of(course_page(made, SIZES["a4"]))
    places = [words.index(f"Sheet {sheet.name},") for sheet in made.sheets]
    assert places == sorted(places)
    # The cover has a box to tick for each, and what each part needs.
    cover = words[: places[0]]
    assert all(sheet.name in cover for sheet in made.sheets)
    for one, (_, before) in zip(made.decks[1:], enumerate(made.decks), strict=False):
        assert f"After “{before[0].title}”" in cover
        assert one[0].title in cover
    # What lessons have the hand try stands on the sheet of its day.
    tries = [
        " ".join(step.on_paper.split())
        for deck, _ in made.decks
        for step in deck.steps
        if step.on_paper
    ]
    assert len(tries) >= 3
    assert all(f"By hand: {one}" in words for one in tries)


def test_its_sheets_are_those_of_its_decks_so_that_they_are_typed_in_as_they_are():
    for deck, each in sheets().decks:
        made = PaperDeck(deck, PALETTE, all_kinds())
        for sheet in each:
            assert made.named(sheet.name).name == sheet.name


def test_the_answers_are_to_the_same_sheets():
    words = words_of(course_answers_page(sheets(), SIZES["a4"]))
    for sheet in sheets().sheets:
        start = words.index(f"Sheet {sheet.name}")
        for one in sheet.questions:
            assert f"{one.number}. {one.key}" in words[start:]


@pytest.mark.parametrize("size", SIZES)
def test_nothing_is_cut_on_either_paper(size: str):
    paper = SIZES[size]
    for page in (course_page(sheets(), paper), course_answers_page(sheets(), paper)):
        assert f"@page {{ size: {paper.name}" in page
        found = TEXT.findall(page)
        assert len(found) > 50
        for x, y, tall, how, words in found:
            assert float(y) <= paper.height - 5
            if "text-anchor" not in how and "textLength" not in how:
                bold = "bold" in how
                end = float(x) + width_mm(unescape(words), float(tall), bold)
                assert end <= paper.width - 5, words


def test_a_print_for_greys_has_greys_alone():
    made = sheets(grey=True)
    assert list(made.sheets)
    for found in FILL.findall(course_page(made, SIZES["a4"])):
        assert len(set(found)) == 1


def test_of_a_colour_that_is_bare_paper_it_says_so_and_no_heading_stands_alone():
    white = Target("Bare", "#f7f5f0", (96.5, 0.0, 2.0), "yellow")
    deck = replace(starter("complements"), targets=(white,), families=(), kinds=("handling",))
    sheet = PaperDeck(deck, PALETTE, all_kinds()).sheet(1)
    assert isinstance(sheet.hand, PlanToLay)
    assert not sheet.hand.plan.moves
    words = words_of(worksheet_page(sheet, SIZES["a4"]))
    assert "make Bare" in words
    assert "leave this box bare" in words


def test_where_no_target_is_named_a_colour_is_chosen_that_pencils_make():
    deck = replace(starter("complements"), kinds=("make-the-match",), families=(), targets=())
    made = PaperDeck(deck, PALETTE, all_kinds())
    hands = [made.sheet(day).hand for day in (1, 2, 3)]
    assert all(isinstance(hand, PlanToLay) and hand.plan.moves for hand in hands)


# By command


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "c.toml").write_text(pack_course(short_course(1, 2)), encoding="utf-8")
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, ["course", *words])


def test_the_command_writes_both_over_nothing_that_is_there(home: Path):
    told = run("paper", "c.toml", "--html", "c.html", "--answers", "a.html", "--size", "letter")
    assert told.exit_code == 0, told.output
    assert "“A first month” on paper, 4 sheets." in told.output
    for name in ("c.html", "a.html"):
        assert "size: Letter" in (home / name).read_text(encoding="utf-8")
    (home / "mine.html").write_text("mine")
    assert isinstance(run("paper", "c.toml", "--html", "mine.html").exception, InputError)
    assert (home / "mine.html").read_text() == "mine"
    assert run("paper", "--html", "x.html").exit_code == 2
    assert isinstance(run("paper", "no.toml", "--html", "x.html").exception, InputError)


def test_a_sheet_without_questions_says_so_and_its_part_is_not_passed_on_paper():
    made = sheets(grey=True)
    words = words_of(course_page(made, SIZES["a4"]))
    bare = [sheet for sheet in made.sheets if not sheet.questions]
    assert bare, "greys ask nothing of leaning greys or of muting"
    assert words.count(BY_HAND_ALONE) == len(bare)
    # A name leads back to questions: where there are none it would lead nowhere.
    assert all(sheet.name not in words for sheet in bare)
    ungraded = [deck for deck, each in made.decks if not any(one.questions for one in each)]
    assert words.count(UNGRADED) == len(ungraded) > 0
    assert words.count("It is passed with") == len(made.decks) - len(ungraded)


# How long it takes, and what is said meanwhile


class _Tty(StringIO):
    def isatty(self) -> bool:
        return True


def test_how_far_it_has_come_is_one_line_on_a_terminal_and_is_taken_away():
    tty = _Tty()
    with StatusLine(tty) as line:
        course_sheets(short_course(2, 1), PALETTE, all_kinds(), told=line.say)
        while_on = tty.getvalue()
        said = while_on.split("\r")
        screen = pyte.Screen(80, 3)
        stream = pyte.Stream(screen)
        stream.feed(while_on)
        assert screen.display[0].strip() == said[-1].strip()
    wanted = [f"Week {deck} of 4{day}" for deck in (1, 2, 3, 4) for day in ("", *_DAYS)]
    assert [one.strip() for one in said if one] == wanted
    stream.feed(tty.getvalue().removeprefix(while_on))
    assert not "".join(screen.display).strip()


_DAYS = (", day 1 of 2", ", day 2 of 2")


def test_a_line_too_long_for_a_terminal_is_cut_for_it_could_not_be_taken_back():
    tty = _Tty()
    with StatusLine(tty) as line:
        line.say("long " * 40)
    screen = pyte.Screen(80, 3)
    pyte.Stream(screen).feed(tty.getvalue())
    assert not "".join(screen.display).strip()


def test_where_nobody_looks_it_says_nothing(home: Path):
    told = run("paper", "c.toml", "--html", "c.html")
    assert told.exit_code == 0
    assert told.stderr == ""
    piped = StringIO()
    with StatusLine(piped) as line:
        line.say("Week 1 of 4")
    assert piped.getvalue() == ""


def test_sheets_and_answers_are_not_one_file(home: Path):
    told = run("paper", "c.toml", "--html", "c.html", "--answers", str(home / "c.html"))
    assert isinstance(told.exception, InputError)
    assert not (home / "c.html").exists()


def test_an_interrupt_that_python_loses_stops_the_work_all_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Loses:
        def __del__(self) -> None:
            signal.raise_signal(signal.SIGINT)

    lost: list[object] = []
    monkeypatch.setattr(sys, "unraisablehook", lost.append)
    usual = signal.getsignal(signal.SIGINT)
    tty = _Tty()

    def work(more: bool) -> None:
        with StatusLine(tty) as line:
            line.say("one")
            made = Loses()
            del made
            if more:
                line.say("two")
                lost.clear()

    for more in (True, False):
        with pytest.raises(KeyboardInterrupt):
            work(more)
        assert lost
    assert "two" not in tty.getvalue()
    assert signal.getsignal(signal.SIGINT) is usual


def test_stopped_by_ctrl_c_it_leaves_what_was_there_and_nothing_half_written(tmp_path: Path):
    (tmp_path / "home").mkdir()
    old = f"<!DOCTYPE html>\n<!-- written by coach: worksheet -->{'old ' * 9}"
    (tmp_path / "c.html").write_text(old)
    asked = ("course", "paper", "--starter", "first-month", "--pocket")
    files = ("--html", str(tmp_path / "c.html"), "--answers", str(tmp_path / "a.html"))
    with Terminal(
        (*COACH, *asked, *files), surroundings(tmp_path / "home"), controlling=True
    ) as terminal:
        terminal.until_text("Week 1 of 4, day")
        terminal.press("\x03")
        assert terminal.until_gone() == 130
        assert "coach: stopped; nothing was written" in terminal.text
        assert "Week" not in terminal.text
        assert "Traceback" not in terminal.text
    assert (tmp_path / "c.html").read_text() == old
    assert sorted(one.name for one in tmp_path.iterdir()) == ["c.html", "home"]


def test_what_no_sheet_can_ask_is_not_drawn_for_one(monkeypatch: pytest.MonkeyPatch):
    """By ``screen_only``, which spares a course some seconds; it must be true of each kind."""
    drawn: list[str] = []
    real = sheet_module.on_paper

    def noted(kind: Kind, question: Question) -> PaperQuestion | None:
        drawn.append(kind.name)
        return real(kind, question)

    monkeypatch.setattr(sheet_module, "on_paper", noted)
    every = replace(starter("complements"), kinds=tuple(all_kinds()), families=("green",))
    made = PaperDeck(replace(every, items_a_day=60), PALETTE, all_kinds())
    asked = {one.question.kind for one in made.sheet(every.days).questions}
    offered = {task.kind for task in made.tasks}
    screen_only = {name for name, kind in all_kinds().items() if getattr(kind, "screen_only", 0)}
    assert {"make-the-match", "set-the-colour"} <= screen_only & offered
    assert set(drawn) == offered - screen_only
    assert asked == offered - screen_only, "a kind that never comes to paper should say so"
    for name in sorted(screen_only):
        assert real(all_kinds()[name], first_question(all_kinds()[name], PALETTE)) is None
    drawn.clear()
    made.sheet(every.days, grey=True)
    assert drawn
    assert all(not in_colour(all_kinds()[name]) for name in drawn)


def test_what_kinds_offer_of_the_pencils_is_asked_once_a_course(monkeypatch: pytest.MonkeyPatch):
    asked: list[str] = []
    palette = prepare(demo_set())
    for kind in all_kinds().values():
        real = kind.regions

        def noted(one: Palette, name: str = kind.name, real: Regions = real) -> tuple[str, ...]:
            asked.append(name)
            return real(one)

        monkeypatch.setattr(kind, "regions", noted)
    course = short_course(1, 1)
    course_sheets(course, palette, all_kinds())
    wanted = {kind for one in course.decks for kind in one.deck.kinds}
    assert sorted(asked) == sorted(wanted)
    assert len(wanted) < sum(len(one.deck.kinds) for one in course.decks)
