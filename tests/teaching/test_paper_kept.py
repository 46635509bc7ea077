"""What is typed of worksheets is kept: once, the later of two, counted for passing and no more."""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.reports.classes.brief import brief_of
from coach.reports.classes.brief_page import brief_lines
from coach.reports.classes.kinds import kind_scales, kind_titles
from coach.reports.classes.page import page, report_of
from coach.session.assigned.deck_progress import standing
from coach.teaching.paper.keeping import keep_for_student, keep_own, kept_deck
from coach.teaching.paper.sheet import LETTERS, PaperDeck, Worksheet
from coach.teaching.paper.typed import Typed, read_typed
from coach.teaching.sharing import made_of
from decks.deck import Deck
from decks.pack import pack
from decks.record_form import to_kept
from decks.starters import starter
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from drills.layering.palette import prepare
from drills.pencils.sets import demo_set
from scores.classes.people import join, only_one
from scores.classes.standings import class_standing
from scores.classes.store import ClassBook
from scores.classes.views import overview, student_page
from scores.exchange.results_read import ResultsFile, read_results
from scores.exchange.results_written import digest_of
from scores.progress.on_paper import due
from scores.record.decks_added import decks_kept, put_deck, tally
from scores.record.forgetting import forget_deck
from scores.record.queries import latest_paper_day, reading_seconds
from scores.record.record import Record
from scores.upkeep.merge import merge
from tests.answers import answer
from tests.pilots import shown, table, until

PALETTE = prepare(demo_set())
NOW = datetime(2026, 3, 10, 18, 0, tzinfo=UTC)
DECK: Deck = replace(
    starter("values"),
    kinds=("lighter-or-darker",),
    items_a_day=4,
    days=2,
    pass_level=0.5,
    steps=(),
)


def sheet_of(day: int = 1, deck: Deck = DECK) -> Worksheet:
    return PaperDeck(deck, PALETTE, all_kinds()).sheet(day, grey=True)


SHEETS = {day: sheet_of(day) for day in (1, 2)}


def wrong_letter(sheet: Worksheet, at: int) -> str:
    one = sheet.questions[at]
    letters = LETTERS[: len(one.first.choices)]
    return next(letter for letter in letters if letter != one.key)


def typed_of(day: int = 1, wrong: int = 0) -> list[Typed]:
    """A sheet's answers, the first ``wrong`` of them wrong."""
    sheet = SHEETS[day]
    letters = [
        wrong_letter(sheet, at) if at < wrong else one.key for at, one in enumerate(sheet.questions)
    ]
    numbered = zip(sheet.questions, letters, strict=True)
    return read_typed(sheet, " ".join(f"{one.number}{letter}" for one, letter in numbered))


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Record]:
    made = Record.open(tmp_path / "record.db")
    put_deck(made, DECK.fingerprint, DECK.title, to_kept(DECK), NOW)
    made.set_setting("student", "7d444840-9dc0-11d1-b245-5ffdce74fad2")
    yield made
    made.close()


def own(record: Record, day: int = 1, wrong: int = 0, at: datetime = NOW, on: Any = None):
    kept = kept_deck(record, DECK)
    assert kept is not None
    return keep_own(record, kept, SHEETS[day], typed_of(day, wrong), on, at)


# In one's own record


def test_typed_twice_it_adds_nothing_and_typed_anew_the_later_counts(record: Record):
    count = len(SHEETS[1].questions)
    assert count >= 3
    first = own(record, wrong=2)
    assert (first.new, first.changed, first.known) == (count, 0, 0)
    again = own(record, wrong=2, at=NOW + timedelta(days=1))
    assert (again.new, again.changed, again.known) == (0, 0, count)
    assert record.count() == count
    mended = own(record, wrong=1, at=NOW + timedelta(hours=1))
    assert (mended.new, mended.changed, mended.known) == (0, 1, count - 1)
    # The older is not lost, and does not count.
    assert record.count() == count + 1
    made = tally(record, DECK.fingerprint)
    assert (made.answers, made.on_paper) == (count, count)
    assert sum(score == 1.0 for score in made.scores) == count - 1
    # And back to what it was at first.
    assert own(record, wrong=2, at=NOW + timedelta(hours=2)).changed == 1
    assert sum(score == 1.0 for score in tally(record, DECK.fingerprint).scores) == count - 2


def test_it_counts_for_days_and_passing_and_teaches_nothing_of_the_eye(record: Record):
    before = record.skills(), record.kind_times(), reading_seconds(record)
    own(record, 1, on=date(2026, 3, 8))
    own(record, 2, on=date(2026, 3, 9))
    (stands,) = standing(record, "", "", NOW)
    assert stands.tally.days == {
        date(2026, 3, 8): len(SHEETS[1].questions),
        date(2026, 3, 9): len(SHEETS[2].questions),
    }
    assert stands.days_done == 2
    assert stands.passed
    assert "of its answers on paper" in stands.words
    assert (record.skills(), record.kind_times(), reading_seconds(record)) == before
    assert record._rows("SELECT count(*) FROM trials") == [(0,)]
    record.rebuild_skills()
    assert record._rows("SELECT count(*) FROM trials") == [(0,)]
    # No swatch was laid: that is asked for as before.
    assert latest_paper_day(record) is None
    assert due(record, date(2026, 3, 30))


