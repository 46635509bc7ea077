"""Decks of one author that ask the same under like titles: each keeps its own place and answers."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from coach.session.assigned.course_work import courses
from coach.teaching.adding import add, looked_at
from coach.teaching.adding_course import add_course, course_looked_at
from coach.teaching.drafting import chosen
from coach.teaching.paper.keeping import kept_deck
from decks.courses.course import Course
from decks.deck import Deck
from decks.record_form import courses_of, to_kept
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from scores.classes.store import ClassBook
from scores.classes.views import decks
from scores.exchange.results_written import CoursePlace, DeckNamed
from scores.exchange.same_work import same_work
from scores.record.decks_added import decks_kept, put_deck
from scores.record.record import Record
from tests.answers import START
from tests.classes import attempts, content, read, results_file
from tests.courses.made import TEXT, course, practise, stands, taken

# Roman and spelt numbers, which nobody reads as such: the titles are much alike.
LATER = (
    TEXT.replace("Three weeks", "Three weeks again")
    .replace('title = "Value"', 'title = "Values"')
    .replace('title = "Hue"', 'title = "Hues"')
    .replace('title = "Greys"', 'title = "Greyish"')
)


def add_to(record: Record, made: Course) -> None:
    add_course(record, course_looked_at(record, made, START), START)


def places(record: Record) -> list[tuple[str, str]]:
    """Each deck kept, at each place: its course's title, and its own."""
    kept = [(courses_of(one.content), one.title) for one in decks_kept(record)]
    return sorted(
        (title, one) for some, one in kept for title in [at.place.title for at in some] or [""]
    )


def done(record: Record, course_title: str) -> list[int]:
    """How many days of each of a course's decks are done."""
    from coach.session.assigned.deck_progress import standing

    rows = standing(record, "", "", START)
    (mine,) = [one for one in courses(rows) if one.title == course_title]
    return [one.days_done for one in mine.decks]


def test_a_second_course_takes_nothing_from_the_first(tmp_path: Path):
    record = taken(tmp_path / "record.db", course())
    first = course().decks[0].deck
    assert same_work(first, course(LATER).decks[0].deck), "or this shows nothing"
    practise(record, "one", 0, 4)
    before = places(record)
    add_to(record, course(LATER))
    assert places(record) == sorted(
        [*before, *(("Three weeks again", title) for title in ("Values", "Hues", "Greyish"))]
    )
    assert done(record, "Three weeks") == [1, 0, 0]
    assert done(record, "Three weeks again") == [0, 0, 0]
    # Nor does the first when it comes again, corrected.
    add_to(record, course(TEXT.replace("Fill five boxes.", "Fill six boxes.")))
    assert done(record, "Three weeks") == [1, 0, 0]
    assert len(places(record)) == 6


def test_a_course_whose_title_was_corrected_is_still_that_course(tmp_path: Path):
    record = taken(tmp_path / "record.db", course(TEXT.replace("Three weeks", "Thre weeks")))
    practise(record, "one", 0, 4)
    add_to(record, course(TEXT.replace("Fill five", "Fill six")))
    assert done(record, "Three weeks") == [1, 0, 0]
    assert len(places(record)) == 3


TWICE = TEXT.replace('title = "Hue"', 'title = "Hue, part A"').replace(
    'title = "Greys"\nkinds = ["grey-lean"]', 'title = "Hue, part B"\nkinds = ["hue-and-lean"]'
)


def test_two_weeks_of_one_course_that_ask_the_same_keep_their_own_answers(tmp_path: Path):
    record = taken(tmp_path / "record.db", course(TWICE))
    assert same_work(course(TWICE).decks[1].deck, course(TWICE).decks[2].deck)
    practise(record, "two", 0, 4)
    add_to(record, course(TWICE.replace('purpose = "To see"', 'purpose = "To look"')))
    add_to(record, course(TWICE.replace('name = "t', 'purpose = "Look"\nname = "t')))
    assert done(record, "Three weeks") == [0, 1, 0]
    # Their names in the course tell them apart where no title does.
    practise(record, "three", 0, 4)
    add_to(record, course(TWICE.replace("part A", "part C").replace("part B", "part D")))
    assert done(record, "Three weeks") == [0, 1, 1]
    practise(record, "three", 1, 4)
    again = TWICE.replace("part A", "part E").replace("part B", "part F")
    add_to(record, course(again))
    assert [stands(record, 1)[one].tally.answers for one in ("two", "three")] == [4, 8]


