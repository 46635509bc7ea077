"""A class merges files to the same result whatever their order, overlap and repetition."""

from __future__ import annotations

import json
import sqlite3
import tempfile
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drills.basics.errors import InputError
from drills.basics.json_values import json_text
from scores.classes.people import find
from scores.classes.store import ClassBook
from scores.exchange.results_read import AHEAD, EARLIEST, read_results
from scores.exchange.results_written import digest_of
from tests.classes import DECK, NOW, STUDENTS, attempts, class_of, content, read, results_file


def forged(data: bytes, number: int, score: float) -> bytes:
    """A results file edited and given a digest of its own: another version of one answer."""
    results = json.loads(data)["results"]
    results["statements"][number]["result"]["score"]["scaled"] = score
    inner = json_text(results, in_order=True)
    return f'{{"digest":"{digest_of(inner)}","results":{inner}}}'.encode()


def a_file(student: str, first: int, last: int, name: str, edited: int) -> bytes:
    data = results_file(student, attempts(student, range(first, last)), name=name)
    return forged(data, 0, edited / 10) if edited and last > first else data


files = st.builds(
    lambda student, ends, name, edited: a_file(student, min(ends), max(ends), name, edited),
    st.sampled_from(["Wren", "Rail"]),
    st.tuples(st.integers(0, 12), st.integers(0, 12)),
    st.sampled_from(["One", "Two"]),
    st.integers(0, 3),
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(files, min_size=1, max_size=5), st.randoms(use_true_random=False), st.data())
def test_order_overlap_and_repetition_change_nothing(given_files, rng, data):
    """Older and newer exports, edited ones, and changed names among them."""
    shuffled = list(given_files) + data.draw(st.lists(st.sampled_from(given_files), max_size=3))
    rng.shuffle(shuffled)
    with tempfile.TemporaryDirectory() as folder:
        one = class_of(Path(folder) / "one.db", *given_files)
        other = class_of(Path(folder) / "other.db", *shuffled)
        assert content(one) == content(other)
        one.close()
        other.close()


def test_the_same_file_twice_adds_nothing_the_second_time(tmp_path: Path):
    book = ClassBook.open(tmp_path / "class.db")
    results = read(results_file("Wren", attempts("Wren", range(10))))
    assert book.add(results, "a").new == 10
    before = content(book)
    assert book.add(results, "a").new == 0
    assert content(book) == before


def test_an_older_export_after_a_newer_one_takes_nothing_away(tmp_path: Path):
    newer = results_file("Wren", attempts("Wren", range(10)), name="New name")
    older = results_file("Wren", attempts("Wren", range(4)), name="Old name")
    book = class_of(tmp_path / "class.db", newer, older)
    assert [(one.id, one.name) for one in find(book, "New name")] == [
        (STUDENTS["Wren"], "New name")
    ]
    assert len(list(book.answers())) == 10


def test_no_student_can_write_over_another_s_answers(tmp_path: Path):
    """The ids of another's attempts are no secret: an answer is known by student and id."""
    mine = results_file("Wren", attempts("shared", range(5)))
    theirs = results_file("Rail", attempts("shared", range(5), score=0.0, right=False))
    book = class_of(tmp_path / "class.db", mine, theirs)
    assert len(list(book.answers())) == 10
    assert [one.right for one, name in book.answers() if name == "Wren"] == [True] * 5


def test_what_follows_from_the_answers_is_as_if_worked_out_at_once(tmp_path: Path):
    """Marks are made of the latest twenty answers, however the files came."""
    mine = attempts("Wren", range(30))
    mine = [replace(one, score=0.0 if one.number < 10 else 1.0) for one in mine]
    parts = [results_file("Wren", mine[start::7]) for start in range(7)]
    book = class_of(tmp_path / "class.db", *parts)
    assert book.db.execute("SELECT tries, total, latest, latest_score FROM marks").fetchall() == [
        (30, 20.0, 20, 20.0)
    ]


@pytest.mark.parametrize(
    ("moment", "counted"),
    [
        (NOW, True),
        (NOW + AHEAD, True),
        (NOW + AHEAD + timedelta(minutes=1), False),
        (NOW.replace(year=2190), False),
        (EARLIEST, True),
        (EARLIEST - timedelta(seconds=1), False),
    ],
)
def test_a_clock_from_the_future_is_not_counted(moment, counted, tmp_path: Path):
    mine = attempts("Wren", range(3))
    mine[1] = replace(mine[1], at_utc=moment)
    results = read(results_file("Wren", mine))
    assert (len(results.answers), results.not_counted) == ((3, 0) if counted else (2, 1))
    # Once its day has come, the same file counts in full.
    later = read_results(results_file("Wren", mine), "f", max(NOW, moment))
    assert len(later.answers) == (3 if moment >= EARLIEST else 2)


