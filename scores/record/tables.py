"""The record's tables, one statement each; every function works inside the caller's transaction."""

from __future__ import annotations

import json
import math
import sqlite3
from typing import TYPE_CHECKING

from drills.basics.json_values import JSON, json_text
from scores.record.rows import (
    ATTEMPT_COLUMNS,
    FACT_COLUMNS,
    SKILL_COLUMNS,
    attempt_row,
    facts_row,
    marks,
    skill_of,
    skill_row,
)
from scores.record.trials import NOT_PRACTICE, rebuild_trials
from scores.skill.memory import DESIRED_RETENTION, RETENTION_RANGE, SkillState

if TYPE_CHECKING:
    from scores.record.attempt import Attempt

RECENT_TIMES = 50
"""Answers per kind whose times are kept at hand."""
TIMES_KNOWN_FROM = 5
"""Answers from which a median is worth having."""
LONGEST_S = 600.0
"""A longer answer than this was a learner who had left the table."""


def median(values: list[float]) -> float:
    """The median of at least one number."""
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2


def usual_seconds(recent: list[float]) -> float | None:
    """The learner's own median, None until enough answers are known."""
    return median(recent) if len(recent) >= TIMES_KNOWN_FROM else None


def checked_facts(attempt: Attempt) -> tuple[str, ...]:
    """The row of an attempt's facts.

    Raises ValueError for numbers that are none (SQLite would keep them as
    nothing), and ValueError or TypeError for facts that are not JSON.
    """
    numbers = (attempt.score, attempt.error, attempt.step, attempt.chance, attempt.response_s)
    if not all(map(math.isfinite, (*numbers, *attempt.steps))):
        raise ValueError(f"attempt {attempt.id} holds a number that is not finite")
    return facts_row(attempt)


def put_attempt(db: sqlite3.Connection, attempt: Attempt, facts: tuple[str, ...]) -> None:
    seq = db.execute(
        f"INSERT INTO attempts ({ATTEMPT_COLUMNS}) VALUES ({marks(ATTEMPT_COLUMNS)})",
        attempt_row(attempt),
    ).lastrowid
    db.execute(
        f"INSERT INTO attempt_facts (seq, {FACT_COLUMNS}) VALUES (?, {marks(FACT_COLUMNS)})",
        (seq, *facts),
    )


def has_attempt(db: sqlite3.Connection, attempt: str) -> bool:
    return db.execute("SELECT 1 FROM attempts WHERE id = ?", (attempt,)).fetchone() is not None


def get_skill(db: sqlite3.Connection, skill: str) -> SkillState | None:
    row = db.execute(f"SELECT {SKILL_COLUMNS} FROM skills WHERE skill = ?", (skill,)).fetchone()
    return None if row is None else skill_of(row)


def put_skill(db: sqlite3.Connection, state: SkillState) -> None:
    db.execute(
        f"INSERT OR REPLACE INTO skills ({SKILL_COLUMNS}) VALUES ({marks(SKILL_COLUMNS)})",
        skill_row(state),
    )


def get_times(db: sqlite3.Connection, kind: str) -> list[float]:
    row = db.execute("SELECT recent_s FROM kind_times WHERE kind = ?", (kind,)).fetchone()
    return [] if row is None else [float(value) for value in json.loads(row[0])]


def put_times(db: sqlite3.Connection, kind: str, seconds: list[float]) -> None:
    recent = [min(value, LONGEST_S) for value in seconds[-RECENT_TIMES:]]
    db.execute("INSERT OR REPLACE INTO kind_times VALUES (?, ?)", (kind, json_text(recent)))


def count_day(db: sqlite3.Connection, attempt: Attempt) -> None:
    db.execute(
        "INSERT INTO days VALUES (?, ?, 1, ?, ?) ON CONFLICT (day, kind) DO UPDATE SET"
        " tries = tries + 1, right = right + excluded.right, seconds = seconds + excluded.seconds",
        (
            attempt.day.isoformat(),
            attempt.kind,
            int(attempt.right),
            min(attempt.response_s, LONGEST_S),
        ),
    )


def put_setting(db: sqlite3.Connection, key: str, value: JSON) -> None:
    db.execute("INSERT OR REPLACE INTO settings VALUES (?, ?)", (key, json_text(value)))


def retention_of(db: sqlite3.Connection) -> float:
    """The desired retention: the setting where it is a sensible one, else the usual."""
    row = db.execute("SELECT value FROM settings WHERE key = 'desired_retention'").fetchone()
    value = DESIRED_RETENTION if row is None else json.loads(row[0])
    low, high = RETENTION_RANGE
    return value if isinstance(value, float) and low <= value <= high else DESIRED_RETENTION


def rebuild_counts(db: sqlite3.Connection) -> None:
    """Make ``days``, ``kind_times`` and ``trials`` again from the attempts."""
    rebuild_trials(db)
    db.execute("DELETE FROM days")
    db.execute(
        "INSERT INTO days SELECT day, kind, count(*), sum(right), sum(min(response_s, ?))"
        " FROM attempts GROUP BY day, kind",
        (LONGEST_S,),
    )
    db.execute("DELETE FROM kind_times")
    practised = "SELECT DISTINCT kind FROM attempts WHERE deck NOT IN (?, ?)"
    for (kind,) in db.execute(practised, NOT_PRACTICE).fetchall():
        recent = db.execute(
            "SELECT response_s FROM attempts WHERE kind = ? AND deck NOT IN (?, ?)"
            " ORDER BY seq DESC LIMIT ?",
            (kind, *NOT_PRACTICE, RECENT_TIMES),
        ).fetchall()
        put_times(db, kind, [row[0] for row in reversed(recent)])
