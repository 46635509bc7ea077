"""What a class shows, worked out by hand beside each figure."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from scores.classes.people import find
from scores.classes.person import id_words
from scores.classes.store import ClassBook
from scores.classes.views import (
    GLYPHS,
    TELLING,
    confusion,
    decks,
    mixups,
    overview,
    shade,
    skill_page,
    student_page,
    targets,
)
from scores.skill.difficulty import step_at
from tests.classes import DECK, STUDENTS, attempts, class_of, read, results_file

STEPS = (20.0, 1.0)


def at_level(student: str, count: int, level: float, score: float, **changes: Any):
    """Answers asked at this level, scored so."""
    step = step_at(STEPS, level)
    return attempts(student, range(count), step=step, steps=STEPS, score=score, **changes)


@pytest.fixture
def book(tmp_path: Path) -> ClassBook:
    """Wren is far along, Rail is not, Teal gave four answers; Dipper is expected and Wren too."""
    made = class_of(
        tmp_path / "class.db",
        results_file("Wren", at_level("Wren", 30, 0.9, 0.8)),
        results_file("Rail", at_level("Rail", 10, 0.5, 0.4, region="green", right=False)),
        results_file("Teal", at_level("Teal", 4, 0.1, 1.0)),
    )
    made.expect(["Dipper", "wren"])
    return made


def test_students_and_skills_stand_in_order_of_need(book: ClassBook):
    view = overview(book)
    assert [line.name for line in view.students] == ["Rail", "Wren", "Teal"]
    assert [line.skill for line in view.skills] == [("value", "green"), ("value", "violet")]
    assert view.tries == 44
    rail, wren, teal = view.students
    # At half way, earning half of the four points in five that are aimed at: 0.5 × 0.5.
    assert rail.cells["value", "green"].reach == pytest.approx(0.25)
    assert rail.need == pytest.approx(0.75)
    assert wren.cells["value", "violet"].reach == pytest.approx(0.9)
    assert (teal.need, teal.cells["value", "violet"].telling) == (None, False)
    assert view.skills[1].reach == pytest.approx(0.9)  # Teal's four don't tell
    assert (view.skills[1].students, view.skills[1].told) == (2, 1)


def test_who_has_not_begun(book: ClassBook):
    """Expected without a file, whatever the case of the letters; or with one of another deck."""
    assert overview(book).not_begun == ("Dipper",)
    other = replace(DECK, fingerprint="e" * 64, title="Reds")
    mine = [replace(one, deck="e" * 64) for one in attempts("Rail", range(20, 23))]
    book.add(read(results_file("Rail", mine, other)), "f")
    assert overview(book, "e" * 64).not_begun == ("Dipper", "Teal", "Wren")
    assert [line.title for line in decks(book)] == ["Greens", "Reds"]


def test_who_sent_another_deck_is_told_once_and_may_be_a_name_expected(book: ClassBook):
    """Wren as the roll spells her, Teal in full, and Dipper, who sent nothing at all."""
    book.expect(["WREN", "Teal Marsh", "Dipper"])
    view = overview(book, "e" * 64)
    assert view.not_begun == ("Dipper", "Rail", "Teal", "Wren")
    assert view.doubts == (("Teal Marsh", ("Teal",)),)


def test_an_empty_file_is_not_begun(book: ClassBook):
    book.drop(STUDENTS["Teal"])
    book.add(read(results_file("Teal", [])), "f")
    assert overview(book).not_begun == ("Dipper", "Teal")


def test_only_the_latest_answers_say_where_one_stands(tmp_path: Path):
    early = at_level("Wren", 30, 0.1, 0.0)
    late = [
        replace(one, step=step_at(STEPS, 0.7), score=1.0, number=one.number + 100)
        for one in attempts("Wren", range(30, 50))
    ]
    book = class_of(tmp_path / "class.db", results_file("Wren", [*early, *late]))
    cell = overview(book).students[0].cells["value", "violet"]
    assert (cell.tries, cell.grade, cell.lately) == (50, 0.4, 1.0)
    assert cell.reach == pytest.approx(0.7)


def test_days_are_the_student_s_own_and_a_deck_s_days_count_when_full(tmp_path: Path):
    # Six are wanted a day; from 09:00, one an hour: a day turns at 04:00, after 19 answers.
    book = class_of(tmp_path / "class.db", results_file("Wren", attempts("Wren", range(22))))
    (line,) = overview(book, DECK.fingerprint).students
    assert (line.days, line.days_done, line.last_day) == (2, 1, date(2026, 3, 3))
    page = student_page(book, STUDENTS["Wren"])
    assert page is not None
    assert page.days == ((date(2026, 3, 2), 19, 1.0), (date(2026, 3, 3), 3, 1.0))
    short = replace(DECK, days=1)
    book.give_deck(short)
    assert overview(book, DECK.fingerprint).students[0].passed


def test_two_of_one_name_are_told_apart(tmp_path: Path):
    book = class_of(
        tmp_path / "class.db",
        results_file("Wren", attempts("Wren", range(6)), name="Sam"),
        results_file("Rail", attempts("Rail", range(6)), name="sam"),
    )
    assert {line.name for line in overview(book).students} == {
        f"{name} ({id_words(STUDENTS[student])})"
        for name, student in (("Sam", "Wren"), ("sam", "Rail"))
    }
    assert len(find(book, "SAM")) == 2
    assert [(one.id, one.name) for one in find(book, "2222")] == [(STUDENTS["Rail"], "sam")]


def test_what_the_class_mixes_up(tmp_path: Path):
    def named(student: str, numbers: range, truth: str, said: str):
        return attempts(
            student, numbers, facts={"key": [truth, "squarely"]}, answers=((said,), ("squarely",))
        )

    wren = [
        *named("Wren", range(6), "violet", "violet"),
        *named("Wren", range(6, 8), "violet", "blue"),
    ]
    rail = [
        *named("Rail", range(2), "violet", "blue"),
        *named("Rail", range(2, 3), "red", "orange"),
    ]
    book = class_of(tmp_path / "class.db", results_file("Wren", wren), results_file("Rail", rail))
    first, second = mixups(book)
    assert (first.truth, first.said, first.tries, first.asked, first.students) == (
        *("violet", "blue"),
        *(4, 10, 2),
    )
    assert first.share == pytest.approx(0.4)
    assert (second.truth, second.said, second.asked) == ("red", "orange", 1)
    table = confusion(book)
    assert (table[6][6], table[6][8], sum(map(sum, table))) == (6, 4, 11)
    assert sum(map(sum, confusion(book, student=STUDENTS["Rail"]))) == 3


def test_named_colours_by_grade(tmp_path: Path):
    mine = attempts("Wren", range(4), facts={"named": "Leaf"}, score=0.5)
    mine += attempts("Wren", range(4, 6), facts={"named": "Jug"})
    book = class_of(tmp_path / "class.db", results_file("Wren", mine))
    assert targets(book) == (("Leaf", 1, 4, 0.5), ("Jug", 1, 2, 1.0))
    page = student_page(book, STUDENTS["Wren"], DECK.fingerprint)
    assert page is not None
    assert page.targets == (("Leaf", 4, 0.5), ("Jug", 2, 1.0))


def test_one_skill_s_page(book: ClassBook):
    page = skill_page(overview(book), ("value", "violet"))
    assert page is not None
    assert [line.name for line, _ in page.students] == ["Wren", "Teal"]
    assert skill_page(overview(book), ("value", "mauve")) is None
    assert student_page(book, "nobody") is None


def test_a_shade_is_told_by_a_mark_that_needs_no_colour():
    shades = [shade(reach) for reach in (0.0, 0.19, 0.2, 0.5, 0.79, 0.8, 1.0)]
    assert shades == [0, 0, 1, 2, 3, 4, 4]
    assert len(set(GLYPHS)) == 5
    assert TELLING == 5


def test_an_empty_class_is_shown_as_empty(tmp_path: Path):
    book = ClassBook.open(tmp_path / "class.db")
    view = overview(book)
    assert (view.students, view.skills, view.not_begun, view.tries) == ((), (), (), 0)
    assert mixups(book) == targets(book) == decks(book) == ()


def test_three_of_one_name_are_told_apart_by_something_human(tmp_path: Path):
    book = class_of(
        tmp_path / "class.db",
        results_file("Wren", attempts("Wren", range(6)), name="Sam"),
        results_file("Rail", attempts("Rail", range(30, 34)), name="Sam"),
        results_file("Teal", attempts("Teal", range(60, 64)), name="sam"),
    )
    names = {line.name for line in overview(book).students}
    assert names == {"Sam (began 2 March)", "Sam (began 3 March)", "sam (began 4 March)"}
    book.add(read(results_file("Rail", attempts("Rail", range(4)), name="Sam")), "f")
    names = {line.name for line in overview(book).students}
    assert names == {"Sam (6 answers)", "Sam (8 answers)", "sam (4 answers)"}
