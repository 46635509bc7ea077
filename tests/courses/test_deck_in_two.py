"""The very deck in two courses: kept and asked once, with its place and its progress in each."""

from __future__ import annotations

import itertools
import json
from dataclasses import replace
from pathlib import Path

import pytest

from coach.session.assigned.course_work import CourseStanding, at_hand, course_words, courses
from coach.session.assigned.deck_progress import standing
from coach.teaching.adding import add, looked_at
from coach.teaching.adding_course import add_course, course_looked_at, course_named, drop_course
from coach.teaching.sharing import made_of
from decks.courses.course import Course
from decks.record_form import courses_of
from drills.basics.errors import InputError
from scores.classes.courses import courses as class_courses
from scores.classes.store import ClassBook
from scores.classes.views import decks
from scores.exchange.results_read import read_results
from scores.record.decks_added import DeckKept, decks_kept
from scores.record.record import Record
from tests.answers import START
from tests.classes import content
from tests.courses.made import TEXT, at, course, practise, taken
from tests.teaching.test_class_hostile import sealed

SPRING = (
    TEXT.replace("Three weeks", "Spring")
    .replace('title = "Hue"', 'title = "Hue in spring"')
    .replace('title = "Greys"', 'title = "Greys in spring"')
)
"""Its first deck, Value, is that of "Three weeks"."""
LATER = (
    TEXT.replace("Three weeks", "Later")
    .replace('title = "Hue"', 'title = "Hue later"')
    .replace('name = "one"\ntitle = "Value"', 'name = "first"\ntitle = "Begin"')
    .replace('needs = ["one", "two"]', 'needs = ["first", "two"]')
)
"""Its last deck, Greys, is that of "Three weeks"."""


def add_to(record: Record, text: str) -> None:
    add_course(record, course_looked_at(record, course(text), START), START)


@pytest.fixture
def record(tmp_path: Path) -> Record:
    made = taken(tmp_path / "record.db", course())
    add_to(made, SPRING)
    return made


def told(record: Record, days: int = 0) -> dict[str, CourseStanding]:
    return {one.title: one for one in courses(standing(record, "", "", at(days)))}


def done(record: Record, title: str) -> list[int]:
    return [one.days_done for one in told(record)[title].decks]


def value(record: Record) -> DeckKept:
    (kept,) = [one for one in decks_kept(record) if one.title == "Value"]
    return kept


def answered(record: Record, day: int, count: int) -> None:
    practise(record, "one", day, count)


def test_it_is_kept_once_and_counts_in_both(record: Record) -> None:
    assert len(decks_kept(record)) == 5
    answered(record, 0, 4)
    assert (done(record, "Three weeks"), done(record, "Spring")) == ([1, 0, 0], [1, 0, 0])
    rows = standing(record, "", "", at(0))
    assert sum(one.left_today for one in rows) == 0, "asked once a day, not once a course"
    answered(record, 1, 6)
    for title, hue in (("Three weeks", "Hue"), ("Spring", "Hue in spring")):
        (now,) = told(record, 2)[title].now
        assert (now.deck.title, now.left_today) == (hue, 4)
        assert course_words(told(record, 2)[title]).startswith(f"Week 2 of 3: {hue}")


def test_today_says_which_course_is_which(record: Record) -> None:
    from coach.screens.practice.today_words import assigned_lines

    where = "Week 1 of 3: Value, 0 of 4 today, day 1 of 2."
    assert assigned_lines(standing(record, "", "", at(0))) == [
        f"“Spring”: {where} Next: Hue in spring.",
        f"“Three weeks”: {where} Next: Hue.",
    ]
    drop_course(record, *course_named(record, "Spring"))
    assert assigned_lines(standing(record, "", "", at(0))) == [f"{where} Next: Hue."]


