"""How a record fares, looked at without changing a byte of it."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from drills.basics.errors import plain
from scores.record.failures import FAILURES, is_damage, reason
from scores.record.migrations import APPLICATION_ID, LATEST, TABLES
from scores.record.set_aside import SIDE_FILES
from scores.record.storage import connect

State = Literal["none yet", "sound", "damaged", "newer", "can't be opened"]
MOST_FOUND = 12


@dataclass(frozen=True)
class Health:
    """``found`` are the faults in plain words. Counts are None where they can't be read.

    ``schema`` is the record's version and ``log_bytes`` what waits in its log.
    """

    state: State
    found: tuple[str, ...] = ()
    bytes: int = 0
    log_bytes: int = 0
    schema: int | None = None
    answers: int | None = None
    skills: int | None = None
    days: int | None = None
    aside: int = 0


def health(path: Path) -> Health:
    """Look at a record: its header, version, tables, every page, and whether its counts agree."""
    aside = sum(
        1
        for state in ("damaged", "newer", "replaced")
        for _ in path.parent.glob(f"{path.stem}-{state}-*{path.suffix}")
    )
    try:
        size = path.stat().st_size
        if not path.is_file():
            found = ("it is a folder, a pipe or a device, not a file",)
            return Health("can't be opened", found, aside=aside)
        with path.open("rb") as file:
            head = file.read(100)
    except FileNotFoundError:
        return Health("none yet", aside=aside)
    except OSError as error:
        return Health("can't be opened", (reason(error),), aside=aside)
    log = _size(path.with_name(path.name + SIDE_FILES[0]))
    if len(head) < 100 or not head.startswith(b"SQLite format 3\0"):
        return Health("damaged", ("it does not begin as a record does",), size, log, aside=aside)
    try:
        with closing(_open(path)) as db:
            return _looked(db, size, log, aside)
    except FAILURES as error:
        state: State = "damaged" if is_damage(error) else "can't be opened"
        return Health(state, (reason(error),), size, log, aside=aside)


def _open(path: Path) -> sqlite3.Connection:
    try:
        db = connect(path, readonly=True)
        db.execute("SELECT count(*) FROM sqlite_master").fetchone()
        return db
    except FAILURES as error:
        if is_damage(error):
            raise
    return connect(path, immutable=True)


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0


def _looked(db: sqlite3.Connection, size: int, log: int, aside: int) -> Health:
    found: list[str] = []
    schema = _number(db, "PRAGMA user_version")
    if _number(db, "PRAGMA application_id") != APPLICATION_ID:
        found.append("it is another program's file")
    if schema is not None and schema > LATEST:
        return Health("newer", ("it was made by a newer coach",), size, log, schema, aside=aside)
    try:
        told = [plain(str(row[0]), 120) for row in db.execute(f"PRAGMA quick_check({MOST_FOUND})")]
        found += [line for line in told if line != "ok"]
    except FAILURES as error:
        found.append(reason(error))
    if schema == LATEST:
        found += [f"its table {name} is missing" for name in _missing(db)]
    answers = _number(db, "SELECT count(*) FROM attempts")
    counted = _number(db, "SELECT coalesce(sum(tries), 0) FROM days")
    detailed = _number(db, "SELECT count(*) FROM attempt_facts")
    if None not in (answers, counted) and answers != counted:
        found.append(f"it holds {answers} answers, but its days count {counted}")
    if None not in (answers, detailed) and answers != detailed:
        found.append(f"it holds {answers} answers, and the details of {detailed}")
    return Health(
        "damaged" if found else "sound",
        tuple(found[:MOST_FOUND]),
        size,
        log,
        schema,
        answers,
        _number(db, "SELECT count(*) FROM skills"),
        _number(db, "SELECT count(DISTINCT day) FROM days"),
        aside,
    )


def _missing(db: sqlite3.Connection) -> Sequence[str]:
    try:
        rows = db.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    except FAILURES:
        return ()
    return sorted(TABLES - {str(row[0]) for row in rows})


def _number(db: sqlite3.Connection, sql: str) -> int | None:
    """One number, or None where it can't be read."""
    try:
        row = db.execute(sql).fetchone()
        return None if row is None or row[0] is None else int(row[0])
    except (*FAILURES, ValueError, TypeError):
        return None
