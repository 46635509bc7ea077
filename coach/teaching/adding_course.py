"""A course that came from a teacher: what it changes, and taking it in, deck by deck.

What of it was passed stays passed, also where the course comes again changed or at another
level. Answers to a deck under way count on where its questions and its level are the same.
The very deck may stand in several courses: it is kept once, with its place in each.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from coach.reports.deck_words import about_course, level_line
from coach.session.assigned.deck_progress import standing
from decks.courses.course import Course
from decks.courses.levels import decks_at_level
from decks.record_form import CourseKept, before_of, courses_of, from_kept, placed, to_kept
from drills.basics.counted import counted
from drills.basics.errors import InputError
from scores.exchange.same_work import same_work, tidy, titles_alike
from scores.record.decks_added import (
    DeckKept,
    decks_kept,
    drop_deck,
    put_deck,
    rewrite_deck,
)
from scores.record.record import NotSavedError

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence
    from datetime import datetime

    from decks.deck import Deck
    from scores.exchange.results_written import CoursePlace
    from scores.record.record import Record


class DeckAdding(NamedTuple):
    """A deck of the course as it would be kept; ``now`` is the very deck where it is kept
    already, ``also`` its places in other courses."""

    deck: Deck
    kept: CourseKept
    before: list[str]
    now: DeckKept | None = None
    also: tuple[CourseKept, ...] = ()


class CourseAdding(NamedTuple):
    """A course before it is added; ``older`` are the decks it takes the place of, ``left`` what
    is kept of those of them that stand in other courses too, by fingerprint."""

    course: Course
    decks: list[DeckAdding]
    older: list[DeckKept]
    left: dict[str, str]
    there: bool

    @property
    def title(self) -> str:
        return self.course.title

    @property
    def words(self) -> list[str]:
        """Who it says it is from, and what it would change."""
        first = self.decks[0].deck
        count = len(self.decks)
        lines = [about_course(self.course)]
        if self.course.levels:
            lines.append(level_line(self.course))
        passed = sum(one.kept.passed for one in self.decks)
        again = ""
        if self.older:
            again = " It takes the place of what you have of it; what you answered before counts"
            again += " where its questions and its level are the same."
        again += self._shared
        if passed:
            again += f" What you have passed stays passed: {passed} of its decks."
        lines.append(
            f"What it changes: one deck after another, {count} in all, from"
            f" {counted(first.items_a_day, 'question')} a day on, come into your daily"
            " session, at most half of it. Each opens once what it needs is passed. Nothing is"
            f" sent to anyone; you may drop it.{again}"
        )
        return lines

    @property
    def _shared(self) -> str:
        """Which of its decks the learner has in other courses."""
        shared = [one for one in self.decks if one.also]
        if not shared:
            return ""
        others = {at.place.course: at.place.title for one in shared for at in one.also}
        decks = ", ".join(f"“{one.deck.title}”" for one in shared)
        named = " and ".join(f"“{title}”" for title in others.values())
        stand = "stands" if len(shared) == 1 else "stand"
        return (
            f" {decks} {stand} in your {'course' if len(others) == 1 else 'courses'} {named} too:"
            f" asked once, counted in {'both' if len(others) == 1 else 'each'}."
        )


def course_looked_at(
    record: Record, course: Course, now: datetime, anew: bool = False
) -> CourseAdding:
    """What adding this course would come to; with ``anew`` nothing older counts."""
    kept_now = decks_kept(record)
    mine = _mine(course, kept_now)
    passed = {
        at.place.name
        for one in standing(record, "", "", now)
        for at in one.courses
        if one.passed and at.place.course in mine
    }
    older, before = _older(course, kept_now, mine)
    there = {kept.fingerprint: kept for kept in kept_now}
    elsewhere = {kept.fingerprint: _elsewhere(kept, mine) for kept in kept_now}
    rows: list[DeckAdding] = []
    for number, deck in enumerate(decks_at_level(course), start=1):
        place, needs = course.place(number), course.decks[number - 1].needs
        stays = place.name in passed and not anew
        kept, also = there.get(deck.fingerprint), elsewhere.get(deck.fingerprint, ())
        counted = set() if anew else before[number - 1]
        if kept is not None and also:
            # What counts there counts on, whatever becomes of it here.
            counted = counted | set(before_of(kept.content))
        counts = sorted(counted - {deck.fingerprint})
        rows.append(DeckAdding(deck, CourseKept(place, needs, stays), counts, kept, also))
    new = {row.deck.fingerprint for row in rows}
    left = {
        name: placed(kept.content, elsewhere[name])
        for name, kept in older.items()
        if elsewhere[name] and name not in new
    }
    same = all(_is_there(row) for row in rows) and len(older) == len(rows)
    return CourseAdding(course, rows, list(older.values()), left, same)


def add_course(record: Record, adding: CourseAdding, now: datetime) -> None:
    """Take the course in, in the place of its older versions. Raises InputError.

    What is new is kept first and what it takes the place of goes last, so that a deck which tells
    what was passed is there whenever this is broken off.
    """
    new = {row.deck.fingerprint for row in adding.decks}
    gone = [kept for kept in adding.older if kept.fingerprint not in new]
    try:
        for row in sorted(adding.decks, key=lambda row: row.now is not None):
            content = to_kept(row.deck, row.before, (*row.also, row.kept))
            if row.now is None:
                put_deck(record, row.deck.fingerprint, row.deck.title, content, now)
            else:
                rewrite_deck(record, row.now, content)
        for kept in sorted(gone, key=lambda kept: kept.fingerprint):
            if kept.fingerprint in adding.left:
                rewrite_deck(record, kept, adding.left[kept.fingerprint])
            else:
                drop_deck(record, kept.fingerprint)
    except NotSavedError as error:
        problem = f"the course was not added to its end: {error}"
        raise InputError("the record", problem, "Add it again.") from error


def course_named(record: Record, named: str) -> tuple[CoursePlace, list[DeckKept]]:
    """The one course whose title begins so, by one of its places, and its decks kept.

    Where two have one title, the author in brackets after it says which. Raises InputError.
    """
    places: dict[tuple[str, str], CoursePlace] = {}
    decks: dict[tuple[str, str], list[DeckKept]] = defaultdict(list)
    for kept in decks_kept(record):
        for at in courses_of(kept.content):
            places[at.place.course] = at.place
            decks[at.place.course].append(kept)
    wanted = tidy(named)
    names = {course: tidy(f"{one.title} ({one.author})") for course, one in places.items()}
    whole = [course for course in places if wanted in (course[1], names[course])]
    found = whole or [course for course in places if wanted and names[course].startswith(wanted)]
    if len(found) != 1:
        problem = "several courses begin so" if found else "you have no such course"
        remedy = "See them with: coach course list"
        if whole:
            remedy = "Name its author too, as it stands in: coach course list"
        raise InputError("the course", problem, remedy)
    return places[found[0]], decks[found[0]]


def drop_course(record: Record, course: CoursePlace, decks: list[DeckKept]) -> None:
    """Forget the decks of a course, and of those that stand in others too, that they stand in it;
    their answers stay in the record. ``course`` is any place in it. Raises InputError."""
    try:
        for kept in decks:
            others = _elsewhere(kept, {course.course})
            if others:
                rewrite_deck(record, kept, placed(kept.content, others))
            else:
                drop_deck(record, kept.fingerprint)
    except NotSavedError as error:
        raise InputError("the record", f"it was not dropped: {error}", "Try again.") from error


def _mine(course: Course, kept_now: Sequence[DeckKept]) -> set[tuple[str, str]]:
    """Which courses kept are this one: that of its title, and one whose title was corrected.

    That has a like title, of each of its decks one asks the same at the same place, and one at
    least is the very deck.
    """
    places = [course.place(number) for number in range(1, len(course.decks) + 1)]
    now = {(one.name, one.asks) for one in places}
    very = {deck.fingerprint for deck in decks_at_level(course)}
    held = defaultdict(set)
    shares = set()
    for kept in kept_now:
        for at in courses_of(kept.content):
            held[at.place.course].add((at.place.name, at.place.asks))
            if kept.fingerprint in very:
                shares.add(at.place.course)
    author, title = places[0].course
    return {places[0].course} | {
        (by, other)
        for by, other in shares
        if by == author and titles_alike(other, title) and held[by, other] <= now
    }


def _older(
    course: Course, kept_now: Sequence[DeckKept], mine: Collection[tuple[str, str]]
) -> tuple[dict[str, DeckKept], list[set[str]]]:
    """The decks that the course takes the place of, by fingerprint, and for each of its own the
    fingerprints whose answers count on.

    A deck kept is the older version of one of them at most, and none of another course's is:
    that stays where it is.
    """
    decks = decks_at_level(course)
    places = [course.place(number) for number in range(1, len(decks) + 1)]
    names = {one.name for one in places}
    older: dict[str, DeckKept] = {}
    before: list[set[str]] = [set() for _ in decks]
    for kept in kept_now:
        other, courses = from_kept(kept.content), courses_of(kept.content)
        at = next((one for one in courses if one.place.course in mine), None)
        if courses and at is None:
            continue
        if at is not None:
            older[kept.fingerprint] = kept
        if other is None:
            continue
        level = at.place.level if at else ""
        fits: list[tuple[tuple[bool, ...], int]] = []
        for number, (deck, place) in enumerate(zip(decks, places, strict=True)):
            if at is not None and at.place.name != place.name and at.place.name in names:
                continue
            same = same_work(other, deck) and level == place.level
            if same or (other.title, other.author) == (deck.title, deck.author):
                is_it, titled = kept.fingerprint == deck.fingerprint, other.title == deck.title
                fits.append(((is_it, same, titled), -number))
        if fits:
            older[kept.fingerprint] = kept
            (_, same, _), number = max(fits)
            if same:
                before[-number] |= {kept.fingerprint, *before_of(kept.content)}
    return older, before


def _elsewhere(kept: DeckKept, mine: Collection[tuple[str, str]]) -> tuple[CourseKept, ...]:
    """The places of a deck kept in other courses than these."""
    return tuple(at for at in courses_of(kept.content) if at.place.course not in mine)


def _is_there(row: DeckAdding) -> bool:
    wanted = (row.kept.place, row.kept.needs)
    now = () if row.now is None else courses_of(row.now.content)
    return any((at.place, at.needs) == wanted for at in now)
