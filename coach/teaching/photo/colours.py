"""Colours of a picture as a deck's named colours, with the picture, small, as a lesson."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from decks.deck import TARGET, Deck, Lab, Step
from decks.fields import FaultError
from decks.targets import target_of
from drills.basics.errors import InputError, plain
from drills.colour.reading import read_colour
from drills.colour.spaces import hex_of, in_screen_gamut

if TYPE_CHECKING:
    from collections.abc import Collection

    from drills.pictures.picture import Picture

MOST = 60
LESSON = "Colours from a picture"
_WORD_MOST = 2_000


@dataclass(frozen=True)
class Found:
    """A colour of the picture; ``at`` its place (x, y) in shares of the picture, 0–1, or None.

    ``name`` is empty where the colour's own words shall name it.
    """

    lab: Lab
    name: str = ""
    at: tuple[float, float] | None = None


def colour_name(lab: Lab, taken: Collection[str] = ()) -> str:
    """A name for a colour by what it looks like, numbered where that is ``taken``."""
    reading = read_colour(lab)
    parts: list[str | None] = [reading.value_word]
    if reading.neutral:
        parts.append("grey")
    else:
        if reading.chroma_word != "moderate":
            parts.append(reading.chroma_word)
        parts.append(reading.family)
    words = " ".join(filter(None, parts)).capitalize()
    lower = {one.casefold() for one in taken}
    names = (words if n == 1 else f"{words} {n}" for n in range(1, MOST + 2))
    return next(name for name in names if name.casefold() not in lower)


def sound_colour(lab: Lab, name: str, deck: Deck) -> str:
    """The name tidied, when the deck can take this colour by it. Raises InputError."""
    taken = [one.name for one in deck.targets]
    if not bool(in_screen_gamut(lab)):
        raise InputError("the colour", "no screen shows it", "Take a duller one.")
    if len(taken) >= MOST:
        raise InputError("the deck", f"it has {MOST} named colours", "Take one away first.")
    try:
        sound = str(TARGET.keys["name"].value.read(name or colour_name(lab, taken)))
    except FaultError as error:
        raise InputError("the name", error.problem, error.remedy) from None
    if sound.casefold() in (one.casefold() for one in taken):
        raise InputError("the name", f"there is a colour “{plain(sound, 60)}”", "Give another.")
    return sound


def with_colour(deck: Deck, found: Found) -> Deck:
    """The deck with one more named colour. Raises InputError."""
    name = sound_colour(found.lab, found.name, deck)
    try:
        target = target_of(name, hex_of(found.lab))
    except FaultError as error:
        raise InputError(f"the colour “{plain(name, 60)}”", error.problem, error.remedy) from None
    return replace(deck, targets=(*deck.targets, target))


def with_colours(deck: Deck, picture: Picture, found: Sequence[Found]) -> Deck:
    """The deck with these colours by name, and the picture small in a lesson that says where.

    Colours with a place are ringed and numbered on it. Raises InputError.
    """
    from decks.lessons.pictures import put_inside

    marks: list[tuple[float, float, str]] = []
    lines = []
    for number, one in enumerate(found, start=1):
        deck = with_colour(deck, one)
        name = deck.targets[-1].name
        where = "" if one.at is None else f", {place_words(*one.at)}"
        lines.append(f"{number} {name}{where}")
        if one.at is not None:
            marks.append((*one.at, str(number)))
    word = "\n".join(["Look for these colours, then make them:", *lines])[:_WORD_MOST]
    step = Step(LESSON, word=word, picture=put_inside(picture, marks))
    return replace(deck, steps=(step, *deck.steps))


def place_words(x: float, y: float) -> str:
    """Where a place lies in the picture, in words: "upper left", "middle"; in shares, 0–1."""
    across = ("left", "", "right")[min(2, int(3 * x))]
    down = ("upper", "", "lower")[min(2, int(3 * y))]
    if not across and not down:
        return "in the middle"
    if not across:
        return f"{down} middle"
    return f"{down} {across}" if down else f"middle {across}"
