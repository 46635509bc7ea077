"""A course that came from a teacher: what it changes, and taking it in, deck by deck.

What of it was passed stays passed, also where the course comes again changed or at another
level. Answers to a deck under way count on where its questions and its level are the same.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from coach.reports.deck_words import about_course, level_line
from coach.session.assigned.deck_progress import standing
from decks.courses.course import Course
from decks.courses.levels import decks_at_level
from decks.record_form import CourseKept, before_of, course_of, from_kept, to_kept
from drills.basics.counted import counted
from drills.basics.errors import InputError, plain
from scores.exchange.same_work import same_work, titles_alike
from scores.record.decks_added import DeckKept, decks_kept, drop_deck, put_deck
from scores.record.record import NotSavedError

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence
    from datetime import datetime

    from decks.deck import Deck
    from scores.record.record import Record


class DeckAdding(NamedTuple):
    """A deck of the course as it would be kept."""

    deck: Deck
    kept: CourseKept
    before: list[str]


class CourseAdding(NamedTuple):
    """A course before it is added; ``older`` are the decks it takes the place of."""

    course: Course
    decks: list[DeckAdding]
    older: list[DeckKept]
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
        if passed:
            again += f" What you have passed stays passed: {passed} of its decks."
        lines.append(
            f"What it changes: one deck after another, {count} in all, from"
            f" {counted(first.items_a_day, 'question')} a day on, come into your daily"
            " session, at most half of it. Each opens once what it needs is passed. Nothing is"
            f" sent to anyone; you may drop it.{again}"
        )
        return lines


def course_looked_at(
    record: Record, course: Course, now: datetime, anew: bool = False
) -> CourseAdding:
    """What adding this course would come to; with ``anew`` nothing older counts."""
    kept_now = decks_kept(record)
    mine = _mine(course, kept_now)
    passed = {
        one.course.place.name
        for one in standing(record, "", "", now)
        if one.course is not None and one.passed and one.course.place.course in mine
    }
    older, before = _older(course, kept_now, mine)
    rows: list[DeckAdding] = []
    for number, deck in enumerate(decks_at_level(course), start=1):
        place, needs = course.place(number), course.decks[number - 1].needs
        stays = place.name in passed and not anew
        counted = [] if anew else sorted(before[number - 1] - {deck.fingerprint})
        rows.append(DeckAdding(deck, CourseKept(place, needs, stays), counted))
    there = {kept.fingerprint: course_of(kept.content) for kept in kept_now}
    same = all(_is_there(row, there.get(row.deck.fingerprint)) for row in rows)
    return CourseAdding(course, rows, list(older.values()), same and len(older) == len(rows))


def add_course(record: Record, adding: CourseAdding, now: datetime) -> None:
    """Take the course in, in the place of its older versions. Raises InputError.

    What is new is kept first and what it takes the place of goes last, so that a deck which tells
    what was passed is there whenever this is broken off.
    """
    older = {kept.fingerprint for kept in adding.older}
    new = {row.deck.fingerprint for row in adding.decks}
    try:
        for row in sorted(adding.decks, key=lambda row: row.deck.fingerprint in older):
            if row.deck.fingerprint in older:
                drop_deck(record, row.deck.fingerprint)
            content = to_kept(row.deck, row.before, row.kept)
            put_deck(record, row.deck.fingerprint, row.deck.title, content, now)
        for fingerprint in sorted(older - new):
            drop_deck(record, fingerprint)
    except NotSavedError as error:
        problem = f"the course was not added to its end: {error}"
        raise InputError("the record", problem, "Add it again.") from error


def course_named(record: Record, named: str) -> tuple[str, list[DeckKept]]:
    """The one course whose title begins so, and its decks kept. Raises InputError."""
    titles: dict[str, list[DeckKept]] = {}
    for kept in decks_kept(record):
        at = course_of(kept.content)
        if at is not None:
            titles.setdefault(at.place.title, []).append(kept)
    wanted = " ".join(named.split()).casefold()
    whole = [title for title in titles if title.casefold() == wanted]
    found = whole or [title for title in titles if wanted and title.casefold().startswith(wanted)]
    if len(found) != 1:
        problem = "several courses begin so" if found else "you have no such course"
        raise InputError("the course", problem, "See them with: coach course list")
    return found[0], titles[found[0]]


def drop_course(record: Record, decks: list[DeckKept]) -> None:
    """Forget the decks of a course; their answers stay in the record. Raises InputError."""
    try:
        for kept in decks:
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
        at = course_of(kept.content)
        if at is not None:
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
    that stays where it is. Raises InputError where the very deck stands in another course.
    """
    decks = decks_at_level(course)
    places = [course.place(number) for number in range(1, len(decks) + 1)]
    names = {one.name for one in places}
    older: dict[str, DeckKept] = {}
    before: list[set[str]] = [set() for _ in decks]
    for kept in kept_now:
        other, at = from_kept(kept.content), course_of(kept.content)
        if at is not None and at.place.course not in mine:
            if any(deck.fingerprint == kept.fingerprint for deck in decks):
                raise _in_two(kept.title, at.place.title)
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


def _in_two(title: str, other: str) -> InputError:
    where = plain(title, 100)
    problem = f"this deck stands in your course “{plain(other, 100)}” too, and can be in one only"
    return InputError(
        where,
        problem,
        "Drop that course first, with: coach course drop. What you answered stays, and counts.",
    )


def _is_there(row: DeckAdding, at: CourseKept | None) -> bool:
    return at is not None and (at.place, at.needs) == (row.kept.place, row.kept.needs)
