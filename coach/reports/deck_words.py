"""A deck in words, and a course, for commands and the app."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from drills.basics.counted import counted
from drills.basics.days import date_text
from drills.outside import lacking

if TYPE_CHECKING:
    from decks.courses.course import Course
    from decks.deck import Deck
    from scores.record.decks_added import DeckKept


def in_short(deck: Deck) -> str:
    """A deck in one line."""
    parts = [
        f"{deck.items_a_day} a day for {counted(deck.days, 'day')}",
        ", ".join(deck.kinds),
        ", ".join(deck.families) or "every family",
    ]
    if deck.targets:
        parts.append(counted(len(deck.targets), "target colour"))
    if deck.due is not None:
        parts.append(f"due {date_text(deck.due)}")
    return f"“{deck.title}”: {'; '.join(parts)}."


def course_in_short(course: Course) -> str:
    """A course in one line."""
    level = f", level {course.level}" if course.level else ""
    titles = ", ".join(one.deck.title for one in course.decks)
    return f"“{course.title}”{level}: {counted(len(course.decks), 'deck')}: {titles}."


def about(deck: Deck) -> str:
    """Its title, who it says it is from, and what it is for."""
    lines = [deck.title, f"It says it is from: {deck.author}"]
    if deck.purpose:
        lines.append(f"Purpose: {deck.purpose}")
    lines += [f"  {line}" for line in deck.note.splitlines()]
    return "\n".join(lines)


def needs(deck: Deck) -> list[str]:
    """A line on the kinds it asks for that are not to be had here, if there are any."""
    from decks.vocabulary import kind_of

    absent = [name for name in deck.kinds if kind_of(name) is None]
    if not absent:
        return []
    packages = lacking(absent)
    remedy = "see coach doctor"
    if packages:
        # A deck may name any package: what it runs is its author's.
        remedy = f"if you know whose it is, install the package {', '.join(packages)}"
    rest = "" if len(absent) == len(deck.kinds) else " The rest of the deck works without."
    return [f"It asks for {', '.join(absent)}, not installed here: {remedy}.{rest}"]


def changes(deck: Deck, older: list[DeckKept], before: Sequence[str] = ()) -> str:
    """What adding it would change; ``older`` are versions that it takes the place of.

    ``before`` are the fingerprints of those that differ from it in words alone.
    """
    pencils = "your own pencils"
    if deck.pencils:
        pencils = (
            f"{deck.pencils.count(chr(10)) - 1} pencils that it brings (yours stay as they are)"
        )
    due = "" if deck.due is None else f", until {date_text(deck.due)}"
    instead = "".join(
        f" It takes the place of the version you added on {date_text(kept.added)}: "
        + (
            "its questions are the same, so what you answered counts."
            if kept.fingerprint in before
            else "it begins anew."
        )
        for kept in older
    )
    return (
        f"What it changes: {counted(deck.items_a_day, 'question')} a day on"
        f" {counted(deck.days, 'day')}{due} come into "
        f"your daily session, at most half of it, with {pencils}. Nothing is sent to anyone; "
        f"you may drop it at any time.{instead}"
    )


def about_course(course: Course) -> str:
    """Its title, who it says it is from, and what it is for."""
    lines = [course.title, f"It says it is from: {course.author}"]
    if course.purpose:
        lines.append(f"Purpose: {course.purpose}")
    lines += [f"  {line}" for line in course.note.splitlines()]
    return "\n".join(lines)


def level_line(course: Course) -> str:
    """The level it is given at, and which others there are."""
    others = ", ".join(f"“{one.name}”" for one in course.levels if one.name != course.level)
    chosen = f"Level: {course.level}" if course.level else "No level is chosen: it is as written"
    return f"{chosen}; there is {others}." if others else f"{chosen}."


def deck_lines(course: Course) -> list[str]:
    """A line a deck: its place, days, questions a day and how they grow, and when it opens."""
    from coach.session.assigned.course_work import as_sent, opening_words, place_words

    lines = []
    for one in as_sent(course).decks:
        deck = one.deck
        grows = "".join(f", {items} from day {day}" for day, items in deck.growth)
        lines.append(
            f"{place_words(one)}: {deck.title}, {counted(deck.days, 'day')},"
            f" {counted(deck.items_a_day, 'question')} a day{grows};"
            f" {counted(len(deck.steps), 'step')}; {opening_words(one)}"
        )
    return lines
