"""Every answer at four bytes a piece, so that ten years of them are looked over at once.

``trials`` is a derived table: one row for each skill and 28 days, holding the
answers of that time in their order. An answer is kept as what a threshold can be
measured from again by any method: the day, the proportion right by guessing, the
step really shown, and whether it was right. Re-tests (``RETEST``) have rows of
their own.

Bytes, little-endian: the day within the block (0-27); the chance in 200ths; the
log10 intensity of the step (see ``scores.skill.psychometric``; greater is easier) in
hundredths, doubled, plus 1 where the answer was right, as a signed 16-bit number.
"""

from __future__ import annotations

import math
import sqlite3
import struct
from datetime import date
from typing import TYPE_CHECKING

from scores.skill.skill_words import skill_name

if TYPE_CHECKING:
    from scores.record.attempt import Attempt

RETEST = "probe"
"""The mark, in ``Attempt.deck``, of a re-test: recorded, but practice knows nothing of it."""
PAPER = "paper"
"""The mark, in ``Attempt.deck``, of what came on paper: recorded, but no drill's answer. What a
printer makes of colours tells of no threshold on a screen."""
NOT_PRACTICE = (RETEST, PAPER)
"""Marks of what teaches the memory nothing and has no usual time."""
BLOCK_DAYS = 28
PER_CHANCE = 200
PER_LOG10 = 100
"""A step is kept to about 2 %, far finer than one answer tells."""
FARTHEST = 100.0
"""A log10 intensity beyond ± this is no step."""
_TRIAL = struct.Struct("<BBh")

_INSERT = (
    "INSERT INTO trials (block, skill, probe, answers) VALUES (?, ?, ?, ?)"
    " ON CONFLICT (block, skill, probe) DO UPDATE SET answers = ?"
)


def block_of(day: date) -> int:
    """The block of 28 days a practice day lies in."""
    return day.toordinal() // BLOCK_DAYS


def trial_bytes(
    steps: tuple[float, float], chance: float, step: float, right: bool, day: date
) -> bytes:
    """One answer; empty where no threshold could be measured from it."""
    usable = all(math.isfinite(v) and v > 0 for v in (step, *steps)) and steps[0] != steps[1]
    if not usable or not 0.0 <= chance < 1.0:
        return b""
    sign = 1.0 if steps[0] > steps[1] else -1.0
    place = round(PER_LOG10 * sign * math.log10(step))
    if abs(place) > PER_LOG10 * FARTHEST:
        return b""
    return _TRIAL.pack(day.toordinal() % BLOCK_DAYS, round(PER_CHANCE * chance), 2 * place + right)


def put_trial(db: sqlite3.Connection, attempt: Attempt) -> None:
    """Add an answer, inside the caller's transaction; one on paper tells of no threshold."""
    if attempt.deck == PAPER:
        return
    made = trial_bytes(attempt.steps, attempt.chance, attempt.step, attempt.right, attempt.day)
    if not made:
        return
    key = (block_of(attempt.day), attempt.skill, int(attempt.deck == RETEST))
    row = db.execute(
        "SELECT answers FROM trials WHERE block = ? AND skill = ? AND probe = ?", key
    ).fetchone()
    kept = made if row is None else bytes(row[0]) + made
    db.execute(_INSERT, (*key, kept, kept))


def trials_of(db: sqlite3.Connection) -> dict[tuple[int, str, int], bytes]:
    """What ``trials`` must hold, worked out from the attempts."""
    made: dict[tuple[int, str, int], bytearray] = {}
    rows = db.execute(
        "SELECT kind, region, step, easiest, hardest, chance, right, day, deck"
        " FROM attempts WHERE deck != ? ORDER BY seq",
        (PAPER,),
    )
    for kind, region, step, easiest, hardest, chance, right, text, deck in rows:
        day = date.fromisoformat(text)
        trial = trial_bytes((easiest, hardest), chance, step, bool(right), day)
        if trial:
            key = (block_of(day), skill_name(kind, region), int(deck == RETEST))
            made.setdefault(key, bytearray()).extend(trial)
    return {key: bytes(answers) for key, answers in made.items()}


def rebuild_trials(db: sqlite3.Connection) -> None:
    """Make ``trials`` again from the attempts, inside the caller's transaction."""
    made = trials_of(db)
    db.execute("DELETE FROM trials")
    db.executemany(
        "INSERT INTO trials (block, skill, probe, answers) VALUES (?, ?, ?, ?)",
        ((*key, answers) for key, answers in sorted(made.items())),
    )
