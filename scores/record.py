"""The learner's record: every answer, and what follows from the answers.

One SQLite file in WAL mode, every answer committed to the disk (synchronous
FULL) before ``save`` returns. The file is made at the first write, not before.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from threading import RLock
from typing import Any

from drills.errors import InputError, plain
from scores.attempt import JSON, Attempt
from scores.memory import DESIRED_RETENTION, SkillState, advance, reschedule
from scores.outcome import judge
from scores.rows import (
    ATTEMPT_COLUMNS,
    FACT_COLUMNS,
    SKILL_COLUMNS,
    attempt_of,
    attempt_row,
    facts_row,
    marks,
    skill_of,
    skill_row,
    to_json,
)
from scores.storage import (
    CannotOpenError,
    Notice,
    NotSavedError,
    UnreadableRecordError,
    make_file,
    open_file,
    reason,
    set_aside,
)
from scores.when import utc_text

__all__ = ["DayCount", "NotSavedError", "Notice", "PencilsKept", "Record"]

RECENT_TIMES = 50
TIMES_KNOWN_FROM = 5
LONGEST_S = 600.0
"""A longer answer than this was a learner who had left the table."""


@dataclass(frozen=True, slots=True)
class DayCount:
    """One practice day: answers, how many right, and seconds spent answering."""

    day: date
    tries: int
    right: int
    seconds: float


@dataclass(frozen=True, slots=True)
class PencilsKept:
    """A pencil set as kept: its fingerprint, name and canonical CSV."""

    fingerprint: str
    name: str
    csv: str


def median(values: list[float]) -> float:
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2


class Record:
    """Open one with ``Record.open`` (commands) or ``Record.open_or_set_aside`` (the app)."""

    def __init__(self, path: Path, connection: sqlite3.Connection | None) -> None:
        self.path = path
        self._db = connection
        self._lock = RLock()

    # -- opening ---------------------------------------------------------------

    @classmethod
    def open(cls, path: Path, create: bool = True) -> Record:
        """Open the record at ``path``; one that is not there yet is made at the first write.

        Raises InputError: damaged, newer, can't be opened, or (``create`` False) not there.
        """
        try:
            return cls._open(path, create)
        except UnreadableRecordError as error:
            remedy = (
                "Update the coach to read it."
                if error.state == "newer"
                else "Open the coach with no command to set it aside and begin a new one."
            )
            raise InputError(plain(str(path), 200), error.problem, remedy) from error
        except CannotOpenError as error:
            raise InputError(
                plain(str(path), 200), str(error), "Check the file's rights, or set COACH_HOME."
            ) from error

    @classmethod
    def open_or_set_aside(cls, path: Path, now: datetime) -> tuple[Record, Notice | None]:
        """As ``open``, but a damaged or newer record is renamed out of the way first.

        Nothing is overwritten. Raises InputError when it can't be opened or renamed.
        """
        try:
            return cls._open(path, True), None
        except UnreadableRecordError as error:
            try:
                aside = set_aside(path, error.state, now)
            except OSError as refusal:
                raise InputError(
                    plain(str(path), 200),
                    f"{error.problem}, and it can't be moved: {reason(refusal)}",
                    "Move it away by hand, or set COACH_HOME to another folder.",
                ) from refusal
            where = plain(str(aside), 200)
            text = (
                f"Your record was made by a newer coach, so this one begins another. The first is"
                f" kept at {where}; update the coach and move it back."
                if error.state == "newer"
                else f"Your record can't be read ({error.problem}), so a new one begins. The old"
                f" file is kept at {where}."
            )
            return cls(path, None), Notice(error.state, aside, text)
        except CannotOpenError as error:
            raise InputError(
                plain(str(path), 200), str(error), "Check the file's rights, or set COACH_HOME."
            ) from error

    @classmethod
    def _open(cls, path: Path, create: bool) -> Record:
        if not path.exists():
            if not create:
                raise CannotOpenError("there is no record yet")
            return cls(path, None)
        record = cls(path, open_file(path))
        try:
            # What the first screen needs, read now, so that damage shows at the door.
            record.skills()
            record.kind_times()
            record.settings()
            record.active_pencils()
        except sqlite3.DatabaseError as error:
            record.close()
            raise UnreadableRecordError("damaged", reason(error)) from error
        except (ValueError, TypeError, KeyError, OverflowError) as error:
            record.close()
            raise UnreadableRecordError("damaged", "its tables hold nonsense") from error
        return record

    def close(self) -> None:
        """Close the file; a later write opens it again."""
        with self._lock:
            if self._db is not None:
                self._db.close()
                self._db = None

    # -- reading and writing -----------------------------------------------------

    def _rows(self, sql: str, values: tuple[object, ...] = ()) -> list[Any]:
        with self._lock:
            return [] if self._db is None else self._db.execute(sql, values).fetchall()

    @contextmanager
    def _write(self) -> Iterator[sqlite3.Connection]:
        """One transaction, on the disk when it ends. Raises NotSavedError; then nothing is kept."""
        with self._lock:
            try:
                if self._db is None:
                    make_file(self.path)
                    self._db = open_file(self.path)
                db = self._db
                db.execute("BEGIN IMMEDIATE")
                try:
                    yield db
                    db.execute("COMMIT")
                except BaseException:
                    if db.in_transaction:
                        db.execute("ROLLBACK")
                    raise
            except (sqlite3.Error, OSError) as error:
                raise NotSavedError(reason(error)) from error
            except (UnreadableRecordError, CannotOpenError) as error:
                raise NotSavedError(str(error)) from error

    # -- answers -----------------------------------------------------------------

    def save(self, attempt: Attempt) -> SkillState:
        """Keep an answer and what follows from it, in one transaction; the skill's new state.

        An attempt already kept changes nothing. Raises NotSavedError, after
        which nothing of it is kept and it may be saved again; ValueError for
        facts that are not JSON.
        """
        facts = facts_row(attempt)
        with self._write() as db:
            row = db.execute(
                f"SELECT {SKILL_COLUMNS} FROM skills WHERE skill = ?", (attempt.skill,)
            ).fetchone()
            before = None if row is None else skill_of(row)
            known = db.execute("SELECT 1 FROM attempts WHERE id = ?", (attempt.id,)).fetchone()
            if known and before:
                return before
            recent = self._recent(db, attempt.kind)
            outcome = judge(
                attempt.score,
                attempt.right,
                attempt.response_s,
                median(recent) if len(recent) >= TIMES_KNOWN_FROM else None,
                attempt.step,
                None if before is None else before.usual_step,
                attempt.chance,
            )
            after = advance(before, attempt, outcome, self._retention(db))
            seq = db.execute(
                f"INSERT INTO attempts ({ATTEMPT_COLUMNS}) VALUES ({marks(ATTEMPT_COLUMNS)})",
                attempt_row(attempt, outcome),
            ).lastrowid
            db.execute(
                f"INSERT INTO attempt_facts (seq, {FACT_COLUMNS})"
                f" VALUES (?, {marks(FACT_COLUMNS)})",
                (seq, *facts),
            )
            put_skill(db, after)
            put_times(db, attempt.kind, [*recent, min(attempt.response_s, LONGEST_S)])
            db.execute(
                "INSERT INTO days VALUES (?, ?, 1, ?, ?) ON CONFLICT (day, kind) DO UPDATE SET"
                " tries = tries + 1, right = right + excluded.right,"
                " seconds = seconds + excluded.seconds",
                (
                    attempt.day.isoformat(),
                    attempt.kind,
                    int(attempt.right),
                    min(attempt.response_s, LONGEST_S),
                ),
            )
        return after

    def attempts(
        self,
        since: datetime | None = None,
        kind: str | None = None,
        limit: int | None = None,
        newest_first: bool = False,
    ) -> Iterator[Attempt]:
        """Attempts in the order they were kept; ``since`` is an aware time."""
        where, values = ["1"], []
        if since is not None:
            where.append("at_utc >= ?")
            values.append(utc_text(since))
        if kind is not None:
            where.append("kind = ?")
            values.append(kind)
        if self._db is None:
            return
        order = "DESC" if newest_first else "ASC"
        cursor = self._db.execute(
            f"SELECT {ATTEMPT_COLUMNS}, {FACT_COLUMNS} FROM attempts JOIN attempt_facts USING (seq)"
            f" WHERE {' AND '.join(where)} ORDER BY seq {order} LIMIT ?",
            (*values, -1 if limit is None else limit),
        )
        yield from map(attempt_of, cursor)

    def count(self) -> int:
        """How many answers are kept."""
        rows = self._rows("SELECT sum(tries) FROM days")
        return int(rows[0][0] or 0) if rows else 0

    def has(self, attempt: str) -> bool:
        """Whether an attempt of this id is in the record."""
        return bool(self._rows("SELECT 1 FROM attempts WHERE id = ?", (attempt,)))

    # -- what follows from the answers ---------------------------------------------

    def skills(self) -> dict[str, SkillState]:
        """Every skill met, by name."""
        rows = self._rows(f"SELECT {SKILL_COLUMNS} FROM skills ORDER BY skill")
        return {row[0]: skill_of(row) for row in rows}

    def kind_times(self) -> dict[str, float]:
        """The learner's own median seconds per kind: its last 50 answers, once five are known."""
        times = {
            kind: [float(value) for value in json.loads(recent)]
            for kind, recent in self._rows("SELECT kind, recent_s FROM kind_times")
        }
        return {kind: median(s) for kind, s in times.items() if len(s) >= TIMES_KNOWN_FROM}

    def days(self, since: date | None = None) -> list[DayCount]:
        """Answers per practice day, oldest first; days without any are left out."""
        rows = self._rows(
            "SELECT day, sum(tries), sum(right), sum(seconds) FROM days WHERE day >= ?"
            " GROUP BY day ORDER BY day",
            ("" if since is None else since.isoformat(),),
        )
        return [DayCount(date.fromisoformat(day), *rest) for day, *rest in rows]

    @staticmethod
    def _recent(db: sqlite3.Connection, kind: str) -> list[float]:
        row = db.execute("SELECT recent_s FROM kind_times WHERE kind = ?", (kind,)).fetchone()
        return [] if row is None else [float(value) for value in json.loads(row[0])]

    # -- settings and pencils --------------------------------------------------------

    def settings(self) -> dict[str, JSON]:
        """Every setting by its key."""
        return {
            key: json.loads(value) for key, value in self._rows("SELECT key, value FROM settings")
        }

    def setting(self, key: str, default: JSON = None) -> JSON:
        """One setting, or ``default``."""
        rows = self._rows("SELECT value FROM settings WHERE key = ?", (key,))
        value: JSON = json.loads(rows[0][0]) if rows else default
        return value

    def set_setting(self, key: str, value: JSON) -> None:
        """Keep a setting. A new ``desired_retention`` moves every due day. Raises NotSavedError."""
        with self._write() as db:
            put_setting(db, key, value)
            if key == "desired_retention":
                retention = self._retention(db)
                rows = db.execute(f"SELECT {SKILL_COLUMNS} FROM skills").fetchall()
                for row in rows:
                    put_skill(db, reschedule(skill_of(row), retention))

    @staticmethod
    def _retention(db: sqlite3.Connection) -> float:
        row = db.execute("SELECT value FROM settings WHERE key = 'desired_retention'").fetchone()
        value = DESIRED_RETENTION if row is None else json.loads(row[0])
        return value if isinstance(value, float) and 0.7 <= value <= 0.97 else DESIRED_RETENTION

    def put_pencils(self, fingerprint: str, name: str, csv: str, at: datetime) -> None:
        """Keep a pencil set and make it the one in use. Raises NotSavedError."""
        with self._write() as db:
            db.execute(
                "INSERT INTO pencil_sets VALUES (?, ?, ?, ?) ON CONFLICT (fingerprint)"
                " DO UPDATE SET name = excluded.name",
                (fingerprint, name, csv, utc_text(at)),
            )
            put_setting(db, "pencils", fingerprint)

    def active_pencils(self) -> PencilsKept | None:
        """The pencil set in use; None before one is chosen."""
        rows = self._rows(
            "SELECT fingerprint, name, csv FROM pencil_sets JOIN settings ON key = 'pencils'"
            " WHERE json_extract(value, '$') = fingerprint"
        )
        return PencilsKept(*rows[0]) if rows else None

    # -- health ------------------------------------------------------------------------

    def check(self) -> tuple[str, ...]:
        """What a thorough look (SQLite's quick_check) finds wrong; empty when sound. Slow."""
        try:
            rows = self._rows("PRAGMA quick_check(20)")
        except sqlite3.DatabaseError as error:
            return (reason(error),)
        return tuple(plain(str(row[0])) for row in rows if row[0] != "ok")

    def replay(self) -> dict[str, SkillState]:
        """Every skill worked out again from the attempts alone; nothing is written."""
        states: dict[str, SkillState] = {}
        if self._db is not None:
            retention = self._retention(self._db)
            for attempt in self.attempts():
                states[attempt.skill] = advance(
                    states.get(attempt.skill),
                    attempt,
                    attempt.outcome,  # type: ignore[arg-type]
                    retention,
                )
        return dict(sorted(states.items()))

    def rebuild_skills(self) -> dict[str, SkillState]:
        """Make the derived tables again from the attempts. Raises NotSavedError."""
        states = self.replay()
        with self._write() as db:
            db.execute("DELETE FROM skills")
            for state in states.values():
                put_skill(db, state)
            db.execute("DELETE FROM days")
            db.execute(
                "INSERT INTO days SELECT day, kind, count(*), sum(right), sum(min(response_s, ?))"
                " FROM attempts GROUP BY day, kind",
                (LONGEST_S,),
            )
            db.execute("DELETE FROM kind_times")
            for (kind,) in db.execute("SELECT DISTINCT kind FROM attempts").fetchall():
                recent = db.execute(
                    "SELECT min(response_s, ?) FROM attempts WHERE kind = ?"
                    " ORDER BY seq DESC LIMIT ?",
                    (LONGEST_S, kind, RECENT_TIMES),
                ).fetchall()
                put_times(db, kind, [row[0] for row in reversed(recent)])
        return states


def put_skill(db: sqlite3.Connection, state: SkillState) -> None:
    db.execute(
        f"INSERT OR REPLACE INTO skills ({SKILL_COLUMNS}) VALUES ({marks(SKILL_COLUMNS)})",
        skill_row(state),
    )


def put_times(db: sqlite3.Connection, kind: str, seconds: list[float]) -> None:
    db.execute(
        "INSERT OR REPLACE INTO kind_times VALUES (?, ?)", (kind, to_json(seconds[-RECENT_TIMES:]))
    )


def put_setting(db: sqlite3.Connection, key: str, value: JSON) -> None:
    db.execute("INSERT OR REPLACE INTO settings VALUES (?, ?)", (key, to_json(value)))
