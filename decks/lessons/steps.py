"""What steps make of a deck on a day of its practice: which kinds, how hard, which lessons."""

from __future__ import annotations

import hashlib

from decks.deck import Deck, Step
from drills.basics.json_values import json_text


def begins(deck: Deck, kind: str) -> int:
    """The day of practice, from 1, from which a kind is asked."""
    return min((step.day for step in deck.steps if kind in step.kinds), default=1)


def hardest_on(deck: Deck, kind: str, day: int) -> float:
    """The hardest level, 0–1, at which a kind may be asked on a day, never below the easiest."""
    under = lessons(deck, kind, day)
    return max(deck.easiest, min(deck.hardest, under[-1].hardest if under else 1.0))


def lessons(deck: Deck, kind: str, day: int) -> list[Step]:
    """The steps begun by a day that a question of this kind comes under, the first one first."""
    return [
        step for step in deck.steps if step.day <= day and (not step.kinds or kind in step.kinds)
    ]


def lesson_key(step: Step) -> str:
    """A lesson's name among all: it changes with its words or picture, so that it is read anew."""
    said = [step.title, step.word, step.on_paper, step.picture]
    return hashlib.sha256(json_text(said).encode()).hexdigest()[:16]
