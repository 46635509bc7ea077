"""Writing a deck as one self-contained file, with its fingerprint in it."""

from __future__ import annotations

import json
import textwrap
from dataclasses import replace
from typing import Any

from decks.deck import FORMAT, Deck, Step
from decks.deck_file import read_deck
from decks.deck_pencils import tables_of
from decks.fields import keys_of
from decks.form import DIFFICULTY
from drills.basics.errors import InputError
from drills.pencils.file import to_csv
from drills.pencils.pencil import PencilSet

_HEAD = """\
# A deck of practice for the coloured-pencil coach, packed.
# Add it with: coach deck add FILE
# The fingerprint finds damage: whoever changes the deck must pack it again.
"""
_KEYS = [key for key in keys_of(Deck) if key not in ("targets", "steps", "pencils", *DIFFICULTY)]
_STEP_KEYS = keys_of(Step)
_UNSAID = ("", (), None)


def with_pencils(deck: Deck, pencil_set: PencilSet | None) -> Deck:
    """The deck with a set of pencils inside it; None leaves it as it is."""
    return deck if pencil_set is None else replace(deck, pencils=to_csv(pencil_set))


def pack(deck: Deck) -> str:
    """The deck as TOML that reads back as the same deck. Raises InputError when it is too big."""
    text = "\n".join(
        [f"{_HEAD}format = {FORMAT}", pair("fingerprint", deck.fingerprint), *parts_of(deck), ""]
    )
    again = read_deck(text.encode(), "the packed deck")
    if again.deck is None:
        raise InputError("the packed deck", again.problems[0].problem, again.problems[0].remedy)
    return text


def written(deck: Deck) -> str:
    """The deck as TOML to change by hand: a line on it, and no fingerprint."""
    head = f"# {deck.title}: {deck.purpose}.\nformat = {FORMAT}"
    return "\n".join([head, *parts_of(deck), ""])


def parts_of(deck: Deck, inside: str = "") -> list[str]:
    """The deck's keys and tables as lines of TOML, its tables ``inside`` another, as "decks.".

    Who it is from is then said there.
    """
    keys = [key for key in _KEYS if not (inside and key == "author")]
    parts = [pair(key, getattr(deck, key)) for key in keys if getattr(deck, key) not in _UNSAID]
    tables: list[tuple[str, dict[str, Any]]] = [
        (f"[{inside}difficulty]", {key: getattr(deck, key) for key in DIFFICULTY}),
        *(
            (f"[[{inside}targets]]", {"name": one.name, "colour": one.colour})
            for one in deck.targets
        ),
        *((f"[[{inside}steps]]", _said(step)) for step in deck.steps),
        *((f"[[{inside}pencils]]", table) for table in tables_of(deck.pencils)),
    ]
    for head, table in tables:
        parts += ["", head, *(pair(key, value) for key, value in table.items())]
    return parts


def _said(step: Step) -> dict[str, Any]:
    """The keys of a step that say something."""
    said = {key: getattr(step, key) for key in _STEP_KEYS}
    return {key: value for key, value in said.items() if value != getattr(Step, key, None)}


def pair(key: str, value: object) -> str:
    """A key and its value as a line of TOML."""
    if key == "picture":
        lines = "\n".join(textwrap.wrap(str(value), 96))
        return f'{key} = """\n{lines}\n"""'
    return f"{key} = {_value(value)}"


def _value(value: object) -> str:
    if isinstance(value, str) and "\n" in value:
        # Over as many lines as it has, for whoever changes it by hand.
        inside = "\n".join(json.dumps(line, ensure_ascii=False)[1:-1] for line in value.split("\n"))
        return f'"""\n{inside}\n"""'
    if isinstance(value, str):
        # A TOML basic string: JSON's escapes are among TOML's.
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, tuple | list):
        return f"[{', '.join(map(_value, value))}]"
    # TOML wants a digit on both sides of the point, takes exponents as Python writes them, and
    # days as they are.
    return repr(value) if isinstance(value, float) else str(value)
