"""A deck keeps its identity when words in it change: for the student, and for the class."""

from __future__ import annotations

import itertools
import json
import re
from collections.abc import Iterable
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.session.assigned.deck_progress import standing
from decks.deck_file import load_deck
from decks.record_form import before_of, from_kept
from drills.basics.errors import InputError
from drills.basics.json_values import json_text
from scores.classes.store import ClassBook
from scores.classes.store_tables import STEPS
from scores.classes.views import decks, overview
from scores.exchange.deck_meant import deck_meant
from scores.exchange.results_written import DeckNamed, digest_of
from scores.exchange.same_work import same_work
from scores.record.decks_added import decks_kept
from scores.record.record import Record
from tests.answers import START, answer
from tests.classes import attempts, content, read, results_file

ASKS = "a" * 64
OLD = DeckNamed("1" * 64, "Frist week", "A. Teacher", 4, 2, date(2026, 3, 9), 0.7, ASKS)
NEW = replace(OLD, fingerprint="2" * 64, title="First week", due=date(2026, 3, 16))
OTHER = replace(OLD, fingerprint="3" * 64, title="Greens", questions="b" * 64)


@dataclass(frozen=True)
class Worded:
    title: str
    author: str = "A. Teacher"
    questions: str = ASKS


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (Worded("Frist week"), Worded("First week"), True),
        (Worded("First  Week"), Worded("first week", author="a. teacher"), True),
        (Worded("Week 1: greens"), Worded("Week 5: greens"), False),
        (Worded("First week"), Worded("Revision before the show"), False),
        (Worded("First week"), Worded("First week", author="B. Teacher"), False),
        (Worded("First week"), Worded("First week", questions="b" * 64), False),
        (Worded("First week", questions=""), Worded("First week", questions=""), False),
    ],
)
def test_which_decks_are_one_work(one: Worded, other: Worded, same: bool) -> None:
    assert same_work(one, other) is same_work(other, one) is same


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    run("deck", "new", "mine.toml", "--starter", "first-week")
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, list(words))