def test_a_deck_sent_alone_takes_only_the_place_it_is_likest_to(tmp_path: Path):
    record = taken(tmp_path / "record.db", course(TWICE))
    practise(record, "three", 0, 4)
    mended = replace(course(TWICE).decks[1].deck, note="Look twice.")
    add(record, looked_at(record, mended), START)
    assert (stands(record)["two"].deck.note, stands(record)["two"].days_done) == ("Look twice.", 0)
    assert stands(record)["three"].days_done == 1
    # Where it is as like to one as to another it stands for itself.
    neither = replace(mended, title="Hue, part C", note="Look thrice.")
    add(record, looked_at(record, neither), START)
    assert set(stands(record)) == {"one", "two", "three", "Hue, part C"}
    assert [stands(record)[one].deck.note for one in ("two", "Hue, part C")] == [
        *("Look twice.", "Look thrice.")
    ]


def test_what_is_typed_of_a_sheet_goes_to_the_likest_deck_or_is_refused(tmp_path: Path):
    record = taken(tmp_path / "record.db", course(TWICE))
    _, one, two = (each.deck for each in course(TWICE).decks)
    for deck in (one, two):
        reworded = replace(deck, note="Other words.")
        kept = kept_deck(record, reworded)
        assert kept is not None
        assert kept.title == deck.title
    with pytest.raises(InputError, match="several of your decks ask the same"):
        kept_deck(record, replace(one, title="Hue, part C"))
    assert kept_deck(record, replace(one, title="Autumn")) is None


def test_a_deck_of_its_own_becomes_one_week_s_and_not_both(tmp_path: Path):
    record = Record.open(tmp_path / "record.db")
    alone = replace(course(TWICE).decks[2].deck, note="Alone.")
    put_deck(record, alone.fingerprint, alone.title, to_kept(alone), START)
    practise(record, "Hue, part B", 0, 4)
    add_to(record, course(TWICE))
    assert done(record, "Three weeks") == [0, 0, 1]


# -- in a class ----------------------------------------------------------------------------


ASKS = "a" * 64


def named(number: int, title: str, place: CoursePlace | None) -> DeckNamed:
    due = date(2026, 3, 9)
    return DeckNamed(str(number) * 64, title, "A. Teacher", 4, 2, due, 0.7, ASKS, (), place)


def place(title: str, name: str, number: int = 1) -> CoursePlace:
    return CoursePlace(title, "A. Teacher", "week", name, number, 3, ASKS)


AUTUMN = named(1, "Hue I", place("Autumn", "two"))
AUTUMN_LATER = named(2, "Hue II", place("Autumn", "three", 3))
SPRING = named(3, "Hue III", place("Spring", "two"))
SPRING_REWORDED = named(4, "Hue IIII", place("Spring", "two"))
ALONE = named(5, "Hue II", None)


def test_a_class_keeps_them_apart_in_whatever_order_they_come(tmp_path: Path):
    every = (AUTUMN, AUTUMN_LATER, SPRING, SPRING_REWORDED, ALONE)
    assert all(same_work(one, other) for one, other in itertools.combinations(every, 2))
    files = []
    for at, (deck, who) in enumerate(
        zip(every, ("Wren", "Wren", "Wren", "Rail", "Rail"), strict=True)
    ):
        mine = attempts(who, range(8 * at, 8 * at + at + 1))
        files.append(results_file(who, [replace(a, deck=deck.fingerprint) for a in mine], deck))
    made = []
    for turn, some in enumerate(itertools.permutations(files)):
        if turn % 7:
            continue
        book = ClassBook.open(tmp_path / f"{turn}.db")
        for data in some:
            book.add(read(data), "f")
        assert sorted((line.title, line.tries) for line in decks(book)) == [
            ("Hue I", 1),
            ("Hue II", 2),
            ("Hue II", 5),
            # Three and four: one week of one course, its words changed.
            ("Hue III", 7),
        ]
        made.append(content(book))
        book.close()
    assert len(made) > 10
    assert all(one == made[0] for one in made)


# -- the order of drills -------------------------------------------------------------------


def draft(kinds: tuple[str, ...] = ()) -> Deck:
    return replace(course().decks[0].deck, kinds=kinds)


def test_a_new_deck_is_the_same_whatever_its_drills_are_called_and_in_which_order_chosen():
    names = list(all_kinds())[:4]
    by_title = sorted(names, key=lambda name: all_kinds()[name].title[::-1])
    whole = {
        chosen(draft(), "kinds", order).fingerprint for order in itertools.permutations(by_title)
    }
    step_by_step = draft()
    for count in range(1, 5):
        step_by_step = chosen(step_by_step, "kinds", by_title[-count:])
    assert whole == {step_by_step.fingerprint}
    # One that was written in another order keeps it: nothing begins anew for looking at the list.
    old = draft(("value-order", "grey-lean"))
    assert chosen(old, "kinds", sorted(old.kinds)).fingerprint == old.fingerprint
    added = chosen(old, "kinds", ["grey-lean", "handling", "value-order"])
    assert added.kinds == ("value-order", "grey-lean", "handling")
