"""The record's schema, as migrations that only ever get longer.

Each is applied by sqlite-utils inside a transaction that also moves SQLite's own
``user_version``, so that the daily start sees whether anything is to do without
importing sqlite-utils. A released migration is never edited.

``attempts`` is narrow, so that years of it are read quickly; what is bulky (the
choices and what was computed for each) stands in ``attempt_facts``. ``skills``,
``kind_times``, ``days`` and ``trials`` are derived: ``Record.rebuild_skills`` makes them
again from the attempts. The whole file can be made again from the journal beside it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sqlite_utils import Database, Migrations

APPLICATION_ID = 0x43504331
"""SQLite's application_id of a record ("CPC1"): it tells ours from another program's file."""


def m001_record(db: Database) -> None:
    """Attempts and what follows from them; settings; pencil sets."""
    db.table("attempts").create(
        {
            "seq": int,
            "id": str,
            "session": str,
            "number": int,
            "kind": str,
            "kind_version": int,
            "region": str,
            "seed": int,
            "step": float,
            "easiest": float,
            "hardest": float,
            "chance": float,
            "pencils": str,
            "score": float,
            "right": int,
            "error": float,
            "unit": str,
            "outcome": str,
            "response_s": float,
            "at_utc": str,
            "zone": str,
            "day": str,
            "deck": str,
        },
        pk="seq",
        not_null={"id", "session", "number", "kind", "region", "score", "right", "at_utc", "day"},
    )
    db.table("attempts").create_index(["id"], unique=True)
    db.table("attempts").create_index(["kind", "region", "seq"])
    db.table("attempts").create_index(["at_utc"])
    db.table("attempt_facts").create(
        {"seq": int, "target": str, "facts": str, "answers": str, "verdict": str},
        pk="seq",
        foreign_keys=[("seq", "attempts", "seq")],
    )
    db.table("skills").create(
        {
            "skill": str,
            "stability": float,
            "difficulty": float,
            "reviewed": str,
            "due": str,
            "tries": int,
            "right": int,
            "last_score": float,
            "mean_score": float,
            "step": float,
            "usual_step": float,
            "last_tried_utc": str,
            "last_right_utc": str,
        },
        pk="skill",
    )
    db.table("kind_times").create({"kind": str, "recent_s": str}, pk="kind")
    db.table("days").create(
        {"day": str, "kind": str, "tries": int, "right": int, "seconds": float},
        pk=("day", "kind"),
    )
    db.table("settings").create({"key": str, "value": str}, pk="key")
    db.table("pencil_sets").create(
        {"fingerprint": str, "name": str, "csv": str, "added_utc": str}, pk="fingerprint"
    )


def m002_thresholds(db: Database) -> None:
    """A column for each skill's threshold; nothing writes it any more."""
    db.table("skills").add_column("measured", str)


def m003_decks(db: Database) -> None:
    """Decks a teacher assigned, and a quick way to their answers."""
    db.table("decks").create(
        {"fingerprint": str, "title": str, "content": str, "offers": str, "added_utc": str},
        pk="fingerprint",
        not_null={"title", "content", "offers", "added_utc"},
    )
    # Most answers belong to no deck; the index holds only those that do.
    db.execute("CREATE INDEX idx_attempts_deck ON attempts (deck, seq) WHERE deck != ''")


def m004_progress(db: Database) -> None:
    """What progress over years is drawn from, without reading every attempt."""
    from scores.record.trials import rebuild_trials

    db.table("trials").create(
        {"block": int, "skill": str, "probe": int, "answers": bytes},
        pk=("block", "skill", "probe"),
        not_null={"answers"},
    )
    rebuild_trials(db.conn)
    # The index holds all that the weeks of matches are drawn from.
    db.execute(
        "CREATE INDEX idx_attempts_match ON attempts (day, error, deck)"
        " WHERE kind = 'make-the-match'"
    )


def m005_journal(db: Database) -> None:
    """How far the journal beside the record was taken in: one row at most."""
    db.table("journal").create(
        {"one": int, "name": str, "bytes": int, "length": int, "line": bytes},
        pk="one",
        not_null={"name", "bytes", "length", "line"},
    )


def m006_help(db: Database) -> None:
    """Matches made with help are left out of the weeks of matches."""
    db.execute("DROP INDEX IF EXISTS idx_attempts_match")
    db.execute(
        "CREATE INDEX idx_attempts_match ON attempts (day, error, deck)"
        " WHERE kind = 'make-the-match' AND chance < 1.0"
    )
    # The answers that say whether the learner was sure, found without reading the others.
    db.execute(
        "CREATE INDEX idx_facts_sure ON attempt_facts (seq) WHERE instr(facts, '\"sure\":') > 0"
    )


STEPS: tuple[Callable[[Database], None], ...] = (
    m001_record,
    m002_thresholds,
    m003_decks,
    m004_progress,
    m005_journal,
    m006_help,
)
LATEST = len(STEPS)
TABLES = frozenset(
    {"attempts", "attempt_facts", "skills", "kind_times", "days", "settings", "pencil_sets"}
    | {"decks", "trials", "journal"}
)


def migrations() -> Migrations:
    """The migration set, each step also moving ``user_version``."""
    from sqlite_utils import Migrations

    made = Migrations("record")

    def numbered(number: int, step: Callable[[Database], None]) -> Callable[[Database], None]:
        def run(db: Database) -> None:
            step(db)
            db.execute(f"PRAGMA user_version = {number}")
            db.execute(f"PRAGMA application_id = {APPLICATION_ID}")

        run.__name__ = step.__name__
        return run

    for number, step in enumerate(STEPS, start=1):
        made(name=step.__name__)(numbered(number, step))
    return made


def migrate(connection: sqlite3.Connection, stop_before: str | None = None) -> None:
    """Bring a record up to date (``stop_before`` names a step, for tests of older schemas)."""
    from sqlite_utils import Database

    db = Database(connection)
    migrations().apply(db, stop_before=stop_before)
