"""Looking a whole record over, in short steps, and putting right what is amiss.

The database and its journal are held against each other, answer by answer; what follows
from the answers is worked out again and held against what is kept. It is meant for a
thread beside the app: between two steps nothing is held.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any
from zlib import crc32

from drills.basics.json_values import JSON
from scores.record import derived, tables
from scores.record.attempt import attempt_id
from scores.record.failures import FAILURES, UnreadableRecordError, is_damage
from scores.record.journal.lines import (
    NOT_KEPT,
    JournalContent,
    answer_body,
    deck_body,
    gather,
    pencils_body,
    setting_body,
)
from scores.record.journal.places import put_place
from scores.record.mending.readable_rows import reads, sound_attempt
from scores.record.mending.taking_in import attempts_of, put_answers, take_in
from scores.record.rows import ATTEMPT_COLUMNS, FACT_COLUMNS, SKILL_COLUMNS, skill_of
from scores.record.storage import connect
from scores.record.trials import trials_of
from scores.skill.memory import SkillState

if TYPE_CHECKING:
    from scores.record.opening import RecordFile

STEP = 100
"""Answers looked at in one step."""
_WIDTH = len(ATTEMPT_COLUMNS.split(","))


@dataclass
class _Found:
    """What one look found: answers changed in the database, and entries the journal lacks."""

    seen: set[str] = field(default_factory=set)
    changed: list[str] = field(default_factory=list)
    unjournaled: list[str] = field(default_factory=list)
    misnamed: dict[str, str] = field(default_factory=dict)
    """What an answer is called, and what it must be called by its session and number."""
    broken: bool = False


def look_over(record: RecordFile) -> Iterator[None]:
    """Hold a record's two files against each other, a step at a time, and mend them.

    What was mended is in ``record.mendings``. Raises NotSavedError when a mending can't be
    written; what is amiss then stays as it is.
    """
    if record._db is None or record.journal is None:
        return
    if not _is_whole(record):
        record.mend(UnreadableRecordError("damaged", "some of its pages can't be read"))
    yield
    held, begun = JournalContent(), 0
    if record.journal.exists():
        begun = record.journal.path.stat().st_size
        for number, body in enumerate(record.journal.read()):
            held.add(body, lambda _: False)
            if number % (10 * STEP) == 0:
                yield
    found = _Found()
    try:
        yield from _answers(record, held, found)
    except FAILURES as error:
        found.broken = found.broken or is_damage(error)
    if found.broken:
        record.mend(UnreadableRecordError("damaged", "some of its answers make no sense"))
        found = _Found()
        yield from _answers(record, held, found)
    _put_back(record, held, found)
    yield from _put_in_journal(record, found.unjournaled)
    _others(record, held, begun)
    yield
    if held.unread:
        _journal_anew(record, held.unread)
    yield from _what_follows(record)


def _is_whole(record: RecordFile) -> bool:
    """Whether SQLite finds nothing wrong, indexes included."""
    try:
        with closing(connect(record.path, readonly=True)) as db:
            return bool(db.execute("PRAGMA integrity_check(1)").fetchone() == ("ok",))
    except FAILURES as error:
        return not is_damage(error)


def _answers(record: RecordFile, held: JournalContent, found: _Found) -> Iterator[None]:
    """Look at every answer of the database, in the order of their numbers."""
    at = -(1 << 62)
    while True:
        rows = record._rows(
            f"SELECT attempts.seq, {ATTEMPT_COLUMNS}, {FACT_COLUMNS} FROM attempts"
            " LEFT JOIN attempt_facts USING (seq) WHERE attempts.seq > ?"
            " ORDER BY attempts.seq LIMIT ?",
            (at, STEP),
        )
        for row in rows:
            _one(row[1 : 1 + _WIDTH], row[1 + _WIDTH :], held, found)
        if not rows:
            return
        at = rows[-1][0]
        yield


def _one(row: tuple[Any, ...], facts: tuple[Any, ...], held: JournalContent, found: _Found) -> None:
    name = str(row[0])
    try:
        body = answer_body(row, facts)
        same = crc32(body.encode("utf-8"))
    except (ValueError, TypeError):
        body, same = "", -1
    if held.sums.get(name) == same:
        found.seen.add(name)
    elif name in held.sums:
        found.seen.add(name)
        found.changed.append(name)
    elif name != (called := attempt_id(str(row[1]), row[2])):
        found.misnamed[name] = called
    elif body and sound_attempt(row, facts) is not None:
        found.unjournaled.append(body)
    else:
        found.broken = True


def _put_back(record: RecordFile, held: JournalContent, found: _Found) -> None:
    """Put answers that were lost or changed back from the journal."""
    if found.misnamed:
        record.transact(lambda db: _rename(db, held, found.misnamed))
    lost = held.sums.keys() - found.seen
    wanted = {*lost, *found.changed}
    journal = record.journal
    if not wanted or journal is None:
        return
    bodies = gather(journal.read(), wanted.__contains__).answers.values()
    attempts = attempts_of(bodies)

    def put(db: sqlite3.Connection) -> int:
        for attempt in attempts:
            _drop(db, attempt.id)
        put_answers(db, attempts)
        derived.in_order(db)
        derived.rebuild(db)
        return len(attempts)

    if attempts:
        count = record.transact(put)
        record.mendings.append(
            f"{count:,} of your answers had been changed or lost in the record;"
            " they were put back from its journal."
        )


def _drop(db: sqlite3.Connection, name: str) -> None:
    chosen = "seq IN (SELECT seq FROM attempts WHERE id = ?)"
    db.execute(f"DELETE FROM attempt_facts WHERE {chosen}", (name,))
    db.execute("DELETE FROM attempts WHERE id = ?", (name,))


def _rename(db: sqlite3.Connection, held: JournalContent, misnamed: dict[str, str]) -> None:
    """Give answers the names they must have; one that the journal has goes, to be put back."""
    for name, called in misnamed.items():
        if called in held.sums or tables.has_attempt(db, called):
            _drop(db, name)
        else:
            db.execute("UPDATE attempts SET id = ? WHERE id = ?", (called, name))


def _put_in_journal(record: RecordFile, bodies: list[str]) -> Iterator[None]:
    """Put answers in the journal that it has not got: those from before there was one."""
    for start in range(0, len(bodies), STEP):
        part = bodies[start : start + STEP]

        def put(db: sqlite3.Connection, part: list[str] = part) -> None:
            record._journal(db, *part)

        record.transact(put)
        yield


def _others(record: RecordFile, held: JournalContent, begun: int) -> None:
    """Bring settings, pencil sets and decks level; where both have one the journal's counts.

    What was written since the journal's reading began at ``begun`` is read first: it would
    be taken for a change from outside, and undone.
    """
    settings = [
        (key, setting_body(key, value))
        for key, value in _settings(record).items()
        if key not in NOT_KEPT
    ]
    pencils = _texts(record, "SELECT fingerprint, name, csv, added_utc FROM pencil_sets")
    decks = _texts(record, "SELECT fingerprint, title, content, added_utc FROM decks")

    def put(db: sqlite3.Connection) -> int:
        assert record.journal is not None
        for body in record.journal.read(begun):
            if body is not None:
                held.add(body, lambda _: False)
        bodies = [
            *(pencils_body(row) for row in pencils if row[0] not in held.pencils),
            *(deck_body(row) for row in decks if row[0] not in held.decks),
            *(body for key, body in settings if key not in held.settings),
        ]
        if bodies:
            record._journal(db, *bodies)
        return take_in(db, held).others

    if record.transact(put):
        record.mendings.append(
            "Some of your settings, pencils or decks had been changed outside the coach;"
            " they were put back from the journal."
        )


def _settings(record: RecordFile) -> dict[str, JSON]:
    rows = record._rows("SELECT key, value FROM settings")
    return {row[0]: json.loads(row[1]) for row in rows if reads("settings", row)}


def _texts(record: RecordFile, sql: str) -> list[tuple[str, ...]]:
    return [row for row in record._rows(sql) if all(isinstance(value, str) for value in row)]


def _journal_anew(record: RecordFile, unread: int) -> None:
    """Write the journal without the lines that can't be read; they stay in a copy beside it."""
    journal = record.journal
    assert journal is not None

    def put(db: sqlite3.Connection) -> None:
        journal.keep_copy("damaged", record._now)
        journal.rewrite(lambda _: True)
        put_place(db, journal.place(journal.end()))

    record.transact(put)
    record.mendings.append(
        f"{unread:,} lines of your record's journal could not be read; it was written anew"
        " from what the record holds."
    )


