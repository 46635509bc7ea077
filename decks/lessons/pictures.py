"""Pictures inside a deck: small, and hostile until they have been opened."""

from __future__ import annotations

from base64 import b64decode, b64encode
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from decks.deck import PICTURE, Deck
from decks.fields import FaultError
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from drills.pictures.picture import Picture
    from drills.pictures.small import Mark

MOST_PIXELS = 1_000_000
"""Pixels of a picture in a deck: more than a terminal or half a page shows."""
FORMATS = ("JPEG", "PNG")
_NAME = "the picture"
_LONGEST_SIDES = (640, 480, 360, 240, 160)
_QUALITIES = (88, 75, 60)


def open_inside(text: str) -> Picture:
    """The picture of a step's base64. Raises InputError."""
    from drills.pictures.opening import picture_of

    return picture_of(b64decode(text), _NAME, MOST_PIXELS, FORMATS)


def look_over(text: object) -> str:
    """The text, when what it holds is a picture. Raises FaultError."""
    try:
        open_inside(str(text))
    except InputError as error:
        remedy = "Let coach deck pack --picture put it in again."
        raise FaultError(error.problem, remedy) from None
    return str(text)


def put_inside(picture: Picture, marks: Sequence[Mark] = ()) -> str:
    """A picture as the base64 of a small JPEG, its pixels alone, in sRGB, with ``marks`` on it.

    Raises InputError where none is small enough.
    """
    from drills.pictures.small import small_jpeg

    most_bytes = PICTURE.longest // 4 * 3
    made = small_jpeg(picture, _LONGEST_SIDES, _QUALITIES, most_bytes, marks)
    return b64encode(made).decode()


def with_pictures(deck: Deck, given: Sequence[str]) -> Deck:
    """The deck with picture files in its steps, each given as "1=jug.jpg". Raises InputError."""
    from drills.pictures.opening import open_picture

    steps = list(deck.steps)
    for one in given:
        number, _, path = one.partition("=")
        if not (number.isdecimal() and path and 1 <= int(number[:4]) <= len(steps)):
            have = f"{len(steps)} step" + "s" * (len(steps) != 1)
            problem = f"it names none of the deck's {have}"
            raise InputError(f"picture {plain(one, 60)}", problem, "Write 1=FILE for the first.")
        at = int(number[:4]) - 1
        steps[at] = replace(steps[at], picture=put_inside(open_picture(path)))
    return replace(deck, steps=tuple(steps))
