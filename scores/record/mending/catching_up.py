"""Bringing the database level with its journal: at the door, and before each write."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import AbstractContextManager, suppress

from scores.record.failures import NotSavedError
from scores.record.journal.file import Journal
from scores.record.journal.places import place_of, put_place

Transaction = Callable[[], AbstractContextManager[sqlite3.Connection]]


def at_the_door(
    db: sqlite3.Connection, journal: Journal | None, transaction: Transaction, mend: bool
) -> list[str]:
    """Take in what the journal holds beyond the database, and look for nonsense.

    What was mended is returned, a sentence each. A ``transaction`` does ``level`` first.
    Where it may ``mend``, what follows from the answers is worked out anew where it is
    nonsense, and a setting that is not JSON is taken from the journal, or dropped. Raises
    ValueError where nonsense stays, and NotSavedError where the answers can't be read.
    """
    from scores.record import derived

    said = []
    nonsense = derived.nonsense(db)
    if nonsense and not mend:
        raise ValueError("what follows from the answers is nonsense")
    if nonsense:
        with transaction() as writing:
            derived.rebuild(writing)
        said.append("What is worked out from your answers was damaged; it was worked out again.")
    if journal is not None and journal.exists():
        place = place_of(db)
        if place is None or not journal.ends_at(place):
            with suppress(NotSavedError), transaction():
                pass
    bad = _unreadable_settings(db) if mend else []
    if bad:
        said.append(_settle_settings(journal, transaction, bad))
    return said


def level(db: sqlite3.Connection, journal: Journal) -> str:
    """Take in what the journal holds beyond the database, inside the caller's transaction.

    A sentence says so where answers had been lost. The journal is held meanwhile. Raises
    OSError or sqlite3.Error.
    """
    place = place_of(db)
    end = journal.end()
    if place is not None and (place.name, place.end) == (journal.name, end):
        return ""
    from scores.record.journal.lines import gather
    from scores.record.mending.taking_in import known, take_in, take_in_latest

    found = journal.since(place) if place is not None and place.name == journal.name else None
    if found is not None:
        bodies, after = found
        if bodies:
            take_in_latest(db, gather(bodies))
            put_place(db, after)
        return ""
    there = known(db)
    held = gather(journal.read(), lambda name: name not in there)
    # A journal of the same name that is shorter was cut: then the database knows better.
    taken = take_in(db, held, over=place is None or place.name != journal.name)
    put_place(db, journal.place(end))
    if not taken:
        return ""
    other = "was not the one its journal knows (another copy, or an older one)"
    return (
        f"Your record's database {other if there else 'was gone'};"
        f" {taken.answers:,} answers were put back from the journal."
    )


def _unreadable_settings(db: sqlite3.Connection) -> list[str]:
    import json

    bad = []
    for key, value in db.execute("SELECT key, value FROM settings"):
        try:
            json.loads(value)
        except (ValueError, TypeError, RecursionError):
            bad.append(key)
    return bad


def _settle_settings(journal: Journal | None, transaction: Transaction, bad: list[str]) -> str:
    """Take unreadable settings from the journal, or drop them, so that the usual holds."""
    from drills.basics.errors import plain
    from scores.record import tables
    from scores.record.journal.lines import gather

    known = gather(journal.read(), lambda _: False).settings if journal is not None else {}
    with suppress(NotSavedError), transaction() as db:
        for key in bad:
            db.execute("DELETE FROM settings WHERE key = ?", (key,))
            if key in known:
                tables.put_setting(db, key, known[key])
    names = ", ".join(plain(str(key), 40) for key in sorted(map(str, bad)))
    if any(key not in known for key in bad):
        return f"Could not be read, and set to the usual: {names}."
    return f"Could not be read, and put back from the journal: {names}."
