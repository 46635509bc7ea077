"""Who is who in a class: one student on two machines, names of a teacher's, a list of names."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coach.cli import cli
from drills.basics.errors import InputError
from scores.classes.people import call, find, join, of_one_name, part
from scores.classes.person import id_words
from scores.classes.roll import perhaps, read_roll, same_name
from scores.classes.store import ClassBook
from scores.classes.views import overview, student_page
from tests.classes import DECK, STUDENTS, attempts, class_of, content, read, results_file
from tests.teaching.test_class_merge import files


def the(book: ClassBook, name: str):
    (found,) = find(book, name)
    return found


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(files, min_size=1, max_size=4), st.randoms(use_true_random=False), st.data())
def test_files_before_and_after_a_joining_make_the_same_class(given_files, rng, data):
    """Both machines have sent once; what else comes, in whatever order, is one class."""
    first = [results_file(one, attempts(one, range(2))) for one in ("Wren", "Rail")]
    early = data.draw(st.integers(0, len(given_files)))
    shuffled = [*given_files, *given_files[:1]]
    rng.shuffle(shuffled)
    with tempfile.TemporaryDirectory() as folder:
        one = class_of(Path(folder) / "one.db", *first, *given_files[:early])
        join(one, the(one, STUDENTS["Rail"]), the(one, STUDENTS["Wren"]))
        for file in given_files[early:]:
            one.add(read(file), "f")
        other = class_of(Path(folder) / "other.db", *first, *shuffled)
        apart = content(other)
        join(other, the(other, STUDENTS["Wren"]), the(other, STUDENTS["Rail"]))
        assert content(one) == content(other)
        part(other, person := the(other, STUDENTS["Wren"]), person.ids)
        assert content(other) == apart
        one.close()
        other.close()


def test_an_answer_that_both_machines_sent_counts_once(tmp_path: Path):
    """Their records were merged: each holds the other's answers."""
    both = attempts("shared", range(8))
    book = class_of(
        tmp_path / "class.db",
        results_file("Wren", both[:6]),
        results_file("Rail", both[2:]),
    )
    join(book, the(book, "Wren"), the(book, "Rail"))
    (line,) = overview(book, DECK.fingerprint).students
    assert (line.tries, len(list(book.answers()))) == (8, 8)
    assert {one.student for one, _ in book.answers()} == {STUDENTS["Wren"]}
    assert book.add(read(results_file("Rail", both)), "f").new == 0
    page = student_page(book, line.id)
    assert page is not None
    assert page.line.tries == 8


def test_three_machines_and_one_taken_out_again(tmp_path: Path):
    sent = [results_file(one, attempts(one, range(4))) for one in STUDENTS]
    book = class_of(tmp_path / "class.db", *sent)
    join(book, the(book, "Teal"), the(book, "Rail"))
    join(book, the(book, "Rail"), the(book, "Wren"))
    assert [line.tries for line in overview(book).students] == [12]
    part(book, person := the(book, "1111"), [STUDENTS["Wren"]])
    assert person.ids == tuple(sorted(STUDENTS.values()))
    assert sorted(line.tries for line in overview(book).students) == [4, 8]
    assert the(book, "Teal") == the(book, "Rail")
    book.drop(the(book, "Teal").id)
    assert [line.name for line in overview(book).students] == ["Wren"]
    assert not content(book)["same"]


def test_a_teacher_s_name_stays_whatever_files_say(tmp_path: Path):
    book = class_of(tmp_path / "class.db", results_file("Wren", attempts("Wren", range(3))))
    call(book, the(book, "wren"), "Zoë Keller")
    book.add(read(results_file("Wren", attempts("Wren", range(9)), name="Kestrel")), "f")
    assert the(book, "zoe keller") == the(book, "Kestrel")
    assert [line.name for line in overview(book).students] == ["Zoë Keller"]
    assert {name for _, name in book.answers()} == {"Zoë Keller"}
    call(book, the(book, "Kestrel"), "")
    assert [line.name for line in overview(book).students] == ["Kestrel"]