def test_below_the_pass_level_it_is_not_passed(record: Record):
    for day in (1, 2):
        own(record, day, wrong=len(SHEETS[day].questions), on=date(2026, 3, 7 + day))
    (stands,) = standing(record, "", "", NOW)
    assert stands.days_done == 2
    assert not stands.passed


def test_records_of_two_machines_merge_in_either_order(tmp_path: Path, record: Record):
    other = Record.open(tmp_path / "b" / "record.db")
    put_deck(other, DECK.fingerprint, DECK.title, to_kept(DECK), NOW)
    other.set_setting("student", record.setting("student"))
    own(record, wrong=2, at=NOW)
    own(other, wrong=1, at=NOW + timedelta(hours=1))
    own(other, 2, at=NOW + timedelta(hours=1))
    record.close()
    other.close()
    found = []
    for at, (first, second) in enumerate(permutations([tmp_path, tmp_path / "b"])):
        both = Record.open(tmp_path / f"both{at}" / "record.db")
        for source in (first, second, first):
            merge(both, source / "record.db")
        found.append(tally(both, DECK.fingerprint))
        both.close()
    assert found[0] == found[1]
    counts = [len(SHEETS[day].questions) for day in (1, 2)]
    assert found[0].answers == sum(counts)
    assert sum(score == 1.0 for score in found[0].scores) == sum(counts) - 1


def test_forgetting_a_deck_forgets_its_sheets(record: Record):
    own(record)
    count = len(SHEETS[1].questions)
    assert forget_deck(record, DECK.fingerprint) == count
    assert record.count() == 0
    journal = record.path.with_suffix(".journal").read_text(encoding="utf-8")
    assert SHEETS[1].name not in journal


# In the class


@pytest.fixture
def book(tmp_path: Path) -> Iterator[ClassBook]:
    made = ClassBook.open(tmp_path / "class.db")
    yield made
    made.close()


def student(book: ClassBook, name: str, day: int = 1, wrong: int = 0, at: datetime = NOW):
    return keep_for_student(book, DECK, name, SHEETS[day], typed_of(day, wrong), None, at)[1]


def test_a_teacher_types_it_for_one_who_has_no_computer(book: ClassBook):
    count = len(SHEETS[1].questions)
    book.expect(["Wren", "Teal"])
    assert student(book, "Wren", wrong=1).new == count
    assert student(book, "wren ", wrong=1, at=NOW + timedelta(days=1)).known == count
    view = overview(book, DECK.fingerprint)
    assert view.not_begun == ("Teal",)
    (line,) = view.students
    assert (line.name, line.tries) == ("Wren", 0)
    assert line.on_paper is not None
    assert (line.on_paper.answers, line.on_paper.right) == (count, count - 1)
    assert student(book, "Wren", at=NOW + timedelta(hours=1)).changed == 1
    (line,) = overview(book).students
    assert line.on_paper is not None
    assert line.on_paper.right == count
    # What was typed first is there still, and nothing is read of a level from any of it.
    held = book.db.execute("SELECT count(*) FROM paper_answers").fetchone()
    assert held == (count + 1,)
    assert not class_standing(book, kind_scales()).students
    for name in ("marks", "level_marks", "mixups", "answers"):
        assert book.db.execute(f"SELECT count(*) FROM {name}").fetchone() == (0,)


def test_a_class_says_passed_as_the_student_s_own_record_does(record: Record, book: ClassBook):
    for day in (1, 2):
        on = date(2026, 3, 7 + day)
        own(record, day, on=on)
        keep_for_student(book, DECK, "Wren", SHEETS[day], typed_of(day), on, NOW)
    (stands,) = standing(record, "", "", NOW)
    (line,) = overview(book, DECK.fingerprint).students
    assert stands.passed is line.passed is True
    assert line.days_done == stands.days_done == 2


def results(record: Record, name: str = "Wren") -> ResultsFile:
    (kept,) = decks_kept(record)
    made = made_of(record, kept, name, NOW)
    return read_results(made.text.encode(), "results", NOW)


def test_a_student_s_file_carries_it_beside_the_screen_s(record: Record, book: ClassBook):
    record.save(answer(1, deck=DECK.fingerprint))
    own(record, wrong=1)
    (kept,) = decks_kept(record)
    made = made_of(record, kept, "Wren", NOW)
    count = len(SHEETS[1].questions)
    assert (made.answers, made.on_paper) == (1, count)
    told = results(record)
    assert len(told.answers) == 1
    assert len(told.on_paper) == count
    assert book.add(told, "a").new == 1 + count
    assert book.add(told, "a").new == 0
    # The teacher has typed the same sheet: it is the same answers.
    assert student(book, "Wren", wrong=1).known == count
    (line,) = overview(book).students
    assert (line.tries, line.on_paper and line.on_paper.answers) == (1, count)


