"""What follows from one student's answers, made again whenever these change.

The answers are read once, the latest first, and every table is counted of them. Sums are
exact (``math.fsum``), so that they hang on no order.
"""

from __future__ import annotations

import json
import sqlite3
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from math import fsum
from operator import itemgetter
from types import MappingProxyType
from typing import Any

from drills.basics.json_values import from_json
from scores.classes.paper.tables import OF_PERSON
from scores.classes.passing import LATEST_WANTED, Growth, days_done

LATEST_ANSWERS = 20
"""How many of the latest answers of a skill say where a student now stands in it."""
BINS = 40
"""Into how many steps the way from a kind's easiest question to its hardest is counted."""

COUNTED = (
    *("marks", "days", "mixups", "target_marks", "level_marks"),
    *("deck_marks", "totals"),
)
"""The tables that follow from the answers, each with a column ``student``."""

Row = tuple[Any, ...]
"""A row of ``answers``, by the order of its columns."""
_NONE: Mapping[int, Sequence[Row]] = MappingProxyType({})
ID, _DECK, _AT, _DAY, _SCORE, _SECONDS = 1, 2, 5, 6, 7, 9
_LATEST_WANTED = LATEST_WANTED.format("")


def derive(
    db: sqlite3.Connection, student: int, known: Mapping[int, Sequence[Row]] = _NONE
) -> None:
    """Make what follows from one student's answers again; ``student`` is a person's key.

    ``known`` are all rows of one of the person's own keys, where whoever asks has them at hand.
    """
    for table in COUNTED:
        db.execute(f"DELETE FROM {table} WHERE student = ?", (student,))
    rows, paper = _answers(db, student, known), _on_paper(db, student)
    by_skill: dict[tuple[int, int], list[Row]] = defaultdict(list)
    by_day: dict[tuple[int, int], list[Row]] = defaultdict(list)
    mixed: Counter[tuple[int, int, int]] = Counter()
    by_target: dict[tuple[int, int], list[float]] = defaultdict(list)
    for row in rows:
        _, _, deck, skill, target, _, day, score, _, _, _, said, truth = row
        by_skill[deck, skill].append(row)
        by_day[deck, day].append(row)
        if truth >= 0 and said >= 0:
            mixed[deck, truth, said] += 1
        if target >= 0:
            by_target[deck, target].append(score)
    for row in paper:
        by_day[row[_DECK], row[_DAY]].append(row)
    marks, levels = _of_skills(student, by_skill)
    days = [
        (
            *(student, *key, len(mine)),
            *(fsum(row[_SCORE] for row in mine), fsum(row[_SECONDS] for row in mine)),
        )
        for key, mine in by_day.items()
    ]
    _put(db, "marks", marks)
    _put(db, "level_marks", levels)
    _put(db, "days", days)
    _put(db, "mixups", [(student, *key, tries) for key, tries in mixed.items()])
    _put(
        db,
        "target_marks",
        [(student, *key, len(mine), fsum(mine)) for key, mine in by_target.items()],
    )
    _put_work(db, student, _latest_first(rows + paper) if paper else rows)


def derive_work(db: sqlite3.Connection, student: int) -> None:
    """Make again what follows from one student's answers and from which decks are one work."""
    for table in ("deck_marks", "totals"):
        db.execute(f"DELETE FROM {table} WHERE student = ?", (student,))
    _put_work(db, student, _latest_first(_answers(db, student) + _on_paper(db, student)))


def _answers(
    db: sqlite3.Connection, student: int, known: Mapping[int, Sequence[Row]] = _NONE
) -> list[Row]:
    """A person's answers, the latest first, then by id."""
    keys = db.execute(
        "SELECT key FROM students WHERE person = ? ORDER BY id", (student,)
    ).fetchall()
    rows: list[Row] = []
    for (key,) in keys:
        rows += known[key] if key in known else answers_of(db, key)
    if len(keys) > 1:
        # Records that were merged hold each other's answers: one that both sent is counted once.
        once: dict[bytes, Row] = {}
        for row in rows:
            once.setdefault(row[ID], row)
        rows = list(once.values())
    return _latest_first(rows)


def answers_of(db: sqlite3.Connection, key: int) -> list[Row]:
    """The answers of one key of a student, by id."""
    return db.execute("SELECT * FROM answers WHERE student = ? ORDER BY id", (key,)).fetchall()


def _on_paper(db: sqlite3.Connection, student: int) -> list[Row]:
    """A person's answers on paper that count, as rows of ``answers``."""
    return db.execute(
        "SELECT student, id, deck, skill, -1, at_ms, day, score, right, 0.0, 0.0, -1, -1"
        f" FROM {OF_PERSON}",
        {"student": student},
    ).fetchall()


def _latest_first(rows: list[Row]) -> list[Row]:
    rows.sort(key=itemgetter(ID))
    rows.sort(key=itemgetter(_AT), reverse=True)
    return rows


def _of_skills(
    student: int, by_skill: dict[tuple[int, int], list[Row]]
) -> tuple[list[Row], list[Row]]:
    """The rows of ``marks`` and of ``level_marks``."""
    marks: list[Row] = []
    levels: list[Row] = []
    for key, mine in by_skill.items():
        _, _, _, _, _, _, days, scores, right, _, asked, _, _ = zip(*mine, strict=True)
        latest = min(len(mine), LATEST_ANSWERS)
        latest_sums = fsum(scores[:latest]), fsum(asked[:latest])
        whole = (len(mine), sum(right), fsum(scores), latest, *latest_sums, max(days))
        marks.append((student, *key, *whole))
        bins: dict[int, list[int]] = defaultdict(list)
        for at, level in enumerate(asked):
            bins[int(level * BINS)].append(at)
        # The hardest question of all is of the last bin.
        bins[BINS - 1] += bins.pop(BINS, [])
        levels += [
            (
                *(student, *key, place, len(some)),
                *(sum(right[at] for at in some), fsum(asked[at] for at in some)),
            )
            for place, some in bins.items()
            if some
        ]
    return marks, levels


def _put_work(db: sqlite3.Connection, student: int, rows: Iterable[Row]) -> None:
    """The latest answers to each work, its days, and the days of all; ``rows`` the latest first."""
    works = dict(db.execute("SELECT key, work FROM decks").fetchall())
    scores: dict[int, list[float]] = defaultdict(list)
    for row in rows:
        scores[works[row[_DECK]]].append(row[_SCORE])
    tries: dict[int, Counter[int]] = defaultdict(Counter)
    every: Counter[int] = Counter()
    for deck, day, count in db.execute(
        "SELECT deck, day, tries FROM days WHERE student = ?", (student,)
    ):
        tries[works[deck]][day] += count
        every[day] += count
    made = []
    for work, mine in scores.items():
        items, most, growth = db.execute(
            f"SELECT items_a_day, {_LATEST_WANTED}, growth FROM decks WHERE key = ?",
            (work,),
        ).fetchone()
        latest = mine[:most]
        counts = [tries[work][day] for day in sorted(tries[work])]
        done = days_done(counts, items, from_json(Growth, json.loads(growth)))
        made.append((student, work, len(latest), fsum(latest), len(counts), done))
    _put(db, "deck_marks", made)
    if every:
        _put(db, "totals", [(student, sum(every.values()), len(every), min(every))])


def _put(db: sqlite3.Connection, table: str, rows: list[Row]) -> None:
    if rows:
        # In the order of the key, rows go in where the last one went.
        rows.sort()
        marks = ", ".join("?" * len(rows[0]))
        db.executemany(f"INSERT INTO {table} VALUES ({marks})", rows)