def test_it_is_said_before_it_is_taken(tmp_path: Path) -> None:
    record = taken(tmp_path / "record.db", course())
    words = " ".join(course_looked_at(record, course(SPRING), START).words)
    assert "“Value” stands in your course “Three weeks” too: asked once, counted in both." in words
    assert "takes the place" not in words
    add_to(record, SPRING)
    assert course_looked_at(record, course(SPRING), START).there
    assert course_looked_at(record, course(), START).there


def test_an_open_deck_is_open_in_both_though_one_would_wait(tmp_path: Path) -> None:
    record = taken(tmp_path / "record.db", course())
    answered(record, 0, 4)
    answered(record, 1, 6)
    for day in (2, 3):
        practise(record, "two", day, 4)
    assert told(record, 4)["Three weeks"].decks[2].state == "to do"
    add_to(record, LATER)
    later = told(record, 4)["Later"]
    assert [one.state for one in later.decks] == ["to do", "not open", "to do"]
    assert later.decks[2].deck.title == "Greys"
    made = [one.fingerprint for one in at_hand(standing(record, "", "", at(4)))]
    assert len(made) == len(set(made))


def test_one_that_waits_in_both_says_in_each_what_for(tmp_path: Path) -> None:
    record = taken(tmp_path / "record.db", course())
    add_to(record, LATER)
    waits = {title: one.decks[2].waits_for for title, one in told(record).items()}
    assert waits == {"Three weeks": ("Value", "Hue"), "Later": ("Begin", "Hue later")}


def test_a_course_dropped_leaves_it_to_the_other(record: Record) -> None:
    answered(record, 0, 4)
    drop_course(record, *course_named(record, "Three"))
    assert set(told(record)) == {"Spring"}
    assert done(record, "Spring") == [1, 0, 0]
    drop_course(record, *course_named(record, "Spring"))
    assert decks_kept(record) == ()


def test_two_courses_of_one_title_are_dropped_one_by_one(record: Record) -> None:
    add_to(record, SPRING.replace("A. Teacher", "B. Teacher"))
    with pytest.raises(InputError, match=r"several courses begin so.*author too"):
        course_named(record, "Spring")
    drop_course(record, *course_named(record, "spring (b. teacher)"))
    rows = courses(standing(record, "", "", at(0)))
    assert {(one.title, one.decks[0].deck.author) for one in rows} == {
        *(("Three weeks", "A. Teacher"), ("Spring", "A. Teacher"))
    }


def test_one_course_corrected_takes_nothing_from_the_other(record: Record) -> None:
    answered(record, 0, 4)
    # Another deck of it: Value keeps both places.
    add_to(record, TEXT.replace('title = "Hue"', 'title = "Hues"'))
    assert [one.place.title for one in courses_of(value(record).content)] == [
        *("Spring", "Three weeks")
    ]
    # Value itself: it goes its own way from there, with what was answered.
    add_to(record, TEXT.replace("Fill five boxes.", "Fill six boxes."))
    assert (done(record, "Three weeks"), done(record, "Spring")) == ([1, 0, 0], [1, 0, 0])
    assert len(decks_kept(record)) == 6
    # And one deck again once the other is corrected too.
    add_to(record, SPRING.replace("Fill five boxes.", "Fill six boxes."))
    assert len(decks_kept(record)) == 5
    assert (done(record, "Three weeks"), done(record, "Spring")) == ([1, 0, 0], [1, 0, 0])


def test_begun_anew_in_one_it_still_counts_what_the_other_counted(record: Record) -> None:
    answered(record, 0, 4)
    six = TEXT.replace("Fill five boxes.", "Fill six boxes.")
    add_to(record, six)
    add_to(record, SPRING.replace("Fill five boxes.", "Fill six boxes."))
    add_course(record, course_looked_at(record, course(six), START, anew=True), START)
    assert done(record, "Spring") == [1, 0, 0]


def test_sent_alone_corrected_it_keeps_both_places(record: Record) -> None:
    answered(record, 0, 4)
    mended = replace(course().decks[0].deck, note="Look twice.")
    add(record, looked_at(record, mended), START)
    for title in ("Three weeks", "Spring"):
        first = told(record)[title].decks[0]
        assert (first.deck.note, first.days_done) == ("Look twice.", 1)


