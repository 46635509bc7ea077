"""Forgetting, in earnest: the whole record, or the answers to one deck."""

from __future__ import annotations

from pathlib import Path

from drills.basics.errors import InputError, plain
from scores.record.failures import FAILURES, reason
from scores.record.journal.file import journal_path
from scores.record.journal.lines import what_of
from scores.record.places import put_place
from scores.record.record import Record
from scores.record.set_aside import SIDE_FILES
from scores.upkeep.copies import nobody_has_it_open

STATES = ("damaged", "newer", "replaced")


def kept_files(path: Path) -> tuple[Path, ...]:
    """The record's files, and those of records set aside beside it."""
    journal = journal_path(path)
    bases = [path, journal]
    for state in STATES:
        for ours in (path, journal):
            bases += sorted(path.parent.glob(f"{path.stem}-{state}-*{ours.suffix}"))
    found = (base.with_name(base.name + end) for base in bases for end in ("", *SIDE_FILES))
    return tuple(file for file in found if file.is_file())


def forget_all(path: Path) -> tuple[Path, ...]:
    """Delete the record and all set aside beside it; the files deleted. Raises InputError.

    What a disk keeps of deleted files, and copies made elsewhere, are beyond our reach.
    """
    if path.exists():
        nobody_has_it_open(path)
    files = kept_files(path)
    for file in files:
        try:
            file.unlink(missing_ok=True)
        except OSError as error:
            raise InputError(
                plain(str(file), 200), f"can't be deleted: {reason(error)}", "Delete it by hand."
            ) from error
    return files


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
