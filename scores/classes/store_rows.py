"""A results file's rows: its student, deck and answers, as the class store keeps them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from datetime import UTC, datetime
from operator import itemgetter

from drills.basics.days import practice_ordinal
from drills.basics.errors import InputError, plain
from drills.basics.json_values import json_text
from scores.classes.counted.counting import ID, Row, answers_of, derive_work
from scores.classes.paper.kept import put_on_paper
from scores.classes.passing import wanted
from scores.classes.store_tables import PUT_ANSWER, settle_works
from scores.classes.works import places_in, places_text
from scores.exchange.results_read import ResultsFile
from scores.exchange.results_written import DeckNamed
from scores.exchange.xapi import SharedAnswer

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
"""Times are kept as milliseconds from here."""
MOST_STUDENTS = 5_000


def put_student(
    db: sqlite3.Connection, results: ResultsFile, source: str, typed: bool = False
) -> int:
    """The student's key; the name goes with the latest answers, a tie to the later by alphabet.

    Of one who is known already nothing is changed by what a teacher ``typed``.
    """
    dated = [*(answer.at for answer in results.answers), *(one.typed for one in results.on_paper)]
    named = max(map(_ms, dated), default=0)
    row = db.execute("SELECT count(*) FROM students").fetchone()
    known = db.execute("SELECT key FROM students WHERE id = ?", (results.student,)).fetchone()
    if known is None and row[0] >= MOST_STUDENTS:
        raise InputError(plain(source, 200), f"the class has {MOST_STUDENTS:,} students", "")
    if known is not None and typed:
        return int(known[0])
    db.execute(
        "INSERT INTO students (id, name, named_ms, pencils) VALUES (?, ?, ?, ?) ON CONFLICT (id)"
        " DO UPDATE SET name = excluded.name, named_ms = excluded.named_ms,"
        " pencils = excluded.pencils WHERE"
        " (excluded.named_ms, excluded.name, excluded.pencils) > (named_ms, name, pencils)",
        (results.student, results.name, named, results.pencils),
    )
    db.execute("UPDATE students SET person = key WHERE person = 0")
    return _key(db, "SELECT key FROM students WHERE id = ?", (results.student,))


def put_pencils(db: sqlite3.Connection, student: str, made: str, csv: str) -> None:
    """Keep a set for a student's id; of two the later stands, by when its file was ``made``.

    A question doesn't say when it was made (empty): a results file goes before it.
    """
    db.execute(
        "INSERT INTO pencil_sets (id, made, csv) VALUES (?, ?, ?) ON CONFLICT (id) DO UPDATE SET"
        " made = excluded.made, csv = excluded.csv"
        " WHERE (excluded.made, excluded.csv) > (made, csv)",
        (student, made, csv),
    )


def put_deck(db: sqlite3.Connection, deck: DeckNamed, given: bool) -> int:
    """The deck's key. What the teacher gave stands; else files that disagree are settled alike."""
    row = (
        deck.fingerprint,
        deck.title,
        deck.author,
        deck.items_a_day,
        deck.days,
        "" if deck.due is None else deck.due.isoformat(),
        deck.pass_level,
        int(given),
        json_text(deck.growth),
        wanted(deck.items_a_day, deck.days, deck.growth),
    )
    before = db.total_changes
    db.execute(
        "INSERT INTO decks (fingerprint, title, author, items_a_day, days, due, pass_level, given,"
        " growth, wanted) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
        " ON CONFLICT (fingerprint) DO UPDATE SET"
        " title = excluded.title, author = excluded.author, items_a_day = excluded.items_a_day,"
        " days = excluded.days, due = excluded.due, pass_level = excluded.pass_level,"
        " given = excluded.given, growth = excluded.growth, wanted = excluded.wanted WHERE"
        " (excluded.given, excluded.title, excluded.author, excluded.items_a_day, excluded.days,"
        " excluded.due, excluded.pass_level, excluded.growth)"
        " > (given, title, author, items_a_day, days, due, pass_level, growth)",
        row,
    )
    # Two files that disagree are settled alike, whichever came first.
    db.execute(
        "UPDATE decks SET questions = ? WHERE fingerprint = ? AND questions < ?",
        (deck.questions, deck.fingerprint, deck.questions),
    )
    if deck.places:
        (known,) = db.execute(
            "SELECT course FROM decks WHERE fingerprint = ?", (deck.fingerprint,)
        ).fetchone()
        courses = places_text((*places_in(known), *deck.places))
        db.execute(
            "UPDATE decks SET course = ? WHERE fingerprint = ? AND course != ?",
            (courses, deck.fingerprint, courses),
        )
    key = _key(db, "SELECT key FROM decks WHERE fingerprint = ?", (deck.fingerprint,))
    if db.total_changes > before:
        db.execute("UPDATE decks SET work = key WHERE work = 0")
        settle_works(db)
        for (student,) in db.execute(
            "SELECT DISTINCT student FROM days WHERE deck IN (SELECT key FROM decks WHERE work ="
            " (SELECT work FROM decks WHERE key = ?))",
            (key,),
        ).fetchall():
            derive_work(db, student)
    return key


