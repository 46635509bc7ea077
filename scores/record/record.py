"""The learner's record: every answer, and what follows from the answers.

One SQLite file in WAL mode and a journal beside it, every answer on the disk in the
journal before ``save`` returns. The files are made at the first write, not before.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from drills.basics.days import utc_text
from drills.basics.errors import plain
from drills.basics.json_values import JSON
from scores.record import derived, tables
from scores.record.failures import FAILURES, NotSavedError, UnreadableRecordError, reason
from scores.record.journal.lines import NOT_KEPT, answer_body, pencils_body, setting_body
from scores.record.opening import RecordFile
from scores.record.rows import (
    ATTEMPT_COLUMNS,
    FACT_COLUMNS,
    SKILL_COLUMNS,
    attempt_of,
    attempt_row,
    facts_row,
    skill_of,
)
from scores.record.set_aside import Notice
from scores.skill.memory import SkillState, reschedule

if TYPE_CHECKING:
    from scores.record.attempt import Attempt

__all__ = ["DayCount", "NotSavedError", "Notice", "PencilsKept", "Record"]


@dataclass(frozen=True)
class DayCount:
    """One practice day: answers, how many right, and seconds spent answering."""

    day: date
    tries: int
    right: int
    seconds: float


@dataclass(frozen=True)
class PencilsKept:
    """A pencil set as kept: its fingerprint, name and canonical CSV."""

    fingerprint: str
    name: str
    csv: str


class Record(RecordFile):
    """Open one with ``Record.open`` (commands) or ``Record.open_mended`` (the app)."""

    def _look(self) -> None:
        self.skills()
        self.kind_times()
        self.settings()
        self.active_pencils()

    # -- answers -------------------------------------------------------------------

    def save(self, attempt: Attempt, setting: tuple[str, JSON] | None = None) -> SkillState:
        """Keep an answer and what follows from it, in one transaction; the skill's new state.

        A ``setting`` (key and value) is kept by the same write. It is the journal's second line:
        where a machine stops within that write the answer may be kept without it.
        An attempt already kept changes nothing. Re-tests and what came on paper
        (``NOT_PRACTICE``) are counted, but teach the memory nothing. Raises
        NotSavedError, after which nothing of it is kept and it may be saved again;
        ValueError or TypeError for numbers that are not finite and facts that are
        not JSON.
        """
        tables.checked_facts(attempt)

        def keep(db: sqlite3.Connection) -> SkillState:
            if tables.has_attempt(db, attempt.id):
                return tables.get_skill(db, attempt.skill) or SkillState(attempt.skill)
            try:
                kept, after = derived.follow(db, attempt, self.setting("untimed") is True)
            except (ValueError, TypeError, OverflowError) as error:
                raise UnreadableRecordError("damaged", "its tables hold nonsense") from error
            bodies = [answer_body(attempt_row(kept), facts_row(kept))]
            if setting is not None:
                tables.put_setting(db, *setting)
                bodies.append(setting_body(*setting))
            self._journal(db, *bodies)
            return after

        return self.transact(keep)

    def attempts(
        self,
        since: datetime | None = None,
        kind: str | None = None,
        region: str | None = None,
        limit: int | None = None,
        newest_first: bool = False,
    ) -> Iterator[Attempt]:
        """Attempts in the order they were kept; ``since`` is an aware time."""
        where: list[str] = ["1"]
        values: list[object] = []
        for clause, value in (
            ("at_utc >= ?", None if since is None else utc_text(since)),
            ("kind = ?", kind),
            ("region = ?", region),
        ):
            if value is not None:
                where.append(clause)
                values.append(value)
        sql = (
            f"SELECT {ATTEMPT_COLUMNS}, {FACT_COLUMNS} FROM attempts JOIN attempt_facts USING (seq)"
            f" WHERE {' AND '.join(where)} ORDER BY seq {'DESC' if newest_first else 'ASC'}"
            " LIMIT ?"
        )
        begun = False
        try:
            for row in self._cursor(sql, (*values, -1 if limit is None else limit)):
                begun = True
                yield attempt_of(row)
        except FAILURES as error:
            if begun or not self._mended_after(error):
                raise
            yield from self.attempts(since, kind, region, limit, newest_first)

    def has(self, attempt: str) -> bool:
        """Whether an attempt of this id is in the record."""
        return bool(self._rows("SELECT 1 FROM attempts WHERE id = ?", (attempt,)))

    def count(self) -> int:
        """How many answers are kept."""
        rows = self._rows("SELECT sum(tries) FROM days")
        return int(rows[0][0] or 0) if rows else 0

    # -- what follows from the answers -----------------------------------------------

    def skills(self) -> dict[str, SkillState]:
        """Every skill met, by name."""
        rows = self._rows(f"SELECT {SKILL_COLUMNS} FROM skills ORDER BY skill")
        return {row[0]: skill_of(row) for row in rows}

    def kind_times(self) -> dict[str, float]:
        """The learner's own median seconds per kind: its last 50 answers, once five are known."""
        rows = self._rows("SELECT kind, recent_s FROM kind_times")
        usual = {
            kind: tables.usual_seconds([float(value) for value in json.loads(recent)])
            for kind, recent in rows
        }
        return {kind: seconds for kind, seconds in usual.items() if seconds is not None}

    def days(self, since: date | None = None) -> list[DayCount]:
        """Answers per practice day, oldest first; days without any are left out."""
        rows = self._rows(
            "SELECT day, sum(tries), sum(right), sum(seconds) FROM days WHERE day >= ?"
            " GROUP BY day ORDER BY day",
            ("" if since is None else since.isoformat(),),
        )
        return [DayCount(date.fromisoformat(day), *rest) for day, *rest in rows]

    # -- settings and pencils ----------------------------------------------------------

    def settings(self) -> dict[str, JSON]:
        """Every setting by its key."""
        rows = self._rows("SELECT key, value FROM settings")
        read: dict[str, JSON] = {}
        for key, value in rows:
            # One that is not JSON hides that setting and no other.
            with suppress(ValueError, TypeError, RecursionError):
                read[key] = json.loads(value)
        return read

    def setting(self, key: str, default: JSON = None) -> JSON:
        """One setting, or ``default``."""
        return self.settings().get(key, default)

    def set_setting(self, key: str, value: JSON) -> None:
        """Keep a setting. A new ``desired_retention`` moves every due day. Raises NotSavedError."""

        def keep(db: sqlite3.Connection) -> None:
            tables.put_setting(db, key, value)
            if key == "desired_retention":
                retention = tables.retention_of(db)
                for state in self.skills().values():
                    tables.put_skill(db, reschedule(state, retention))
            if key not in NOT_KEPT:
                self._journal(db, setting_body(key, value))

        self.transact(keep)

    def put_pencils(self, fingerprint: str, name: str, csv: str, at: datetime) -> None:
        """Keep a pencil set and make it the one in use. Raises NotSavedError."""
        row = (fingerprint, name, csv, utc_text(at))

        def keep(db: sqlite3.Connection) -> None:
            db.execute(
                "INSERT INTO pencil_sets VALUES (?, ?, ?, ?) ON CONFLICT (fingerprint)"
                " DO UPDATE SET name = excluded.name",
                row,
            )
            tables.put_setting(db, "pencils", fingerprint)
            self._journal(db, pencils_body(row), setting_body("pencils", fingerprint))

        self.transact(keep)

    def active_pencils(self) -> PencilsKept | None:
        """The pencil set in use; None before one is chosen."""
        rows = self._rows(
            "SELECT fingerprint, name, csv FROM pencil_sets WHERE fingerprint = ?",
            (self.setting("pencils"),),
        )
        return PencilsKept(*rows[0]) if rows else None

    # -- health --------------------------------------------------------------------------

    def check(self) -> tuple[str, ...]:
        """What a thorough look (SQLite's quick_check) finds wrong; empty when sound. Slow."""
        try:
            with self._lock:
                rows = (
                    []
                    if self._db is None
                    else self._db.execute("PRAGMA quick_check(20)").fetchall()
                )
        except FAILURES as error:
            return (reason(error),)
        return tuple(plain(str(row[0])) for row in rows if row[0] != "ok")

    def replay(self) -> dict[str, SkillState]:
        """Every skill worked out again from the attempts alone; nothing is written."""
        return {} if self._db is None else derived.replay(self._db)

    def rebuild_skills(self) -> dict[str, SkillState]:
        """Make the derived tables again from the attempts. Raises NotSavedError."""
        return self.transact(derived.rebuild)
