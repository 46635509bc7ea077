"""What a deck is, once it has been read and found sound."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from datetime import date

from decks.deck_limits import FORMAT

Lab = tuple[float, float, float]
"""CIE 1976 L*a*b* under D50 for the CIE 1931 2° observer."""


@dataclass(frozen=True)
class Target:
    """A named colour to be asked about.

    ``colour`` is as the teacher wrote it, ``lab`` what that means, ``region``
    the hue family it reads as, or for a grey its value band, such as "dark greys".
    """

    name: str
    colour: str
    lab: Lab
    region: str


@dataclass(frozen=True)
class Deck:
    """Assigned practice.

    ``families`` are the regions drilled, empty for all that the pencils offer
    (or, with ``targets``, for those the targets lie in). ``pencils`` is the
    canonical CSV of a set inside the deck, empty when the student's own serve.
    ``easiest`` and ``hardest`` bound the difficulty as levels between a kind's
    easiest step (0) and its hardest (1). ``pass_level`` is a mean grade, 0–1.
    ``due`` is the last day, in the student's own calendar.
    """

    title: str
    author: str
    kinds: tuple[str, ...]
    purpose: str = ""
    note: str = ""
    families: tuple[str, ...] = ()
    targets: tuple[Target, ...] = ()
    pencils: str = ""
    easiest: float = 0.0
    hardest: float = 1.0
    items_a_day: int = 10
    days: int = 7
    due: date | None = None
    pass_level: float = 0.7

    @property
    def wanted(self) -> int:
        """Answers wanted over all its days."""
        return self.items_a_day * self.days

    @property
    def fingerprint(self) -> str:
        """The deck's name among all decks: sha256 of its canonical content, in hexadecimal."""
        return hashlib.sha256(canonical(self).encode()).hexdigest()


def canonical(deck: Deck) -> str:
    """The deck's content as JSON with sorted keys and no spaces.

    Two files that mean the same (comments, order of keys, defaults written out)
    have the same text. What follows from a colour's text is left out, so that a
    better table of colours changes no fingerprint.
    """
    content = {
        "format": FORMAT,
        "title": deck.title,
        "author": deck.author,
        "purpose": deck.purpose,
        "note": deck.note,
        "kinds": list(deck.kinds),
        "families": list(deck.families),
        "targets": [{"name": target.name, "colour": target.colour} for target in deck.targets],
        "pencils": deck.pencils,
        "easiest": deck.easiest,
        "hardest": deck.hardest,
        "items_a_day": deck.items_a_day,
        "days": deck.days,
        "due": None if deck.due is None else deck.due.isoformat(),
        "pass_level": deck.pass_level,
    }
    return json.dumps(content, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
