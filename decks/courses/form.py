"""A course's file as tables of keys, and the JSON Schema of it.

``course.schema.json`` is what ``coach course schema`` prints; a test holds the two together.
"""

from __future__ import annotations

import json

from decks.courses.course import MOST_DECKS, MOST_LEVELS, Course, CourseDeck, Level
from decks.deck import FORMAT
from decks.fields import Key, Schema, Several, Table, keys_of
from decks.form import FILE, Fingerprint, Version

LEVEL = Table(keys_of(Level), 'Write name = "…" under [[levels]].')
IN_COURSE = keys_of(CourseDeck)
"""What a deck's table has beside the keys of a deck."""
_OF_FILES = ("format", "author", "fingerprint")
DECK = Table(
    IN_COURSE
    | {"needs": IN_COURSE["needs"]._replace(needed=False)}
    | {key: value for key, value in FILE.keys.items() if key not in _OF_FILES},
    "Add under [[decks]] a line that begins: {key} =",
)
DECKS = Several(DECK, "decks", MOST_DECKS, least=1)
"""Each a table of its own, read by the checks of a deck."""
FILE_OF_COURSE = Table(
    {
        "format": Key(Version("course"), "The version of this format.", needed=True),
        **keys_of(Course),
        "levels": Key(
            Several(LEVEL, "levels", MOST_LEVELS), "Levels for groups or students, to choose from."
        ),
        "fingerprint": Key(
            Fingerprint(), "sha256 of the course's content, written by: coach course pack"
        ),
    },
    "Add a line that begins: {key} =",
)
"""A course's file without its decks."""


def schema_text() -> str:
    """The JSON Schema (draft 2020-12) of a course."""
    decks = Key(DECKS, "Its decks in their order, each with the keys of a deck.", needed=True)
    whole = Table({**FILE_OF_COURSE.keys, "decks": decks})
    made: Schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        # ``.invalid`` (RFC 6761) says that nothing is fetched from there.
        "$id": f"https://coloured-pencil-coach.invalid/schemas/course-{FORMAT}.json",
        "title": f"A course of decks for the coloured-pencil coach, format {FORMAT}",
        "description": "A course is TOML; this describes what it means once parsed, dates as texts"
        " of the form 2026-09-30. The coach checks as much in code, and further: that a deck needs"
        " only decks above it, that names and titles are not given twice, that the level chosen is"
        " there, and of each deck all that it checks of a deck.",
        **whole.schema(),
    }
    return json.dumps(made, ensure_ascii=False, indent=2) + "\n"
