"""A deck's file as tables of keys, and the JSON Schema of it: both from the deck's own fields.

``deck.schema.json`` is what ``coach deck schema`` prints; a test holds the two together.
"""

from __future__ import annotations

import json

from decks.deck import FORMAT, Deck
from decks.fields import FaultError, Key, Schema, Table, keys_of

DIFFICULTY = ("easiest", "hardest")
"""Fields of a deck that stand in a table of their own in its file."""


class Version:
    """The version of the form: a newer one's keys would only be misread. ``what`` has it."""

    def __init__(self, what: str = "deck") -> None:
        self.what = what

    def read(self, value: object) -> object:
        if type(value) is int and value > FORMAT:
            raise FaultError(f"the {self.what} was made for a newer coach", "Update the coach.")
        if value != FORMAT or isinstance(value, bool):
            problem = "the format is missing" if value is None else "there is no such format"
            raise FaultError(problem, f"Write: format = {FORMAT}")
        return value

    def schema(self) -> Schema:
        return {"const": FORMAT}


class Fingerprint:
    """Held against the deck's own once that is known."""

    def read(self, value: object) -> object:
        return value

    def schema(self) -> Schema:
        return {"type": "string", "pattern": "^[0-9a-f]{64}$"}


def _file_keys() -> dict[str, Key]:
    own = keys_of(Deck)
    bounds = Table({name: own.pop(name) for name in DIFFICULTY})
    return {
        "format": Key(Version(), "The version of this format.", needed=True),
        **own,
        "difficulty": Key(
            bounds,
            "Bounds as levels: 0 is a drill's easiest step, 1 its hardest;"
            " easiest is not above hardest.",
        ),
        "fingerprint": Key(
            Fingerprint(), "sha256 of the deck's content, written by: coach deck pack"
        ),
    }


FILE = Table(_file_keys(), "Add a line that begins: {key} =")


def schema_text() -> str:
    """The JSON Schema (draft 2020-12) of a deck."""
    made: Schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        # ``.invalid`` (RFC 6761) says that nothing is fetched from there.
        "$id": f"https://coloured-pencil-coach.invalid/schemas/deck-{FORMAT}.json",
        "title": f"A deck of practice for the coloured-pencil coach, format {FORMAT}",
        "description": "A deck is TOML; this describes what it means once parsed, dates as texts"
        " of the form 2026-09-30. The coach checks as much in code, and further: that colours can"
        " be read and shown on a screen, that drill kinds and families exist, that names are not"
        " given twice, that the pencils are sound, and that a packed deck's fingerprint is its"
        " own.",
        **FILE.schema(),
    }
    return json.dumps(made, ensure_ascii=False, indent=2) + "\n"
