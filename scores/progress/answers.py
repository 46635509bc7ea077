"""What progress is drawn from, read out of the record in one go.

Answers come as arrays, one element an answer, in the order they were given within
each skill and block of days (``scores.record.trials``). Numpy is loaded here, so nothing
the first screen needs may import this module.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray

from scores.progress.retest import kept_bank
from scores.record.queries import matches_since, trials_since
from scores.record.record import DayCount, Record
from scores.record.trials import BLOCK_DAYS

MATCH_KIND = "make-the-match"
"""The drill whose error is the ΔE00 between the target and what the learner's plan makes."""
IntArray = NDArray[np.int64]

_TRIAL = np.dtype([("day", "u1"), ("chance", "u1"), ("place", "<i2")])


@dataclass(frozen=True)
class Answers:
    """Answers of many skills. ``skill`` indexes ``skills``; ``day`` are ordinals.

    ``place`` is the log10 intensity asked, in hundredths (greater is easier), and
    ``chance`` the proportion right by guessing, in 200ths. All arrays are (n,).
    """

    skills: tuple[str, ...]
    skill: IntArray
    day: IntArray
    chance: IntArray
    place: IntArray
    right: IntArray

    def __len__(self) -> int:
        return len(self.day)

    def pick(self, these: NDArray[np.bool_] | IntArray | slice) -> Answers:
        """Some of the answers, by a mask (n,), by their places, or by a slice."""
        kept = (a[these] for a in (self.skill, self.day, self.chance, self.place, self.right))
        return Answers(self.skills, *kept)

    def between(self, first: date, last: date) -> Answers:
        """The answers of the practice days from ``first`` to ``last``, both included."""
        inside = (self.day >= first.toordinal()) & (self.day <= last.toordinal())
        return self if inside.all() else self.pick(inside)


@dataclass(frozen=True)
class Matches:
    """Each "make the match": its day, an ordinal, oldest first, and the ΔE00 off; both (n,)."""

    day: IntArray
    error: NDArray[np.float64]


@dataclass(frozen=True)
class History:
    """Practice, re-tests, matches, and answers and seconds by day."""

    practice: Answers
    retest: Answers
    matches: Matches
    days: tuple[DayCount, ...]


def read_history(record: Record, since: date | None = None) -> History:
    """All that progress since a practice day is drawn from; everything without one.

    Re-tests are those with the questions held out now: older ones can't be laid
    beside them.
    """
    first = date.min if since is None else since
    bank = kept_bank(record)
    rows, matches = trials_since(record, first), matches_since(record, first)
    ordinal = {text: date.fromisoformat(text).toordinal() for text in {row[0] for row in matches}}
    return History(
        practice=_answers([row for row in rows if not row[2]], first),
        retest=_answers([row for row in rows if row[2]], max(first, bank.began) if bank else first),
        matches=Matches(
            np.array([ordinal[row[0]] for row in matches], dtype=np.int64),
            np.array([row[1] for row in matches], dtype=np.float64),
        ),
        days=tuple(record.days(since)),
    )


def _answers(rows: Sequence[Any], since: date) -> Answers:
    # A row written over by hand must not shift its neighbours' bytes.
    rows = [row for row in rows if type(row[3]) is bytes and not len(row[3]) % _TRIAL.itemsize]
    blobs = [row[3] for row in rows]
    counts = np.array([len(blob) // _TRIAL.itemsize for blob in blobs], dtype=np.int64)
    skills = tuple(sorted({row[1] for row in rows}))
    index = {skill: place for place, skill in enumerate(skills)}
    trials = np.frombuffer(b"".join(blobs), dtype=_TRIAL)
    blocks = np.array([row[0] for row in rows], dtype=np.int64)
    codes = trials["place"].astype(np.int64)
    answers = Answers(
        skills,
        np.repeat(np.array([index[row[1]] for row in rows], dtype=np.int64), counts),
        np.repeat(blocks * BLOCK_DAYS, counts) + trials["day"],
        trials["chance"].astype(np.int64),
        codes >> 1,
        codes & 1,
    )
    return answers.between(since, date.max)
