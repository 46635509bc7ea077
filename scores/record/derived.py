"""What follows from the answers, worked out inside the caller's transaction.

``skills``, ``kind_times``, ``days`` and ``trials`` hold nothing that the answers don't
say: each answer moves them on, and all of them can be made again.
"""

from __future__ import annotations

import json
import math
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from scores.record import tables
from scores.record.failures import FAILURES, is_damage
from scores.record.rows import ATTEMPT_COLUMNS, FACT_COLUMNS, SKILL_COLUMNS, attempt_of, skill_of
from scores.record.trials import NOT_PRACTICE, put_trial
from scores.skill.memory import SkillState, advance
from scores.skill.outcome import judge, outcome_of

if TYPE_CHECKING:
    from scores.record.attempt import Attempt


_NO_DAY = (
    "typeof(day) != 'text' OR date(day) IS NOT day OR typeof(kind) != 'text'"
    " OR typeof(tries) != 'integer' OR tries < 0 OR typeof(right) != 'integer' OR right < 0"
    " OR typeof(seconds) NOT IN ('real', 'integer') OR abs(seconds) >= 1e15"
)
"""What a row of ``days`` can't be."""


def follow(db: sqlite3.Connection, attempt: Attempt, untimed: bool) -> tuple[Attempt, SkillState]:
    """Keep an answer and what follows from it; the answer as kept, and its skill's new state.

    An answer that has no outcome yet is judged here; quickness counts for nothing where
    the learner is ``untimed``. Raises ValueError or TypeError for numbers that are
    not finite, facts that are not JSON, and tables that hold nonsense.
    """
    facts = tables.checked_facts(attempt)
    before = tables.get_skill(db, attempt.skill)
    put_trial(db, attempt)
    tables.count_day(db, attempt)
    if attempt.deck in NOT_PRACTICE:
        kept = replace(attempt, outcome="")
        tables.put_attempt(db, kept, facts)
        return kept, before or SkillState(attempt.skill)
    recent = tables.get_times(db, attempt.kind)
    outcome = (
        outcome_of(attempt.outcome)
        if attempt.outcome
        else judge(
            attempt.score,
            attempt.right,
            attempt.response_s,
            None if untimed else tables.usual_seconds(recent),
            attempt.step,
            None if before is None else before.usual_step,
            attempt.chance,
        )
    )
    after = advance(before, attempt, outcome, tables.retention_of(db))
    kept = replace(attempt, outcome=outcome)
    tables.put_attempt(db, kept, facts)
    tables.put_skill(db, after)
    tables.put_times(db, attempt.kind, [*recent, attempt.response_s])
    return kept, after


def in_order(db: sqlite3.Connection) -> None:
    """Number the answers anew by when they were given, after some came from elsewhere."""
    if db.execute("SELECT count(*) FROM attempts").fetchone()[0] == 0:
        return
    db.execute("PRAGMA defer_foreign_keys = ON")
    db.execute(
        "CREATE TEMP TABLE places AS SELECT seq AS old,"
        " row_number() OVER (ORDER BY at_utc, session, number, id) AS new FROM attempts"
    )
    db.execute("CREATE INDEX temp.places_old ON places (old)")
    for table in ("attempts", "attempt_facts"):
        place = f"(SELECT new FROM places WHERE old = {table}.seq)"
        # By way of numbers below nought, for a key may not be there twice.
        db.execute(f"UPDATE {table} SET seq = -{place}")
        db.execute(f"UPDATE {table} SET seq = -seq")
    db.execute("DROP TABLE temp.places")


def replayed(db: sqlite3.Connection) -> Iterator[dict[str, SkillState]]:
    """Every skill worked out again from the answers alone, one answer a step.

    What is yielded is the same dictionary each time; after the last step it is whole.
    """
    states: dict[str, SkillState] = {}
    retention = tables.retention_of(db)
    cursor = db.execute(
        f"SELECT {ATTEMPT_COLUMNS}, {FACT_COLUMNS} FROM attempts JOIN attempt_facts USING (seq)"
        " WHERE deck NOT IN (?, ?) ORDER BY seq",
        NOT_PRACTICE,
    )
    yield states
    for row in cursor:
        attempt = attempt_of(row)
        before = states.get(attempt.skill)
        states[attempt.skill] = advance(before, attempt, outcome_of(attempt.outcome), retention)
        yield states


def replay(db: sqlite3.Connection) -> dict[str, SkillState]:
    """Every skill worked out again from the answers alone; nothing is written."""
    *_, states = replayed(db)
    return dict(sorted(states.items()))


def rebuild(db: sqlite3.Connection) -> dict[str, SkillState]:
    """Make the four tables again from the answers."""
    states = replay(db)
    db.execute("DELETE FROM skills")
    for state in states.values():
        tables.put_skill(db, state)
    tables.rebuild_counts(db)
    return states


def nonsense(db: sqlite3.Connection) -> bool:
    """Whether a table that the first screen is made from holds what no answer can have led to."""
    try:
        skills = [skill_of(row) for row in db.execute(f"SELECT {SKILL_COLUMNS} FROM skills")]
        times = db.execute("SELECT kind, recent_s FROM kind_times").fetchall()
        # In SQL, for there are thousands after some years.
        senseless = db.execute(f"SELECT 1 FROM days WHERE {_NO_DAY} LIMIT 1").fetchone()
        return not (
            all(map(_skill_makes_sense, skills))
            and all(isinstance(kind, str) and _are_times(json.loads(text)) for kind, text in times)
            and senseless is None
        )
    except (ValueError, TypeError, KeyError, OverflowError, AttributeError, RecursionError):
        return True
    except FAILURES as error:
        # Text that is none. Where a page can't be read at all, making them again fails too.
        if is_damage(error):
            return True
        raise


def _skill_makes_sense(state: SkillState) -> bool:
    some = (state.stability, state.difficulty, state.step, state.usual_step)
    return (
        isinstance(state.skill, str)
        and ":" in state.skill
        and all(value is None or _number(value, above=0.0) for value in some)
        and (state.difficulty is None or 1.0 <= state.difficulty <= 10.0)
        and _count(state.tries)
        and _count(state.right)
        and state.right <= state.tries
        and _number(state.last_score)
        and _number(state.mean_score)
    )


def _are_times(values: object) -> bool:
    return isinstance(values, list) and all(_number(value) for value in values)


def _number(value: object, above: float = -1e300) -> bool:
    return isinstance(value, int | float) and math.isfinite(value) and above < value < 1e300


def _count(value: object) -> bool:
    return isinstance(value, int) and 0 <= value < 1 << 53