# -- decks the class was given ---------------------------------------------------------------


def test_without_a_deck_given_any_deck_is_taken(tmp_path: Path):
    other = replace(DECK, fingerprint="e" * 64, title="Reds")
    mine = [replace(one, deck="e" * 64) for one in attempts("Wren", range(3))]
    book = class_of(tmp_path / "class.db", results_file("Wren", mine, other))
    assert len(list(book.answers())) == 3


def test_a_wrong_version_and_a_strange_deck_are_told_apart(tmp_path: Path):
    book = ClassBook.open(tmp_path / "class.db")
    book.give_deck(DECK)
    for fingerprint, title, told in (
        ("e" * 64, "Greens", "another version of the deck “Greens”"),
        ("f" * 64, "Reds", "“Reds”, a deck that this class was not given"),
    ):
        deck = replace(DECK, fingerprint=fingerprint, title=title)
        mine = [replace(one, deck=fingerprint) for one in attempts("Wren", range(3))]
        with pytest.raises(InputError, match=told):
            book.add(read(results_file("Wren", mine, deck)), "file.json")
    assert book.add(read(results_file("Wren", attempts("Wren", range(3)))), "f").new == 3


def test_what_the_teacher_s_deck_says_stands_over_what_files_say(tmp_path: Path):
    boast = replace(DECK, items_a_day=1, days=1, pass_level=0.0)
    data = results_file("Wren", attempts("Wren", range(3)), boast)
    before, after = ClassBook.open(tmp_path / "a.db"), ClassBook.open(tmp_path / "b.db")
    before.give_deck(DECK)
    before.add(read(data), "f")
    after.add(read(data), "f")
    after.give_deck(DECK)
    assert content(before) == content(after)
    assert before.db.execute("SELECT items_a_day, days FROM decks").fetchall() == [(6, 3)]


# -- forgetting ----------------------------------------------------------------------------------


def test_a_student_dropped_leaves_no_trace(tmp_path: Path):
    path = tmp_path / "class.db"
    wren = results_file("Wren", attempts("Wren", range(20), region="violet"), name="Wrenna Secret")
    rail = results_file("Rail", attempts("Rail", range(5), region="green"))
    only = content(class_of(tmp_path / "only.db", rail))
    book = class_of(path, rail, wren)
    book.expect(["Wrenna Secret"])
    book.drop(STUDENTS["Wren"])
    assert content(book) == only
    book.close()
    left = b"".join(one.read_bytes() for one in tmp_path.glob("class.db*"))
    for trace in (b"Wrenna", STUDENTS["Wren"].encode(), b"violet"):
        assert trace not in left


def test_a_student_dropped_may_come_again(tmp_path: Path):
    wren = results_file("Wren", attempts("Wren", range(5)))
    book = class_of(tmp_path / "class.db", wren)
    before = content(book)
    book.drop(STUDENTS["Wren"])
    book.add(read(wren), "f")
    assert content(book) == before


# -- the store itself -------------------------------------------------------------------------


def test_another_program_s_file_a_newer_and_a_damaged_one_are_refused(tmp_path: Path):
    other = tmp_path / "other.db"
    db = sqlite3.connect(other)
    db.execute("CREATE TABLE t (x)")
    db.close()
    newer = tmp_path / "newer.db"
    ClassBook.open(newer).close()
    db = sqlite3.connect(newer)
    db.execute("PRAGMA user_version = 99")
    db.close()
    damaged = tmp_path / "damaged.db"
    damaged.write_bytes(b"SQLite format 3\0" + b"\xff" * 5_000)
    empty = tmp_path / "empty.db"
    empty.touch()
    for path, told in (
        (other, "not a class"),
        (newer, "newer coach"),
        (damaged, "damaged"),
        (empty, "not a class"),
    ):
        before = path.read_bytes()
        with pytest.raises(InputError, match=told):
            ClassBook.open(path)
        assert path.read_bytes() == before


def test_looking_at_a_class_that_is_not_there_makes_none(tmp_path: Path):
    book = ClassBook.open(tmp_path / "class.db", create=False)
    assert list(book.answers()) == []
    assert not list(tmp_path.iterdir())
