"""Which decks of a course are at hand on a day, and where the course stands.

A deck opens once those it needs are passed. The one that opens next is made ready as well, so
that it can be asked as soon as that happens.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from operator import itemgetter
from typing import TYPE_CHECKING

from coach.session.assigned.deck_progress import DeckStanding, opened, standing
from coach.session.today_plan import kinds_stamp
from decks.courses.levels import decks_at_level
from decks.record_form import CourseKept
from scores.record.decks_added import Tally

if TYPE_CHECKING:
    from decks.courses.course import Course
    from decks.deck import Deck
    from scores.exchange.results_written import CoursePlace
    from scores.record.record import Record


@dataclass(frozen=True)
class CourseStanding:
    """Where a course stands: ``decks`` in its order."""

    decks: tuple[DeckStanding, ...]

    @property
    def title(self) -> str:
        return self._first.title

    @property
    def level(self) -> str:
        return self._first.level

    @property
    def _first(self) -> CoursePlace:
        first = self.decks[0].course
        assert first is not None
        return first.place

    @property
    def now(self) -> tuple[DeckStanding, ...]:
        """The decks that are open and not passed yet."""
        return tuple(one for one in self.decks if one.state in ("to do", "done today"))

    @property
    def next(self) -> DeckStanding | None:
        """The first that is not open yet."""
        return next((one for one in self.decks if one.state == "not open"), None)

    @property
    def passed(self) -> int:
        return sum(one.passed for one in self.decks)


def courses(standings: Sequence[DeckStanding]) -> tuple[CourseStanding, ...]:
    """The courses among these decks, in the order in which they come; a deck that stands in
    several is in each, at its place there."""
    found: dict[tuple[str, str], list[tuple[int, DeckStanding]]] = defaultdict(list)
    for one in standings:
        for at in one.courses:
            others = tuple(each for each in one.courses if each != at)
            here = replace(one, course=at, also=others)
            found[at.place.course].append((at.place.number, here))
    return tuple(
        CourseStanding(_opened_in([one for _, one in sorted(decks, key=itemgetter(0))], standings))
        for decks in found.values()
    )


def _opened_in(
    decks: Sequence[DeckStanding], standings: Sequence[DeckStanding]
) -> tuple[DeckStanding, ...]:
    """The decks of one course, each waiting for what it waits for there."""
    mine = {one.fingerprint for one in decks}
    rest = [one for one in standings if one.fingerprint not in mine]
    return tuple(opened([*decks, *rest])[: len(decks)])


def course_words(course: CourseStanding, named: bool = False) -> str:
    """Which part of it stands and what comes next, in a line; ``named`` where there are others."""
    if not course.now:
        if course.next is None and course.passed == len(course.decks):
            return f"“{course.title}” is done: all {len(course.decks)} decks are passed."
        held = next(one for one in course.decks if not one.passed)
        return f"“{course.title}”: {held.deck.title}, {held.words}."
    parts = [f"{place_words(one)}: {one.deck.title}, {one.words}" for one in course.now]
    then = "" if course.next is None else f" Next: {course.next.deck.title}."
    which = f"“{course.title}”: " if named else ""
    return f"{which}{'; '.join(parts)}.{then}"


def course_lines(course: CourseStanding, parted: str = ": ") -> list[str]:
    """Each deck in their order: its title, and ``parted`` where it stands, or why it is closed."""
    return [f"{place_words(one)}: {one.deck.title}{parted}{one.words}" for one in course.decks]


def course_head(course: CourseStanding) -> str:
    """Whose course it is, and at which level."""
    level = f", level: {course.level}" if course.level else ""
    return f"{course.title} ({course.decks[0].deck.author}){level}"


def as_sent(course: Course) -> CourseStanding:
    """The course as a student has it who has answered nothing yet, on no day in particular."""
    rows = [
        DeckStanding(
            deck.fingerprint,
            deck,
            Tally({}, {}, ()),
            None,
            date.max,
            course=CourseKept(course.place(number), course.decks[number - 1].needs),
        )
        for number, deck in enumerate(decks_at_level(course), start=1)
    ]
    return CourseStanding(tuple(opened(rows)))


def opening_words(one: DeckStanding) -> str:
    """When a deck of a course opens, as a student is told at its beginning."""
    return one.closed_words if one.waits_for else "open from the start"


def place_words(one: DeckStanding) -> str:
    """ "Week 2 of 4"."""
    return one.course.place.words if one.course is not None else ""


def at_hand(standings: Sequence[DeckStanding]) -> list[DeckStanding]:
    """The decks to be made ready: all of no course, and of each the open ones and the next."""
    found = {}
    for one in standings:
        if one.course is None or one.state in ("to do", "done today"):
            found[one.fingerprint] = one
    for course in courses(standings):
        opening = {one.deck.title for one in course.now}
        for one in course.decks:
            if one.state == "not open" and set(one.waits_for) <= opening:
                found.setdefault(one.fingerprint, one)
    return list(found.values())


def decks_at_hand(record: Record, now: datetime) -> tuple[Deck, ...]:
    """The decks to be made ready for the pencils in use."""
    pencils = record.active_pencils()
    fingerprint = pencils.fingerprint if pencils else ""
    return tuple(one.deck for one in at_hand(standing(record, fingerprint, kinds_stamp(), now)))


def just_opened(standings: Sequence[DeckStanding], ready: Collection[str]) -> set[str]:
    """The fingerprints of decks that are open and were not made ready."""
    return {
        one.fingerprint
        for one in standings
        if one.course is not None and one.state == "to do" and one.fingerprint not in ready
    }
