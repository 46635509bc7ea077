"""Forgetting the answers to one deck, in the database and in the journal."""

from __future__ import annotations

from drills.basics.errors import InputError, plain
from scores.record.failures import FAILURES, reason
from scores.record.journal.lines import what_of
from scores.record.journal.places import put_place
from scores.record.paper_answers import SHEET
from scores.record.record import Record
from scores.record.trials import PAPER

_OF_DECK = (
    "SELECT seq FROM attempts JOIN attempt_facts USING (seq)"
    " WHERE deck = ? OR (deck = ? AND json_valid(facts) AND json_extract(facts, ?) = ?)"
)


def forget_deck(record: Record, deck: str) -> int:
    """Delete every answer to a deck, on paper too, and what followed from them; how many.

    Skills are worked out again from the answers left. Deleted rows are overwritten,
    and the file is written anew. Raises NotSavedError or InputError.
    """
    if not deck:
        raise ValueError("answers to no deck are no deck's")
    with record._write() as db:
        db.execute("PRAGMA secure_delete = ON")
        mine = [row[0] for row in db.execute(_OF_DECK, (deck, PAPER, f"$.{SHEET}.deck", deck))]
        for table in ("attempt_facts", "attempts"):
            db.executemany(f"DELETE FROM {table} WHERE seq = ?", [(seq,) for seq in mine])
        if record.journal is not None and mine:
            record.journal.rewrite(lambda body: _deck_of(body) != deck)
            put_place(db, record.journal.place(record.journal.end()))
    if mine:
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
    return len(mine)


def _deck_of(body: bytes) -> str:
    """The deck of an answer's entry in the journal, on paper too; empty for any other."""
    entry = what_of(body)
    if entry is None or entry[0] != "answer":
        return ""
    deck, facts = str(entry[1].get("deck", "")), entry[1].get("facts")
    said = facts.get(SHEET) if deck == PAPER and isinstance(facts, dict) else None
    return str(said.get("deck", "")) if isinstance(said, dict) else deck