def test_files_of_any_order_make_the_same_class(tmp_path: Path, record: Record):
    own(record, wrong=2)
    early = results(record)
    own(record, wrong=1, at=NOW + timedelta(minutes=1))
    late = results(record)
    found = set()
    for at, files in enumerate(permutations([early, late, early])):
        book = ClassBook.open(tmp_path / f"class{at}.db")
        for file in files:
            book.add(file, "x")
        (line,) = overview(book).students
        found.add(line.on_paper)
        assert student_page(book, line.id) is not None
        book.close()
    (one,) = found
    assert one is not None
    assert one.right == len(SHEETS[1].questions) - 1


def test_two_machines_that_are_one_student_count_a_sheet_once(book: ClassBook, record: Record):
    own(record)
    book.add(results(record, "Wren A"), "a")
    student(book, "Wren B")
    join(book, only_one(book, "Wren A"), only_one(book, "Wren B"))
    (line,) = overview(book).students
    assert line.on_paper is not None
    assert line.on_paper.answers == len(SHEETS[1].questions)
    book.drop(line.id)
    assert book.db.execute("SELECT count(*) FROM paper_answers").fetchone() == (0,)


def test_report_brief_and_class_tell_it_beside(book: ClassBook):
    student(book, "Wren", wrong=1)
    count = len(SHEETS[1].questions)
    told = f"{count} answers on paper, {count - 1} right"
    titles = kind_titles()
    text = page(report_of(book, kind_scales(), ""), NOW, titles, "0")
    assert f"Wren: {told}" in text
    view = overview(book)
    brief = brief_of("x", class_standing(book, kind_scales()), (), titles, view.students)
    assert any(told in line for line in brief_lines(brief, 80, swatches=False))


async def test_the_class_s_screen_has_one_who_only_wrote(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    with closing(ClassBook.open(tmp_path / "class.db")) as book:
        student(book, "Wren", wrong=1)
    count = len(SHEETS[1].questions)
    told = f"{count} answers on paper, {count - 1} right"
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("k")
        await until(pilot, lambda: f"Wren: {told}" in shown(app))
        assert "Wren on paper" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert f"{told}, mean grade" in shown(app)
    app.app_state.record.close()


HOSTILE = [
    ("no list", "no list"),
    ([{}], "answer 1 on paper"),
    ("sheet", "<b>"),
    ("number", 0),
    ("number", True),
    ("letters", "abcdefghi"),
    ("typed", "yesterday"),
    ("typed", "9999-12-31T23:59:59-23:59"),
]


@pytest.mark.parametrize("spoilt", HOSTILE, ids=[str(one) for one in HOSTILE])
def test_a_hostile_file_is_told_in_one_line(record: Record, spoilt: tuple[Any, Any]):
    own(record)
    (kept,) = decks_kept(record)
    inner = made_of(record, kept, "Wren", NOW).results
    said: Any = json.loads(json.dumps(inner))
    what, value = spoilt
    if what in ("sheet", "number", "letters", "typed"):
        statement = said["on_paper"][0]
        (more,) = statement["context"]["extensions"].values()
        more["on_paper"][what] = value
    else:
        said["on_paper"] = what
    text = json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    whole = f'{{"digest":"{digest_of(text)}","results":{text}}}'
    with pytest.raises(InputError, match=r"paper|number|sheet") as told:
        read_results(whole.encode(), "results", NOW)
    assert "\n" not in str(told.value)


def test_a_class_of_before_there_was_paper_is_brought_up_to_date(tmp_path: Path, book: ClassBook):
    student(book, "Wren")
    book.db.execute("DROP TABLE paper_answers")
    book.db.execute("PRAGMA user_version = 5")
    book.db.execute("DELETE FROM _sqlite_migrations WHERE name = 'm006_on_paper'")
    book.close()
    again = ClassBook.open(tmp_path / "class.db")
    assert student(again, "Wren").new == len(SHEETS[1].questions)
    again.close()
    with sqlite3.connect(tmp_path / "class.db") as db:
        assert db.execute("PRAGMA user_version").fetchone() == (6,)


# By command


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "v.toml").write_text(pack(DECK), encoding="utf-8")
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


def test_the_command_keeps_for_oneself_and_for_a_student(home: Path):
    sheet = SHEETS[1]
    keys = " ".join(f"{one.number}{one.key}" for one in sheet.questions)
    count = len(sheet.questions)
    words = ("deck", "typed", sheet.name, keys, "v.toml")
    assert "Not kept" in run(*words).output
    assert run("deck", "add", "v.toml", "--yes").exit_code == 0
    assert "Not kept" not in run(*words, "--grade-only").output
    assert f"{count} kept." in run(*words, "--written", "2026-03-02").output
    assert f"{count} kept before." in run(*words).output
    assert f"{count} of its answers on paper" in run("deck", "list").output
    assert f"for Wren: {count} kept." in run(*words, "--student", "Wren").output
    told = run("class", "show").output
    assert re.search(rf"Wren +{count} answers on paper, {count} right", told)
    for bad in ("soon", "2999-01-01", "1999-01-01"):
        assert isinstance(run(*words, "--written", bad).exception, InputError)
    assert run(*words, "--grade-only", "--student", "W").exit_code == 2
