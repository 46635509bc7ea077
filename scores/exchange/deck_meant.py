"""Which deck someone means by a few words."""

from __future__ import annotations

from collections.abc import Sequence

from drills.basics.errors import InputError, plain

LEAST = 4
"""Characters of a fingerprint that may stand for it."""


def deck_meant(named: str, decks: Sequence[tuple[str, str]], none: str, remedy: str) -> int:
    """The place in ``decks``, pairs of a fingerprint and a title, of the one meant.

    A whole title goes before the first letters of a fingerprint, and those before the
    beginning of a title. Raises InputError, with the problem ``none`` and ``remedy`` where
    there is no such deck.
    """
    wanted = " ".join(named.split()).casefold()
    where = f"deck “{plain(named, 60)}”"
    titles = [" ".join(title.split()).casefold() for _, title in decks]
    ways = (
        [at for at, title in enumerate(titles) if title == wanted],
        [at for at, (name, _) in enumerate(decks) if name.startswith(wanted)]
        if len(wanted) >= LEAST
        else [],
        [at for at, title in enumerate(titles) if wanted and title.startswith(wanted)],
    )
    found = next((way for way in ways if way), [])
    if len(found) == 1:
        return found[0]
    if found:
        names = ", ".join(f"{plain(decks[at][1], 80)} ({decks[at][0][:8]})" for at in found)
        raise InputError(where, "more than one deck is named so", f"Say which: {names}.")
    raise InputError(where, none, remedy)
