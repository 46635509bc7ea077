"""The database made again: from its journal, and from what of it can still be read."""

from __future__ import annotations

import os
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from scores.record.journal.file import Journal
from scores.record.journal.lines import JournalContent, gather
from scores.record.journal.places import put_place
from scores.record.mending.put_rows import put_readable
from scores.record.mending.readable_rows import found_rows, sound_answers
from scores.record.mending.taking_in import take_in
from scores.record.set_aside import clear, set_aside
from scores.record.storage import make_file, open_file


@dataclass(frozen=True)
class Remade:
    """What was made again: answers in all, and where the unreadable file lies, if there was one."""

    answers: int
    aside: Path | None


def remake(
    path: Path, journal: Journal | None, at: datetime, state: Literal["damaged", "newer"]
) -> Remade:
    """Make the database at ``path`` again; one that is there is set aside, and only read.

    The new file is whole before it takes its name. Raises OSError or sqlite3.Error; then
    nothing has changed.
    """
    draft = path.with_name(f"{path.name}.remade-{os.getpid()}")
    path.parent.mkdir(parents=True, exist_ok=True)
    clear(draft)
    try:
        make_file(draft)
        with closing(open_file(draft)) as db:
            db.execute("BEGIN IMMEDIATE")
            held = JournalContent()
            if journal is not None and journal.exists():
                with journal.held():
                    held = gather(journal.read())
                    take_in(db, held)
                    put_place(db, journal.place(journal.end()))
            if path.exists() and state == "damaged":
                found = found_rows(path)
                attempts, _ = sound_answers(found["attempts"], found["attempt_facts"])
                lacking = [attempt for _, attempt in attempts if attempt.id not in held.sums]
                dropped = {name for name, deck in held.decks.items() if deck is None}
                put_readable(db, lacking, found, dropped)
            answers = int(db.execute("SELECT count(*) FROM attempts").fetchone()[0])
            db.execute("COMMIT")
            db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        aside = set_aside(path, state, at) if path.exists() else None
        draft.rename(path)
    finally:
        clear(draft)
    return Remade(answers, aside)
