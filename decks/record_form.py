"""A deck as the record keeps it: JSON that is read again without numpy.

It holds what followed from the colours' texts when the deck was added, so that
the first screen can plan from it.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import fields
from typing import TYPE_CHECKING

from decks.deck import Deck
from drills.basics.json_values import as_json, from_json, json_text, names_in

if TYPE_CHECKING:
    from scores.exchange.results_written import DeckNamed

BEFORE = "before"


def to_kept(deck: Deck, before: Sequence[str] = ()) -> str:
    """The deck as JSON. ``before`` are fingerprints it had before words in it were changed."""
    return json_text({**as_json(deck), BEFORE: sorted(before)} if before else as_json(deck))


def before_of(text: str) -> tuple[str, ...]:
    """The fingerprints that a deck kept had before words in it were changed."""
    try:
        held = json.loads(text)
    except ValueError:
        return ()
    return names_in(held.get(BEFORE)) if isinstance(held, dict) else ()


def from_kept(text: str) -> Deck | None:
    """The deck of ``to_kept``; None for anything else (a record written over by hand)."""
    try:
        held = json.loads(text)
        # Decks kept before there were steps have none.
        return from_json(Deck, {"steps": [], **held} if isinstance(held, dict) else held)
    except ValueError:
        return None


def deck_named(deck: Deck) -> DeckNamed:
    """What a results file says of a deck."""
    from scores.exchange.results_written import DeckNamed

    return DeckNamed(**{field.name: getattr(deck, field.name) for field in fields(DeckNamed)})
