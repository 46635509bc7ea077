"""A deck as the record keeps it: JSON that is read again without numpy.

It holds what followed from the colours' texts when the deck was added, so that
the first screen can plan from it.
"""

from __future__ import annotations

import json
from datetime import date
from typing import TYPE_CHECKING, Any

from decks.deck import Deck, Target, canonical

if TYPE_CHECKING:
    from scores.exchange.results_written import DeckNamed


def to_kept(deck: Deck) -> str:
    """The deck as JSON."""
    content: dict[str, Any] = json.loads(canonical(deck))
    content["targets"] = [
        {"name": t.name, "colour": t.colour, "lab": list(t.lab), "region": t.region}
        for t in deck.targets
    ]
    return json.dumps(content, ensure_ascii=False, separators=(",", ":"))


def from_kept(text: str) -> Deck | None:
    """The deck of ``to_kept``; None for anything else (a record written over by hand)."""
    try:
        said: dict[str, Any] = json.loads(text)
        return Deck(
            title=str(said["title"]),
            author=str(said["author"]),
            kinds=tuple(map(str, said["kinds"])),
            purpose=str(said["purpose"]),
            note=str(said["note"]),
            families=tuple(map(str, said["families"])),
            targets=tuple(
                Target(
                    str(t["name"]),
                    str(t["colour"]),
                    (float(t["lab"][0]), float(t["lab"][1]), float(t["lab"][2])),
                    str(t["region"]),
                )
                for t in said["targets"]
            ),
            pencils=str(said["pencils"]),
            easiest=float(said["easiest"]),
            hardest=float(said["hardest"]),
            items_a_day=int(said["items_a_day"]),
            days=int(said["days"]),
            due=None if said["due"] is None else date.fromisoformat(said["due"]),
            pass_level=float(said["pass_level"]),
        )
    except (KeyError, TypeError, ValueError, IndexError, AttributeError):
        return None


def deck_named(deck: Deck) -> DeckNamed:
    """What a results file says of a deck."""
    from scores.exchange.results_written import DeckNamed

    return DeckNamed(
        deck.fingerprint,
        deck.title,
        deck.author,
        deck.items_a_day,
        deck.days,
        deck.due,
        deck.pass_level,
    )
