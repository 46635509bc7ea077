"""Which decks among a learner's a deck that comes is: the same, or older versions of it.

Questions, author and a like title make two decks one work (``scores.exchange.same_work``), but two
of a course, or of two courses, may be that much alike and are not one: then the likest is meant,
and where several are equally like, none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from decks.record_form import before_of, courses_of, from_kept
from drills.basics.errors import InputError, plain
from scores.exchange.same_work import same_work, tidy

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from decks.deck import Deck
    from scores.record.decks_added import DeckKept


class Older(NamedTuple):
    """A deck kept that may be an older version; ``same`` says whether it asks the same."""

    kept: DeckKept
    in_course: bool
    same: bool
    likeness: tuple[bool, ...]


def older_of(deck: Deck, kept_now: Iterable[DeckKept]) -> list[Older]:
    """The decks that this one is or corrects, or that bear its very title and author.

    Of those in courses only the likest is among them, and none where several are equally like.
    """
    found = list(_like(deck, kept_now))
    taken = likest([one for one in found if one.in_course])
    return [one for one in found if not one.in_course or [one] == taken]


def version_of(deck: Deck, kept_now: Iterable[DeckKept]) -> DeckKept | None:
    """The deck kept that this one is, also where words of it were changed; None for none.

    Raises InputError where it may be one as well as another.
    """
    found = likest([one for one in _like(deck, kept_now) if one.same])
    if len(found) > 1:
        raise InputError(
            plain(deck.title, 100),
            "several of your decks ask the same under a like title",
            "Take the very file that you added.",
        )
    return found[0].kept if found else None


def likest(found: Sequence[Older]) -> list[Older]:
    """Those that are most like it."""
    most = max((one.likeness for one in found), default=None)
    return [one for one in found if one.likeness == most]


def _like(deck: Deck, kept_now: Iterable[DeckKept]) -> Iterator[Older]:
    for kept in kept_now:
        other = from_kept(kept.content)
        if other is None:
            continue
        same, titled = same_work(other, deck), tidy(other.title) == tidy(deck.title)
        if same or (other.title, other.author) == (deck.title, deck.author):
            is_it = deck.fingerprint == kept.fingerprint
            known = is_it or deck.fingerprint in before_of(kept.content)
            in_course = bool(courses_of(kept.content))
            yield Older(kept, in_course, same, (is_it, known, same, titled))
