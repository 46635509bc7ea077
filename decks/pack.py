"""Writing a deck as one self-contained file, with its fingerprint in it."""

from __future__ import annotations

import json
from dataclasses import replace

from decks import deck_limits as limits
from decks.deck import Deck
from decks.deck_file import read_deck
from decks.deck_pencils import set_inside, tables_of
from drills.basics.errors import InputError
from drills.pencils.file import to_csv
from drills.pencils.pencil import PencilSet

_HEAD = """\
# A deck of practice for the coloured-pencil coach, packed.
# Add it with: coach deck add FILE
# The fingerprint finds damage: whoever changes the deck must pack it again.
"""


def with_pencils(deck: Deck, pencil_set: PencilSet | None) -> Deck:
    """The deck with a set of pencils inside it; None leaves it as it is."""
    return deck if pencil_set is None else replace(deck, pencils=to_csv(pencil_set))


def pack(deck: Deck) -> str:
    """The deck as TOML that reads back as the same deck. Raises InputError when it is too big."""
    out = [_HEAD]
    add = out.append
    add(f"format = {limits.FORMAT}\n")
    add(f"fingerprint = {_text(deck.fingerprint)}\n\n")
    for key, words in (
        ("title", deck.title),
        ("author", deck.author),
        ("purpose", deck.purpose),
        ("note", deck.note),
    ):
        if words:
            add(f"{key} = {_text(words)}\n")
    add(f"\nkinds = {_texts(deck.kinds)}\n")
    if deck.families:
        add(f"families = {_texts(deck.families)}\n")
    add(f"\nitems_a_day = {deck.items_a_day}\ndays = {deck.days}\n")
    if deck.due is not None:
        add(f"due = {deck.due.isoformat()}\n")
    add(f"pass_level = {_number(deck.pass_level)}\n")
    add(f"\n[difficulty]\neasiest = {_number(deck.easiest)}\nhardest = {_number(deck.hardest)}\n")
    for target in deck.targets:
        add(f"\n[[targets]]\nname = {_text(target.name)}\ncolour = {_text(target.colour)}\n")
    if deck.pencils:
        for table in tables_of(set_inside(deck.pencils, deck.title)):
            add("\n[[pencils]]\n")
            for key, value in table.items():
                add(f"{key} = {_value(value)}\n")
    text = "".join(out)
    again = read_deck(text.encode(), "the packed deck")
    if again.deck is None:
        raise InputError("the packed deck", again.problems[0].problem, again.problems[0].remedy)
    return text


def _value(value: object) -> str:
    if isinstance(value, list):
        return f"[{', '.join(map(_number, value))}]"
    return _text(str(value))


def _number(value: float) -> str:
    # TOML wants a digit on both sides of the point, and takes exponents as Python writes them.
    return repr(float(value))


def _texts(values: tuple[str, ...]) -> str:
    return f"[{', '.join(map(_text, values))}]"


def _text(value: str) -> str:
    """A TOML basic string: JSON's escapes are among TOML's."""
    return json.dumps(value, ensure_ascii=False)
