"""A deck that came from a teacher: what it changes, and taking it in."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from coach.reports.deck_words import about, changes, needs
from coach.teaching.older_decks import older_of
from decks.record_form import before_of, courses_of, to_kept
from drills.basics.errors import InputError
from scores.record.decks_added import DeckKept, decks_kept, drop_deck, put_deck
from scores.record.record import NotSavedError

if TYPE_CHECKING:
    from datetime import datetime

    from decks.deck import Deck
    from scores.record.record import Record


class Adding(NamedTuple):
    """A deck before it is added: ``older`` are those it takes the place of, ``before`` the
    fingerprints whose answers count on, ``there`` whether it is among the decks already."""

    deck: Deck
    older: list[DeckKept]
    before: list[str]
    there: bool

    @property
    def title(self) -> str:
        return self.deck.title

    @property
    def words(self) -> list[str]:
        """Who it says it is from, and what it would change."""
        deck = self.deck
        return [about(deck), *needs(deck), changes(deck, self.older, self.before)]


def looked_at(record: Record, deck: Deck, anew: bool = False) -> Adding:
    """What adding this deck would come to; with ``anew`` no older answers count."""
    kept_now = decks_kept(record)
    found = older_of(deck, kept_now)
    older = [one.kept for one in found]
    before: set[str] = set()
    for one in found:
        if one.same:
            before |= {one.kept.fingerprint, *before_of(one.kept.content)}
    counted = [] if anew else sorted(before - {deck.fingerprint})
    there = any(kept.fingerprint == deck.fingerprint for kept in kept_now)
    return Adding(deck, older, counted, there)


def add(record: Record, adding: Adding, now: datetime) -> None:
    """Take the deck in, in the place of its older versions. Raises InputError."""
    deck = adding.deck
    # A deck of courses that is sent alone, corrected, keeps its places there.
    places = [courses_of(kept.content) for kept in adding.older]
    courses = next((some for some in places if some), ())
    try:
        put_deck(record, deck.fingerprint, deck.title, to_kept(deck, adding.before, courses), now)
        for kept in adding.older:
            drop_deck(record, kept.fingerprint)
    except NotSavedError as error:
        raise InputError("the record", f"the deck was not added: {error}", "Try again.") from error
