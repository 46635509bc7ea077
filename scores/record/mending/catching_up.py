"""Bringing the database level with its journal: at the door, and before each write."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from typing import TYPE_CHECKING

from scores.record.failures import NotSavedError
from scores.record.places import place_of, put_place

if TYPE_CHECKING:
    from scores.record.opening import RecordFile

__all__ = ["at_the_door", "level", "put_place"]


def at_the_door(record: RecordFile, mend: bool) -> None:
    """Take in what the journal holds beyond the database, and look for nonsense.

    Where it may ``mend``, what follows from the answers is worked out anew where it is
    nonsense, and a setting that is not JSON is taken from the journal, or dropped. Raises
    ValueError where nonsense stays, and NotSavedError where the answers can't be read.
    """
    from scores.record import derived

    db, journal = record._db, record.journal
    assert db is not None
    nonsense = derived.nonsense(db)
    if nonsense and not mend:
        raise ValueError("what follows from the answers is nonsense")
    if nonsense:
        with record._write() as writing:
            derived.rebuild(writing)
        record.mendings.append("What follows from your answers was damaged, and worked out anew.")
    if journal is not None and journal.exists():
        place = place_of(db)
        if place is None or not journal.ends_at(place):
            with suppress(NotSavedError), record._write():
                pass
    bad = _unreadable_settings(db) if mend else []
    if bad:
        _settle_settings(record, bad)


def level(record: RecordFile, db: sqlite3.Connection) -> None:
    """Take in what the journal holds beyond the database, inside the caller's transaction.

    The journal is held meanwhile. Raises OSError or sqlite3.Error.
    """
    journal = record.journal
    assert journal is not None
    place = place_of(db)
    end = journal.end()
    if place is not None and (place.name, place.end) == (journal.name, end):
        return
    from scores.record.journal.lines import gather
    from scores.record.mending.taking_in import known, take_in

    found = journal.since(place) if place is not None and place.name == journal.name else None
    if found is not None:
        bodies, after = found
        if bodies:
            take_in(db, gather(bodies))
            put_place(db, after)
        return
    there = known(db)
    held = gather(journal.read(), lambda name: name not in there)
    # A journal of the same name that is shorter was cut: then the database knows better.
    taken = take_in(db, held, over=place is None or place.name != journal.name)
    put_place(db, journal.place(end))
    if taken:
        what = (
            "was not the one its journal knows (another copy, or an older one)"
            if there
            else "was gone"
        )
        record.mendings.append(
            f"Your record's database {what}; {taken.answers:,} answers were put back from the"
            " journal."
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


def _settle_settings(record: RecordFile, bad: list[str]) -> None:
    """Take unreadable settings from the journal, or drop them, so that the usual holds."""
    from drills.basics.errors import plain
    from scores.record import tables
    from scores.record.journal.lines import gather

    journal = record.journal
    known = gather(journal.read(), lambda _: False).settings if journal is not None else {}
    with suppress(NotSavedError), record._write() as db:
        for key in bad:
            db.execute("DELETE FROM settings WHERE key = ?", (key,))
            if key in known:
                tables.put_setting(db, key, known[key])
    names = ", ".join(plain(str(key), 40) for key in sorted(map(str, bad)))
    lost = [key for key in bad if key not in known]
    record.mendings.append(
        f"Could not be read, and set to the usual: {names}."
        if lost
        else f"Could not be read, and put back from the journal: {names}."
    )