def test_both_places_are_in_the_journal(record: Record, tmp_path: Path) -> None:
    record.close()
    (tmp_path / "record.db").unlink()
    again = Record.open(tmp_path / "record.db")
    assert set(told(again)) == {"Three weeks", "Spring"}
    assert len(decks_kept(again)) == 5


# -- in a class ----------------------------------------------------------------------------


def sent(path: Path, name: str, texts: tuple[str, ...]) -> bytes:
    """What a student sends of Value who has these courses."""
    record = taken(path / f"{name}.db", course(texts[0]))
    for text in texts[1:]:
        add_to(record, text)
    practise(record, "one", 0, 4, who=name)
    made = made_of(record, value(record), name, at(1))
    record.close()
    return made.text.encode()


def stand(book: ClassBook) -> dict[str, set[str]]:
    """The students that each course of a class tells of."""
    names = dict(book.db.execute("SELECT id, name FROM students"))
    return {
        one.title: {names[line.student] for line in one.students} for one in class_courses(book)
    }


def test_a_class_sees_it_in_both_courses_in_whatever_order_files_come(tmp_path: Path) -> None:
    files = (
        sent(tmp_path, "Wren", (TEXT, SPRING)),
        sent(tmp_path, "Rail", (SPRING,)),
        sent(tmp_path, "Teal", (TEXT,)),
    )
    made = []
    for turn, some in enumerate(itertools.permutations(files)):
        book = ClassBook.open(tmp_path / f"{turn}.db")
        for data in some:
            book.add(read_results(data, "f", at(2)), "f")
        assert stand(book) == {
            "Three weeks": {"Wren", "Teal"},
            "Spring": {"Wren", "Rail"},
        }, "and nobody in a course they don't have"
        (line,) = decks(book)
        assert (line.tries, len(line.places)) == (12, 2)
        made.append(content(book))
        book.close()
    assert all(one == made[0] for one in made)


def test_a_class_given_either_course_takes_it(tmp_path: Path) -> None:
    from decks.record_form import deck_named

    for given in (TEXT, SPRING):
        whole: Course = course(given)
        book = ClassBook.open(tmp_path / f"{whole.title}.db")
        for number, one in enumerate(whole.decks, 1):
            reworded = replace(one.deck, note="Other words.")
            book.give_deck(deck_named(reworded, whole.place(number)))
        (tmp_path / whole.title).mkdir()
        file = sent(tmp_path / whole.title, "Wren", (TEXT, SPRING))
        assert book.add(read_results(file, "f", at(2)), "f").new == 4
        book.close()


def test_a_class_that_knew_one_course_a_deck_is_brought_up_to_date(tmp_path: Path) -> None:
    book = ClassBook.open(tmp_path / "class.db")
    book.add(read_results(sent(tmp_path, "Teal", (TEXT,)), "f", at(2)), "f")
    expected = content(book)
    for statement in (
        "UPDATE decks SET course = substr(course, 2, length(course) - 2)",
        "DROP TABLE places",
        "DELETE FROM _sqlite_migrations WHERE name = 'm008_places'",
        "PRAGMA user_version = 7",
    ):
        book.db.execute(statement)
    book.close()
    book = ClassBook.open(tmp_path / "class.db")
    assert stand(book) == {"Three weeks": {"Teal"}}
    assert content(book) == expected
    book.close()


@pytest.mark.parametrize("many", [0, 1, 25])
def test_lying_places_are_refused(tmp_path: Path, many: int) -> None:
    results = json.loads(sent(tmp_path, "Wren", (TEXT, SPRING)))["results"]
    deck = results["deck"]
    if many == 0:
        deck["course"] = None
    elif many == 1:
        deck["also"] = [deck["course"]]
    else:
        deck["also"] = [{**deck["also"][0], "title": f"T{n}"} for n in range(many)]
    with pytest.raises(InputError, match="places in courses are none"):
        read_results(sealed(results), "f", at(2))