def reworded(home: Path, *pairs: tuple[str, str]) -> None:
    text = (home / "mine.toml").read_text(encoding="utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    (home / "mine.toml").write_text(text, encoding="utf-8")


def test_questions_say_which_version_it_is_and_words_don_t(home: Path) -> None:
    first = load_deck("mine.toml").sound()
    reworded(home, ("Welcome.", "Welcome, all."), ("days = 7", "days = 8"))
    second = load_deck("mine.toml").sound()
    assert (first.questions == second.questions, first.fingerprint == second.fingerprint) == (
        *(True, False),
    )
    reworded(home, ("hardest = 0.5", "hardest = 0.6"))
    assert load_deck("mine.toml").sound().questions != first.questions


def test_the_order_of_kinds_and_families_is_no_other_deck_for_the_app(home: Path) -> None:
    """It asks whichever was asked least; but a worksheet asks in the order written."""
    made = load_deck("mine.toml").sound()
    first = replace(made, families=("red", "green"))
    turned = replace(first, kinds=first.kinds[::-1], families=("green", "red"))
    step = replace(made.steps[0], kinds=made.kinds[:2], hardest=0.3)
    assert (first.kinds, first.questions) != (turned.kinds, turned.questions)
    assert turned.questions == first.questions
    assert turned.questions_in_order != first.questions_in_order
    assert (
        replace(first, steps=(step,)).questions
        == replace(first, steps=(replace(step, kinds=step.kinds[::-1]),)).questions
    )
    other = replace(first, kinds=first.kinds[1:])
    assert other.questions != first.questions
    later = replace(step, hardest=0.5)
    both = (replace(first, steps=steps).questions for steps in ((step, later), (later, step)))
    assert len(set(both)) == 2, "of two steps the later one says how hard"


def test_a_deck_whose_kinds_were_put_in_another_order_goes_on(home: Path) -> None:
    run("deck", "add", "mine.toml", "--yes")
    practised(home, 10)
    kinds = re.search(r"^kinds = \[(.*)\]", Path("mine.toml").read_text(encoding="utf-8"), re.M)
    assert kinds is not None
    reworded(home, (kinds[1], ", ".join(reversed(kinds[1].split(", ")))))
    assert "what you answered counts" in run("deck", "add", "mine.toml", "--yes").output
    with closing(Record.open(home / "home" / "record.db")) as record:
        (row,) = standing(record, "", "", START)
    assert (row.tally.answers, row.days_done) == (10, 1)


def practised(home: Path, count: int, first: int = 0) -> None:
    with closing(Record.open(home / "home" / "record.db")) as record:
        (kept,) = decks_kept(record)
        for number in range(first, first + count):
            made = answer(number, deck=kept.fingerprint, kind="lighter-or-darker", region="red")
            record.save(made)


def test_what_a_student_answered_before_a_word_was_corrected_counts(home: Path) -> None:
    run("deck", "add", "mine.toml", "--yes")
    practised(home, 12)
    reworded(home, ("First week", "The first week"))
    assert "what you answered counts" in run("deck", "add", "mine.toml", "--yes").output
    practised(home, 3, 12)
    with closing(Record.open(home / "home" / "record.db")) as record:
        (kept,) = decks_kept(record)
        assert len(before_of(kept.content)) == 1
        (row,) = standing(record, "", "", START)
        assert (row.tally.answers, row.days_done) == (15, 1)
        deck = from_kept(kept.content)
    assert deck is not None
    shared = run("scores", "share", "The first", "--name", "Wren", "--show").output
    results = read(shared.encode())
    assert (results.deck.questions, len(results.answers)) == (deck.questions, 15)
    assert {one.deck for one in results.answers} == {deck.fingerprint}
    # And it can be begun anew, and is where the questions changed.
    reworded(home, ("The first week", "Thé first week"))
    assert "begins anew" in run("deck", "add", "mine.toml", "--yes", "--anew").output
    with closing(Record.open(home / "home" / "record.db")) as record:
        assert standing(record, "", "", START)[0].tally.answers == 0


def sent() -> Iterable[bytes]:
    """Wren's answers to the old words, Rail's to the new, Wren's again restated as the new."""
    old = attempts("Wren", range(8))
    yield results_file("Wren", [replace(one, deck=OLD.fingerprint) for one in old], OLD)
    yield results_file("Wren", [replace(one, deck=NEW.fingerprint) for one in old], NEW)
    rail = [replace(one, deck=NEW.fingerprint) for one in attempts("Rail", range(4))]
    yield results_file("Rail", rail, NEW)


def test_a_class_counts_them_as_one_deck_in_whatever_order_they_come(tmp_path: Path) -> None:
    made = []
    for at, files in enumerate(itertools.permutations(sent())):
        book = ClassBook.open(tmp_path / f"{at}.db")
        book.give_deck(NEW)
        for data in files:
            book.add(read(data), "f")
        assert [(line.title, line.tries, line.students) for line in decks(book)] == [
            ("First week", 12, 2)
        ]
        view = overview(book, NEW.fingerprint)
        assert {line.name: line.tries for line in view.students} == {"Wren": 8, "Rail": 4}
        assert len(list(book.answers([NEW.fingerprint]))) == 12
        made.append(content(book))
        book.close()
    assert all(one == made[0] for one in made)


def test_another_deck_is_still_refused(tmp_path: Path) -> None:
    book = ClassBook.open(tmp_path / "class.db")
    book.give_deck(NEW)
    mine = [replace(one, deck=OTHER.fingerprint) for one in attempts("Wren", range(3))]
    with pytest.raises(InputError, match="a deck that this class was not given"):
        book.add(read(results_file("Wren", mine, OTHER)), "f")


def test_passed_is_one_rule_the_latest_half_of_all_that_is_wanted(tmp_path: Path) -> None:
    """Four a day on two days: the latest four. All eight would give 0.5, and not pass."""
    early = [replace(one, deck=OLD.fingerprint) for one in attempts("Wren", range(4), score=0.0)]
    late = [replace(one, deck=OLD.fingerprint) for one in attempts("Wren", range(24, 28))]
    book = ClassBook.open(tmp_path / "class.db")
    book.add(read(results_file("Wren", [*early, *late], OLD)), "f")
    (line,) = overview(book, OLD.fingerprint).students
    assert (line.grade, line.days_done, line.passed) == (0.5, 2, True)
    # As many are wanted as the deck says now: with three days, the latest six, at 0.67.
    book.give_deck(replace(OLD, days=3))
    (line,) = overview(book, OLD.fingerprint).students
    assert book.db.execute("SELECT latest, latest_score FROM deck_marks").fetchone() == (6, 4.0)
    assert not line.passed


def test_files_of_older_coaches_are_read_as_ever(tmp_path: Path) -> None:
    results = json.loads(results_file("Wren", attempts("Wren", range(3))))["results"]
    del results["deck"]["questions"]
    inner = json_text(results, in_order=True)
    found = read(f'{{"digest":"{digest_of(inner)}","results":{inner}}}'.encode())
    assert (found.deck.questions, len(found.answers)) == ("", 3)


def test_a_class_of_an_older_coach_is_brought_up_to_date(tmp_path: Path) -> None:
    """The store as its first version made it, filled as that did, is opened."""
    book = ClassBook.open(tmp_path / "class.db")
    for data in sent():
        book.add(read(data), "f")
    expected = content(book)
    for statement in (
        *("DROP TABLE level_marks", "DROP TABLE deck_marks", "DROP TABLE totals"),
        *("ALTER TABLE decks DROP COLUMN questions", "ALTER TABLE decks DROP COLUMN work"),
        *("ALTER TABLE students DROP COLUMN person", "ALTER TABLE students DROP COLUMN pencils"),
        *("DROP TABLE same", "DROP TABLE called", "DROP TABLE pencil_sets"),
        *("DROP TABLE paper_answers", "DROP TABLE places"),
        *(f"ALTER TABLE decks DROP COLUMN {one}" for one in ("course", "growth", "wanted")),
        "DELETE FROM _sqlite_migrations WHERE name != 'm001_class'",
        "PRAGMA user_version = 1",
    ):
        book.db.execute(statement)
    book.close()
    book = ClassBook.open(tmp_path / "class.db")
    assert len(STEPS) == 8
    # Sums of the first versions were rounded at each step.
    for table in ("level_marks", "students", "totals"):
        assert rounded(content(book))[table] == rounded(expected)[table]
    for data in sent():
        book.add(read(data), "f")
    assert rounded(content(book)) == rounded(expected)
    book.close()


def rounded(said: dict[str, list[tuple[Any, ...]]]) -> dict[str, list[tuple[Any, ...]]]:
    return {
        table: [
            tuple(round(one, 9) if isinstance(one, float) else one for one in row) for row in rows
        ]
        for table, rows in said.items()
    }


def test_a_class_of_before_days_were_kept_has_them_from_its_answers(tmp_path: Path) -> None:
    book = ClassBook.open(tmp_path / "class.db")
    for data in sent():
        book.add(read(data), "f")
    expected = content(book)
    assert any(row[-1] for row in expected["deck_marks"]), "some day is done"
    for statement in (
        *(f"ALTER TABLE deck_marks DROP COLUMN {one}" for one in ("days", "done")),
        *("DROP TABLE totals", "DELETE FROM _sqlite_migrations WHERE name = 'm007_days'"),
        "PRAGMA user_version = 6",
    ):
        book.db.execute(statement)
    book.close()
    book = ClassBook.open(tmp_path / "class.db")
    assert content(book) == expected
    book.close()


def test_the_beginning_of_a_title_is_enough() -> None:
    held = [("ab12" + "0" * 60, "First week"), ("cd34" + "0" * 60, "First greens")]
    assert deck_meant("first w", held, "", "") == 0
    assert deck_meant("FIRST GREENS", held, "", "") == 1
    assert deck_meant("cd34", held, "", "") == 1
    with pytest.raises(InputError, match="more than one deck"):
        deck_meant("first", held, "", "")
    with pytest.raises(InputError, match="none here"):
        deck_meant("second", held, "none here", "")
