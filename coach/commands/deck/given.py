"""The deck or course, and the pencils, that a command was given."""

from __future__ import annotations

import shlex
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from coach.output import checked, write
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from decks.courses.course import Course
    from decks.deck import Deck
    from drills.layering.palette import Palette
    from drills.pencils.pencil import PencilSet
    from drills.questions.protocol import Kind

starter_option = click.option(
    "--starter", metavar="NAME", help="One that comes with the coach: coach deck starters"
)
course_option = click.option(
    "--starter", metavar="NAME", help="One that comes with the coach: coach course starters"
)
pocket_option = click.option(
    "--pocket", is_flag=True, help="With the 12 invented pencils, not those in use."
)
level_option = click.option("--level", metavar="NAME", help="One of the course's levels.")


def given(file: str | None, starter: str | None) -> Deck:
    """The deck of a file, or a starter's. Raises InputError."""
    _one_of(file, starter)
    if file is not None:
        from decks.deck_file import load_deck

        return load_deck(file).sound()
    return starter_named(str(starter))


def given_course(file: str | None, starter: str | None, level: str | None) -> Course:
    """The course of a file, or a starter's, at a level. Raises InputError."""
    from decks.courses.course_file import load_course

    _one_of(file, starter)
    course = load_course(file).sound() if file is not None else starter_course_named(str(starter))
    return _at(course, level)


def given_work(file: str | None, starter: str | None, level: str | None) -> Deck | Course:
    """The deck or course of a file, or a starter of either, a course at a level.

    Raises InputError.
    """
    from decks.starters import starter_courses

    _one_of(file, starter)
    if file is not None:
        return work_in(file, level)
    if starter in starter_courses():
        return _at(starter_course_named(str(starter)), level)
    deck = starter_named(str(starter))
    _no_level(level)
    return deck


def work_in(file: str, level: str | None) -> Deck | Course:
    """The deck or course in a file, a course at a level. Raises InputError."""
    from decks.courses.course_file import CheckedCourse, load_work

    found = load_work(file)
    if isinstance(found, CheckedCourse):
        return _at(found.sound(), level)
    _no_level(level)
    return found.sound()


def starter_named(name: str) -> Deck:
    """A starter deck. Raises InputError."""
    from decks.starters import starter, starter_names

    return starter(_among(name, starter_names(), "deck"))


def starter_course_named(name: str) -> Course:
    """A starter course. Raises InputError."""
    from decks.starters import starter_course, starter_courses

    return starter_course(_among(name, starter_courses(), "course"))


def starters_lines(names: Collection[str]) -> list[str]:
    """A line a starter: its name, title and what it is for."""
    from decks.starters import title_and_purpose

    wide = max(map(len, names)) + 2
    about = {name: title_and_purpose(name) for name in names}
    return [f"{name:{wide}}{title}: {purpose}." for name, (title, purpose) in about.items()]


def write_new(file: str, text: str, force: bool, group: str) -> None:
    """Write a file to change by hand, or print it where FILE is -. Raises InputError."""
    if file == "-":
        click.echo(text, nl=False)
        return
    write(file, [text], force=force)
    check = f"coach {group} check {shlex.quote(plain(file, 200))}"
    click.echo(f"{plain(file, 200)} is written. Change it, then: {check}")


def checked_apart(out: str, answers: str | None, force: bool) -> None:
    """Look at the files for a worksheet and its answers before any work is done.

    Raises InputError where one can't be written, or both are one.
    """
    path = checked(out, "worksheet", force).resolve()
    if answers is not None and checked(answers, "worksheet", force).resolve() == path:
        where = plain(answers, 200)
        raise InputError(where, "sheets and answers would be one file", "Give another name.")


def own_pencils(pocket: bool) -> PencilSet:
    """The pencils to try with: the pocket set, else those in use, else the set of 36."""
    from coach.home import pencils_in_use
    from drills.pencils.sets import demo_set, pocket_set

    if pocket:
        return pocket_set()
    return pencils_in_use() or demo_set()


def screen_lines(deck: Deck, own: Palette, kinds: Mapping[str, Kind]) -> list[str]:
    """How many of a deck's colours a student without a measured screen waits for, in a line."""
    from coach.session.assigned.deck_questions import ready_deck
    from decks.waiting import waiting_words

    if not deck.targets:
        return []
    unmeasured = ready_deck(deck, replace(own, screen_known=False), kinds)
    words = waiting_words(unmeasured.waiting, len(deck.targets), by_eye=False)
    return [f"Before a student has measured their screen, {words}"] if words else []


def unmeasured_lines(deck: Deck) -> list[str]:
    """``screen_lines`` with the pencils in use, else the set of 36."""
    if not deck.targets:
        return []
    from drills.kinds import all_kinds
    from drills.layering.palette import prepare

    return screen_lines(deck, prepare(own_pencils(pocket=False)), all_kinds())


def _one_of(file: str | None, starter: str | None) -> None:
    if (file is None) == (starter is None):
        raise click.UsageError("give a FILE, or --starter NAME, and only one of them.")


def _at(course: Course, level: str | None) -> Course:
    from decks.courses.levels import at_level

    return course if level is None else at_level(course, level)


def _no_level(level: str | None) -> None:
    if level is not None:
        raise click.UsageError("--level is for a course; this is a deck.")


def _among(name: str, names: Collection[str], what: str) -> str:
    from decks.vocabulary import meant

    if name not in names:
        where = f"starter “{plain(name, 40)}”"
        raise InputError(where, f"there is no such starter {what}", meant(name, names))
    return name
