"""The courses shipped with the coach, and their decks; every name in them is invented.

Use them, or copy from them.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

from decks.courses.course import Course
from decks.courses.course_file import load_course
from decks.deck import Deck

FOLDER = Path(__file__).parent / "starters"


@cache
def starter_courses() -> tuple[str, ...]:
    """The starter courses' names, as ``coach course add --starter NAME`` takes them."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.toml")))


@cache
def _decks() -> dict[str, tuple[str, str, str]]:
    """Each starter deck's course, title and purpose, by name, without working out what it asks."""
    found = {}
    for course in starter_courses():
        for deck in _content(course)["decks"]:
            found[deck["name"]] = (course, deck["title"], deck["purpose"])
    return found


def _content(course: str) -> dict:  # type: ignore[type-arg]
    return tomllib.loads(starter_text(course))


def starter_text(course: str) -> str:
    """A starter course's file."""
    return (FOLDER / f"{course}.toml").read_text(encoding="utf-8")


def starter_names() -> tuple[str, ...]:
    """The starter decks' names, as ``coach deck add --starter NAME`` takes them."""
    return tuple(sorted(_decks()))


def title_and_purpose(name: str) -> tuple[str, str]:
    """A starter's title and what it is for: a deck's or a course's."""
    if name in starter_courses():
        content = _content(name)
        return content["title"], content["purpose"]
    return _decks()[name][1:]


@cache
def starter_course(name: str) -> Course:
    """A starter course by its name. Raises KeyError when there is none of that name."""
    if name not in starter_courses():
        raise KeyError(name)
    return load_course(FOLDER / f"{name}.toml").sound()


@cache
def starter(name: str) -> Deck:
    """A starter deck by its name. Raises KeyError when there is none of that name."""
    course = starter_course(_decks()[name][0])
    return next(one.deck for one in course.decks if one.name == name)
