"""Two records made one: what another holds and this one lacks is added, nothing twice."""

from __future__ import annotations

import os
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from drills.basics.days import utc_text
from drills.basics.errors import InputError, plain
from scores.record.decks_added import decks_kept
from scores.record.failures import FAILURES, NotSavedError, reason
from scores.record.journal.lines import (
    JournalContent,
    answer_body,
    body_of,
    gather,
)
from scores.record.journal.reading import lines_of, name_of
from scores.record.mending.merging import merge_in
from scores.record.mending.taking_in import attempts_of
from scores.record.queries import pencil_sets
from scores.record.record import Record
from scores.record.rows import attempt_row, facts_row
from scores.record.set_aside import clear
from scores.upkeep.copies import checked_copy


@dataclass(frozen=True)
class Merged:
    """Answers that were added, those that were here already, and other things added."""

    added: int
    here: int
    others: int


def merge(record: Record, source: Path) -> Merged:
    """Add what the record or journal at ``source`` holds and this record lacks.

    ``source`` is only read. Answers are told apart by their ids, and stand in the order in
    which they were given, so that merging twice, or the other way round, comes to the same.
    Settings, pencil sets and decks are added where there is none here. Raises InputError;
    then nothing has changed.
    """
    where = plain(str(source), 200)
    if not source.is_file():
        raise InputError(where, "there is no such file", "Give a record or its journal.")
    with source.open("rb") as file:
        start = file.read(16)
    if start == b"SQLite format 3\0":
        held = _held_by_record(source, record.path, where)
    else:
        lines = lines_of(source, 0)
        if not name_of(next(lines, b"")):
            raise InputError(where, "it is no record and no journal", "Give one of those.")
        held = gather(body_of(line) for line in lines)
    attempts = attempts_of(held.answers.values())

    try:
        added, others = merge_in(record, attempts, held)
    except NotSavedError as error:
        raise InputError(where, f"nothing was merged: {error}", "") from error
    return Merged(added, len(attempts) - added, others)


def _held_by_record(source: Path, path: Path, where: str) -> JournalContent:
    """Everything a record holds, read from a checked copy brought up to date."""
    draft = path.with_name(f"{path.name}.merging-{os.getpid()}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        checked_copy(source, draft, where)
        with closing(Record.open_strictly(draft, False, journaled=False)) as other:
            held = JournalContent(settings=other.settings())
            for attempt in other.attempts():
                body = answer_body(attempt_row(attempt), facts_row(attempt))
                held.add(body.encode("utf-8"))
            held.pencils = {row[0]: row for row in pencil_sets(other)}
            held.decks = {
                deck.fingerprint: (deck.fingerprint, deck.title, deck.content, utc_text(deck.added))
                for deck in decks_kept(other)
            }
            return held
    except (*FAILURES, OSError, ValueError, TypeError) as error:
        why = reason(error) if isinstance(error, (*FAILURES, OSError)) else "it holds nonsense"
        raise InputError(where, f"nothing was merged: {why}", "") from error
    finally:
        clear(draft)
