"""A deck while it is being written: its lines, what stands in them, what is still wrong."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, NamedTuple

from decks.deck import TARGET, Deck, Target
from decks.fields import FaultError, keys_of
from decks.pack import pack
from drills.basics.days import date_text
from drills.basics.errors import InputError

BREAK = " // "
"""Stands for a line break where a note is typed on one line."""
EMPTY = Deck("", "", ())
_KEYS = keys_of(Deck)


class DraftLine(NamedTuple):
    """A line of the room: the deck's key, its words, how it is filled in, and a hint."""

    key: str
    words: str
    by: str
    hint: str = ""


LINES = (
    DraftLine("title", "Title", "typing", "what students see, such as Dark greyed greens"),
    DraftLine("author", "From", "typing", "your name, as students see it"),
    DraftLine("purpose", "What it is for", "typing", "one line; may be left out"),
    DraftLine("note", "A word to them", "typing", f"may be left out;{BREAK}begins a new line"),
    DraftLine("kinds", "Drills", "choosing"),
    DraftLine("families", "Colours", "choosing"),
    DraftLine("targets", "Named colours", "looking"),
    DraftLine("items_a_day", "Questions a day", "turning"),
    DraftLine("days", "Days", "turning"),
    DraftLine("due", "Last day", "typing", "year-month-day, such as 2026-12-18; may be left out"),
    DraftLine("hardest", "Hardest questions", "turning"),
    DraftLine("pass_level", "Passed at", "turning"),
)
_TURNS = {"items_a_day": 1, "days": 1, "hardest": 0.1, "pass_level": 0.05}


def kept_target(name: str, lab: tuple[float, float, float]) -> Target:
    """The named colour of a deck that a kept one makes. Raises FaultError."""
    from decks.targets import target_of
    from drills.colour.spaces import hex_of, in_screen_gamut

    if not bool(in_screen_gamut(lab)):
        raise FaultError("no screen shows this colour", "Name a duller one.")
    return target_of(str(TARGET.keys["name"].value.read(name)), hex_of(lab))


def standing_in(deck: Deck, key: str, titles: Mapping[str, str]) -> str:
    """What stands in a line, in words; ``titles`` are the drills' by name."""
    if key == "kinds":
        return ", ".join(titles.get(one, one) for one in deck.kinds) or "none yet"
    if key == "families":
        return ", ".join(deck.families) or "all that the pencils can make"
    if key == "targets":
        return ", ".join(one.name for one in deck.targets) or "none"
    if key == "due":
        return "no date" if deck.due is None else date_text(deck.due)
    if key == "pass_level":
        return f"{deck.pass_level:.2f} of 1, mean grade"
    if key == "hardest":
        return _hard(deck)
    return typed(deck, key) or "–"


def _hard(deck: Deck) -> str:
    share = round(100 * deck.hardest)
    return "as hard as drills go" if share >= 100 else f"{share} of 100 of the way to the hardest"


def typed(deck: Deck, key: str) -> str:
    """What stands in a line as it would be typed."""
    value = getattr(deck, key)
    return "" if value is None else str(value).replace("\n", BREAK)


def written(deck: Deck, key: str, text: str) -> Deck:
    """The deck with this typed into a line. Raises InputError with the remedy."""
    text = text.strip()
    if not text and key == "due":
        return replace(deck, due=None)
    value = text.replace(BREAK.strip(), "\n") if key == "note" else text
    if key == "note":
        value = "\n".join(line.strip() for line in value.split("\n"))
    try:
        read = _KEYS[key].value.read(value)
    except FaultError as error:
        raise InputError(key, error.problem, error.remedy) from None
    return replace(deck, **{key: read})


def turned(deck: Deck, key: str, by: int) -> Deck:
    """The deck with a number one step up or down, within its bounds."""
    if key not in _TURNS:
        return deck
    value = round(getattr(deck, key) + by * _TURNS[key], 2)
    try:
        read = _KEYS[key].value.read(value)
    except FaultError:
        return deck
    if key == "hardest" and read < max(deck.easiest, 0.1):
        return deck
    return replace(deck, **{key: read})


def chosen(deck: Deck, key: str, names: Collection[str]) -> Deck:
    """The deck with these drills or colours.

    A deck's identity hangs on the order of its drills: they stand by name, however their titles
    are worded and whichever was chosen first. Where a deck has another order, what stays keeps it.
    """
    found = tuple(names)
    if key == "kinds":
        now = [one for one in deck.kinds if one in found]
        added = sorted(set(found) - set(now))
        by_name = list(deck.kinds) == sorted(deck.kinds)
        found = tuple(sorted(found) if by_name else [*now, *added])
    changed: dict[str, Any] = {key: found}
    return replace(deck, **changed)


def fault(deck: Deck, titles: Mapping[str, str] = MappingProxyType({})) -> str:
    """What keeps the deck from being saved, in words; empty when nothing does.

    ``titles`` are the drills' by name.
    """
    for key, what in (("title", "a title"), ("author", "whom it is from"), ("kinds", "drills")):
        if not getattr(deck, key):
            return f"It still wants {what}."
    try:
        pack(deck)
    except InputError as error:
        told = f"{error.problem[:1].upper()}{error.problem[1:]}. {error.remedy}".strip()
        for name, title in titles.items():
            told = told.replace(name, title)
        return told
    return ""