def put_places(db: sqlite3.Connection, student: int, deck: DeckNamed, key: int) -> None:
    """Keep in which courses a student has a deck: all that their files ever said."""
    if deck.places:
        mine = "FROM places WHERE student = ? AND deck = ?"
        known = db.execute(f"SELECT courses {mine}", (student, key)).fetchone()
        courses = places_text((*places_in(known[0] if known else ""), *deck.places))
        db.execute("INSERT OR REPLACE INTO places VALUES (?, ?, ?)", (student, key, courses))


def put_paper(db: sqlite3.Connection, student: int, deck: int, results: ResultsFile) -> None:
    """Keep the answers on paper of a results file."""
    put_on_paper(db, student, deck, results.on_paper, _skill, _ms)


def put_answers(
    db: sqlite3.Connection, student: int, deck: int, answers: Iterable[SharedAnswer]
) -> list[Row]:
    """Keep answers of a student's and a deck's key; all that the class then has of that student.

    Files come again with answers that are kept already: these aren't written again.
    """
    held = {row[ID]: row for row in answers_of(db, student)}
    rows = [row for row in _answer_rows(db, student, deck, answers) if held.get(row[ID]) != row]
    db.executemany(PUT_ANSWER, rows)
    found = {row[ID] for row in rows}
    if len(found) < len(rows) or not found.isdisjoint(held):
        # Of two of one id the database says which stands.
        return answers_of(db, student)
    return [*held.values(), *rows]


def _answer_rows(
    db: sqlite3.Connection, student: int, deck: int, answers: Iterable[SharedAnswer]
) -> list[Row]:
    """The rows of answers of one student and deck by their keys, in the order of the table's."""
    skills: dict[tuple[str, str], int] = {}
    targets: dict[str, int] = {"": -1}
    rows: list[Row] = []
    for one in answers:
        identity, _, _, kind, region, at, score, right, seconds, level, said, truth, name = one
        skill = skills.get((kind, region))
        if skill is None:
            skill = skills[kind, region] = _skill(db, kind, region)
        target = targets.get(name)
        if target is None:
            target = targets[name] = _target(db, deck, name)
        rows.append(
            (
                student,
                bytes.fromhex(identity.replace("-", "")),
                deck,
                skill,
                target,
                _ms(at),
                practice_ordinal(at),
                score,
                right,
                seconds,
                level,
                said,
                truth,
            )
        )
    # In the order of the key, rows go in where the last one went.
    rows.sort(key=itemgetter(ID))
    return rows


def _ms(at: datetime) -> int:
    since = at - EPOCH
    return since.days * 86_400_000 + since.seconds * 1_000 + since.microseconds // 1_000


def _skill(db: sqlite3.Connection, kind: str, region: str) -> int:
    db.execute("INSERT OR IGNORE INTO skills (kind, region) VALUES (?, ?)", (kind, region))
    return _key(db, "SELECT key FROM skills WHERE kind = ? AND region = ?", (kind, region))


def _target(db: sqlite3.Connection, deck: int, name: str) -> int:
    db.execute("INSERT OR IGNORE INTO targets (deck, name) VALUES (?, ?)", (deck, name))
    return _key(db, "SELECT key FROM targets WHERE deck = ? AND name = ?", (deck, name))


def _key(db: sqlite3.Connection, sql: str, values: tuple[object, ...]) -> int:
    return int(db.execute(sql, values).fetchone()[0])
