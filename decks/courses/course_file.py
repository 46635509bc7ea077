"""Reading a course's file, or whichever of a deck and a course a file is: hostile until checked."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass

from decks.courses.checks import check_course
from decks.courses.course import Course
from decks.deck_file import CheckedDeck, RefusedError, deck_said, is_course, toml_in
from decks.problems import Problem, first_of
from decks.toml_text.lines import lines_of
from drills.basics.ordinary_file import read_ordinary

MAX_BYTES = 1_000_000


@dataclass(frozen=True)
class CheckedCourse:
    """A course, or None and what is wrong with its file."""

    source: str
    course: Course | None
    problems: tuple[Problem, ...] = ()

    def sound(self) -> Course:
        """The course. Raises InputError with the first problem, and how many more there are."""
        if self.course is not None:
            return self.course
        raise first_of(self.problems, self.source, "coach course check")


def load_course(path: str | os.PathLike[str]) -> CheckedCourse:
    """Read a course's file. Raises InputError only when it can't be read as a file at all."""
    return read_course(read_ordinary(path, MAX_BYTES, "a course"), os.fspath(path))


def read_course(data: bytes, source: str) -> CheckedCourse:
    """Read a course from the bytes of a file; ``source`` names it in problems."""
    try:
        text, said = toml_in(data, "a course", MAX_BYTES)
    except RefusedError as error:
        return CheckedCourse(source, None, (error.problem,))
    if "kinds" in said and not is_course(said):
        whole = Problem(0, "", "this is a deck, not a course", "See: coach deck preview FILE")
        return CheckedCourse(source, None, (whole,))
    return _checked(text, said, source)


def load_work(path: str | os.PathLike[str]) -> CheckedDeck | CheckedCourse:
    """Read a file that is a deck's or a course's. Raises InputError as ``load_course`` does."""
    return read_work(read_ordinary(path, MAX_BYTES, "a deck or a course"), os.fspath(path))


def read_work(data: bytes, source: str) -> CheckedDeck | CheckedCourse:
    """Read a deck or a course from the bytes of a file, as it says which it is."""
    try:
        text, said = toml_in(data, "a deck or a course", MAX_BYTES)
    except RefusedError as error:
        return CheckedDeck(source, None, (error.problem,))
    if is_course(said):
        return _checked(text, said, source)
    return deck_said(text, said, source)


def _checked(text: str, said: Mapping[str, object], source: str) -> CheckedCourse:
    course, problems = check_course(said, lines_of(text))
    return CheckedCourse(source, course, tuple(problems))
