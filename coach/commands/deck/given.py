"""The deck and the pencils that a command was given."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from decks.courses.course import Course
    from decks.deck import Deck


def given(file: str | None, starter: str | None) -> Deck:
    """The deck of a file, or a starter's. Raises InputError."""
    if (file is None) == (starter is None):
        raise click.UsageError("give a FILE, or --starter NAME, and only one of them.")
    if file is not None:
        from decks.deck_file import load_deck

        return load_deck(file).sound()
    return starter_named(str(starter))


def starter_named(name: str) -> Deck:
    from decks.starters import starter, starter_names
    from decks.vocabulary import meant

    if name not in starter_names():
        where = f"starter “{plain(name, 40)}”"
        raise InputError(where, "there is no such starter deck", meant(name, starter_names()))
    return starter(name)


def own_pencils(pocket: bool):  # type: ignore[no-untyped-def]
    from coach.home import pencils_in_use
    from drills.pencils.sets import demo_set, pocket_set

    if pocket:
        return pocket_set()
    return pencils_in_use() or demo_set()


def given_course(file: str | None, starter: str | None, level: str | None) -> Course:
    """The course of a file, or a starter's, at its level. Raises InputError."""
    from decks.courses.course_file import load_course
    from decks.courses.levels import at_level
    from decks.starters import starter_course

    if (file is None) == (starter is None):
        raise click.UsageError("give a FILE, or --starter NAME, and only one of them.")
    if file is not None:
        course = load_course(file).sound()
    else:
        course = starter_course(starter_course_named(str(starter)))
    return course if level is None else at_level(course, level)


def starter_course_named(name: str) -> str:
    """The name, where it is a starter course's. Raises InputError."""
    from decks.starters import starter_courses
    from decks.vocabulary import meant

    if name not in starter_courses():
        where = f"starter “{plain(name, 40)}”"
        raise InputError(where, "there is no such starter course", meant(name, starter_courses()))
    return name
