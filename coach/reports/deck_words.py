"""A deck in words, for commands."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from drills.basics.days import date_text
from drills.outside import lacking

if TYPE_CHECKING:
    from decks.deck import Deck
    from scores.record.decks_added import DeckKept


def in_short(deck: Deck) -> str:
    """A deck in one line."""
    parts = [
        f"{deck.items_a_day} a day for {deck.days} days",
        ", ".join(deck.kinds),
        ", ".join(deck.families) or "every family",
    ]
    if deck.targets:
        parts.append(f"{len(deck.targets)} target colours")
    if deck.due is not None:
        parts.append(f"due {date_text(deck.due)}")
    return f"“{deck.title}”: {'; '.join(parts)}."


def about(deck: Deck) -> str:
    """Its title, who it says it is from, and what it is for."""
    lines = [deck.title, f"It says it is from: {deck.author}"]
    if deck.purpose:
        lines.append(f"Purpose: {deck.purpose}")
    lines += [f"  {line}" for line in deck.note.splitlines()]
    return "\n".join(lines)


def needs(deck: Deck) -> list[str]:
    """A line on the kinds it asks for that are not to be had here, if there are any."""
    from decks.vocabulary import kind_of

    absent = [name for name in deck.kinds if kind_of(name) is None]
    if not absent:
        return []
    packages = lacking(absent)
    remedy = "see coach doctor"
    if packages:
        # A deck may name any package: what it runs is its author's.
        remedy = f"if you know whose it is, install the package {', '.join(packages)}"
    rest = "" if len(absent) == len(deck.kinds) else " The rest of the deck works without."
    return [f"It asks for {', '.join(absent)}, not installed here: {remedy}.{rest}"]


def changes(deck: Deck, older: list[DeckKept], before: Sequence[str] = ()) -> str:
    """What adding it would change; ``older`` are versions that it takes the place of.

    ``before`` are the fingerprints of those that differ from it in words alone.
    """
    pencils = "your own pencils"
    if deck.pencils:
        pencils = (
            f"{deck.pencils.count(chr(10)) - 1} pencils that it brings (yours stay as they are)"
        )
    due = "" if deck.due is None else f", until {date_text(deck.due)}"
    instead = "".join(
        f" It takes the place of the version you added on {date_text(kept.added)}: "
        + (
            "its questions are the same, so what you answered counts."
            if kept.fingerprint in before
            else "it begins anew."
        )
        for kept in older
    )
    return (
        f"What it changes: {deck.items_a_day} questions a day on {deck.days} days{due} come into "
        f"your daily session, at most half of it, with {pencils}. Nothing is sent to anyone; "
        f"you may drop it at any time.{instead}"
    )