def test_students_of_one_name_are_told_apart_by_their_pencils_first(tmp_path: Path):
    sent = [
        results_file(one, attempts(one, range(at * 30, at * 30 + 3)), name="Sam", pencils=set_)
        for at, (one, set_) in enumerate(zip(STUDENTS, ("Meadow 24", "Pier 12", "Loft"), strict=1))
    ]
    book = class_of(tmp_path / "class.db", *sent)
    names = ["Sam (Meadow 24)", "Sam (Pier 12)", "Sam (Loft)"]
    assert {line.name for line in overview(book).students} == set(names)
    assert the(book, "sam pier 12").id == STUDENTS["Rail"]
    assert of_one_name(book)[0][0] == "Sam"
    # Where neither pencils nor the first day tell all apart, the two together may.
    book.add(read(results_file("Rail", attempts("Rail", range(99)), name="Sam")), "f")
    book.add(
        read(results_file("Rail", attempts("Rail", range(99)), name="Sam", pencils="Loft")), "f"
    )
    assert {line.name for line in overview(book).students} == {
        "Sam (Meadow 24, began 2 March)",
        "Sam (Loft, began 2 March)",
        "Sam (Loft, began 4 March)",
    }


@pytest.mark.parametrize(
    ("one", "other", "same", "maybe"),
    [
        ("Zoë Keller", "KELLER, Zoe", True, True),
        ("Łukasz Sørby", "lukasz sorby", True, True),
        ("Alexandra Marsh", "Alex", False, True),
        ("Alexandra Marsh", "A. Marsh", False, True),
        ("Alexandra Marsh", "A. M.", False, True),
        ("Catherine Lund", "Catharine Lund", False, True),
        ("Alexandra Marsh", "A", False, False),
        ("Alexandra Marsh", "Robin", False, False),
        ("Robin Marsh", "Alex Marsh", False, False),
        ("!!", "??", False, False),
    ],
)
def test_names_are_read_kindly(one: str, other: str, same: bool, maybe: bool):
    assert same_name(one, other) == same_name(other, one) == same
    assert perhaps(one, other) == perhaps(other, one) == maybe


def test_a_doubt_is_told_and_never_taken_for_an_answer():
    begun = {"Alex": ["Alex"], "Zoe K": ["Zoe K"], "Robin Lund": ["Robin Lund"]}
    roll = read_roll(["Alexandra Marsh", "Alexander Holt", "robin LUND", "Ines"], begun)
    assert roll.missing == ("Ines",)
    assert roll.doubts == (("Alexander Holt", ("Alex",)), ("Alexandra Marsh", ("Alex",)))
    # Who stands on the list by a whole name is nobody else's short form.
    assert read_roll(["Alex", "Alexandra Marsh"], begun).missing == ("Alexandra Marsh",)


# -- the commands ------------------------------------------------------------------------------


def run(*words: str) -> str:
    done = CliRunner().invoke(cli, ["class", *words], catch_exceptions=True)
    if isinstance(done.exception, InputError):
        return str(done.exception)
    assert done.exit_code == 0, done.output
    return done.output


def test_a_teacher_s_afternoon(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    for student, name in zip(STUDENTS, ("Sam", "Sam", "Alex"), strict=True):
        data = results_file(student, attempts(student, range(6)), name=name)
        (tmp_path / f"{student}.json").write_bytes(data)
    run("add", *(f"{student}.json" for student in STUDENTS))
    (tmp_path / "names.txt").write_text("Samuel Oduya\nAlexandra Marsh\n", encoding="utf-8")
    assert "If so: coach class name Alex 'Alexandra Marsh'" in run("expect", "names.txt")
    words = [id_words(STUDENTS[one]) for one in ("Wren", "Rail")]
    assert "2 are called Sam: " + "; ".join(f"Sam ({one})" for one in words) in run("show")
    assert "more than one student has this name" in run("same", "Sam", "Alex")
    joined = run("same", "Sam", "Sam")
    assert "one student from now on, Sam" in joined
    assert f"Machines: {', '.join(words)}" in joined
    assert "apart again" in run("apart", words[1])
    run("same", *words)
    assert "they are one student already" in run("same", "1111", "2222")
    assert "is called Alexandra Marsh in this class" in run("name", "Alex", "Alexandra Marsh")
    shown = run("show")
    assert "2 students" in shown
    assert "Is Samuel Oduya here as Sam?" in shown
    assert "Alex?" not in shown
    assert "apart again, 2 machines" in run("apart", "Sam")
    assert "was not joined to another" in run("apart", "1111")
    assert "there is no such student" in run("apart", "Nobody")
    assert "the name holds a control" in run("name", "1111", "a\x1b[31m")
