"""Writing a course as one self-contained file, with its fingerprint in it."""

from __future__ import annotations

from dataclasses import replace

from decks.courses.course import Course, Level
from decks.courses.course_file import read_course
from decks.deck import FORMAT
from decks.fields import keys_of
from decks.pack import pair, parts_of, with_pencils
from drills.basics.errors import InputError
from drills.pencils.pencil import PencilSet

_HEAD = """\
# A course of practice for the coloured-pencil coach, packed.
# Add it with: coach course add FILE
# The fingerprint finds damage: whoever changes the course must pack it again.
"""
_KEYS = keys_of(Course)
_LEVEL_KEYS = keys_of(Level)


def course_with_pencils(course: Course, pencils: PencilSet) -> Course:
    """The course with a set of pencils inside each of its decks."""
    decks = (replace(one, deck=with_pencils(one.deck, pencils)) for one in course.decks)
    return replace(course, decks=tuple(decks))


def pack_course(course: Course) -> str:
    """The course as TOML that reads back as the same. Raises InputError when it is too big."""
    parts = [f"{_HEAD}format = {FORMAT}", pair("fingerprint", course.fingerprint)]
    parts += [pair(key, getattr(course, key)) for key in _KEYS if getattr(course, key)]
    for level in course.levels:
        parts += ["", "[[levels]]"]
        said = {key: getattr(level, key) for key in _LEVEL_KEYS}
        parts += [pair(key, value) for key, value in said.items() if value not in ("", None)]
    for one in course.decks:
        parts += ["", "[[decks]]", pair("name", one.name), pair("needs", one.needs)]
        parts += parts_of(one.deck, "decks.")
    text = "\n".join([*parts, ""])
    again = read_course(text.encode(), "the packed course")
    if again.course is None:
        raise InputError("the packed course", again.problems[0].problem, again.problems[0].remedy)
    return text