def _what_follows(record: RecordFile) -> Iterator[None]:
    """Work out again what follows from the answers, and put it right where it differs.

    Steps that differ alone are not spoken of: an older coach kept thresholds there.
    """
    agrees = sound = True
    with suppress(*FAILURES), closing(connect(record.path, readonly=True)) as db:
        db.execute("BEGIN")
        try:
            rows = db.execute(f"SELECT {SKILL_COLUMNS} FROM skills")
            kept = {row[0]: skill_of(row) for row in rows}
            replayed = derived.replayed(db)
            states = next(replayed)
            for number, _ in enumerate(replayed):
                if number % (STEP // 2) == 0:
                    yield
            agrees = states == kept and _counts_agree(db)
            sound = _but_steps(states) == _but_steps(kept) and _counts_agree(db)
        except (ValueError, TypeError, OverflowError):
            agrees = sound = False
    yield
    if not agrees:
        record.transact(derived.rebuild)
    if not sound:
        record.mendings.append(
            "What is kept of your skills did not agree with your answers; it was worked out anew."
        )


def _but_steps(states: dict[str, SkillState]) -> dict[str, SkillState]:
    return {name: replace(state, step=None) for name, state in states.items()}


def _counts_agree(db: sqlite3.Connection) -> bool:
    days = db.execute("SELECT day, kind, tries, right FROM days ORDER BY day, kind").fetchall()
    counted = db.execute(
        "SELECT day, kind, count(*), sum(right) FROM attempts GROUP BY day, kind ORDER BY day, kind"
    ).fetchall()
    seconds = db.execute("SELECT sum(seconds) FROM days").fetchone()[0] or 0.0
    timed = db.execute(
        "SELECT sum(min(response_s, ?)) FROM attempts", (tables.LONGEST_S,)
    ).fetchone()[0]
    trials = {
        (block, skill, probe): bytes(answers)
        for block, skill, probe, answers in db.execute("SELECT * FROM trials")
    }
    return (
        days == counted
        and abs(seconds - (timed or 0.0)) < 0.001 * (1.0 + len(days))
        and trials == trials_of(db)
    )
