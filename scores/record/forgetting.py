"""Forgetting the answers to one deck, in the database and in the journal."""

from __future__ import annotations

from drills.basics.errors import InputError, plain
from scores.record.failures import FAILURES, reason
from scores.record.journal.lines import what_of
from scores.record.journal.places import put_place
from scores.record.record import Record


def forget_deck(record: Record, deck: str) -> int:
    """Delete every answer to a deck, and what followed from them; how many there were.

    Skills are worked out again from the answers left. Deleted rows are overwritten,
    and the file is written anew. Raises NotSavedError or InputError.
    """
    if not deck:
        raise ValueError("answers to no deck are no deck's")
    with record._write() as db:
        db.execute("PRAGMA secure_delete = ON")
        found = db.execute("SELECT count(*) FROM attempts WHERE deck = ?", (deck,)).fetchone()
        db.execute(
            "DELETE FROM attempt_facts WHERE seq IN (SELECT seq FROM attempts WHERE deck = ?)",
            (deck,),
        )
        db.execute("DELETE FROM attempts WHERE deck = ?", (deck,))
        if record.journal is not None and found[0]:
            record.journal.rewrite(lambda body: _deck_of(body) != deck)
            put_place(db, record.journal.place(record.journal.end()))
    if found[0]:
        record.rebuild_skills()
        with record._lock:
            try:
                assert record._db is not None
                record._db.execute("VACUUM")
                record._db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            except FAILURES as error:
                raise InputError(
                    plain(str(record.path), 200),
                    f"the answers are deleted, but the file is not written anew: {reason(error)}",
                    "Close the coach wherever it is open, and run this again.",
                ) from error
    return int(found[0])


def _deck_of(body: bytes) -> str:
    """The deck of an answer's entry in the journal; empty for any other."""
    entry = what_of(body)
    return str(entry[1].get("deck", "")) if entry and entry[0] == "answer" else ""
