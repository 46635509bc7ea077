"""Where each student stands in a course, whatever the level they were given it at.

A course's decks are told by the course and by their name in it: the same deck at two levels
asks differently, and is one place. A deck passed at any level is passed.
"""

from __future__ import annotations

from collections import defaultdict
from typing import NamedTuple

from scores.classes.passing import passes
from scores.classes.store import ClassBook
from scores.classes.views import decks
from scores.classes.works import places_in
from scores.exchange.results_written import CoursePlace

Course = tuple[str, str]
"""Author and title, as ``CoursePlace.course`` has them."""


class InCourse(NamedTuple):
    """A student in a course: the furthest deck with an answer, and how much of it is done."""

    student: str
    place: CoursePlace
    deck: str
    done: int
    days: int
    passed: bool

    @property
    def words(self) -> str:
        """ "Week 2 of 4: Values before colours, 3 of 7 days"."""
        at = f"{self.place.words}: {self.deck}"
        if not self.passed:
            done = f"{self.done} of {self.days} days" if self.done < self.days else "not passed yet"
            return f"{at}, {done}{self._level}"
        whole = ", the last: all of it done" if self.place.number == self.place.decks else ""
        return f"{at}, passed{whole}{self._level}"

    @property
    def _level(self) -> str:
        return f" ({self.place.level})" if self.place.level else ""


class CourseLine(NamedTuple):
    """A course of the class, and its students, the least far first."""

    title: str
    author: str
    students: tuple[InCourse, ...]


def courses(book: ClassBook) -> tuple[CourseLine, ...]:
    """Every course of which a deck was given or answered, by title."""
    found: dict[Course, list[InCourse]] = defaultdict(list)
    named: dict[Course, CoursePlace] = {}
    ids = dict(book.db.execute("SELECT key, id FROM students WHERE key = person"))
    has = _courses_of_students(book)
    for line in decks(book):
        if not line.places:
            continue
        for at in line.places:
            named[at.course] = max(named.get(at.course, at), at, key=_spelling)
        rows = book.db.execute(
            "SELECT student, deck, done, CASE WHEN latest > 0 THEN latest_score / latest END"
            " FROM deck_marks WHERE deck = (SELECT work FROM decks WHERE fingerprint = ?)",
            (line.fingerprint,),
        )
        for student, work, done, level in rows:
            passed = passes(done, line.days, level, line.pass_level)
            days = (min(done, line.days), line.days, passed)
            # Of one whose sheets alone were typed in no file says: it counts in each.
            mine = has.get((student, work))
            for at in line.places:
                if mine is None or at.course in mine:
                    found[at.course].append(InCourse(ids[student], at, line.title, *days))
    told = [
        CourseLine(place.title, place.author, _furthest(found[course]))
        for course, place in named.items()
    ]
    return tuple(sorted(told, key=lambda one: (one.title.casefold(), one.author.casefold())))


def _courses_of_students(book: ClassBook) -> dict[tuple[int, int], set[Course]]:
    """The courses in which each person has a work, by their keys, as their files say."""
    found: dict[tuple[int, int], set[Course]] = defaultdict(set)
    read: dict[str, set[Course]] = {}
    rows = book.db.execute(
        "SELECT person, work, courses FROM places JOIN students ON students.key = student"
        " JOIN decks ON decks.key = deck"
    )
    for person, work, courses in rows:
        if courses not in read:
            # Most students of a class have the same.
            read[courses] = {one.course for one in places_in(courses)}
        found[person, work] |= read[courses]
    return dict(found)


def _spelling(place: CoursePlace) -> tuple[str, str]:
    return place.title, place.author


def _furthest(rows: list[InCourse]) -> tuple[InCourse, ...]:
    """One row a student: the furthest deck, passed at any level, else the one most done."""
    best: dict[str, InCourse] = {}
    for row in rows:
        mine = best.get(row.student)
        if mine is None or _reach(row) > _reach(mine):
            best[row.student] = row
    return tuple(sorted(best.values(), key=lambda row: (_reach(row)[:3], row.student)))


def _reach(row: InCourse) -> tuple[int, bool, float, str]:
    return (row.place.number, row.passed, row.done / row.days, row.place.level)
