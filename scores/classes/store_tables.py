"""The class store's tables, as migrations that only ever get longer.

``answers`` holds what students sent, each answer once. The tables in ``COUNTED`` follow from it,
and are made again for a student whenever that student's answers change
(``scores.classes.counted``): the screens and the report read them alone, so that their cost does
not grow with the answers.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from typing import TYPE_CHECKING

from drills.basics.json_values import from_json
from scores.classes.counted.counting import BINS, COUNTED, derive, derive_work
from scores.classes.paper.tables import CREATE, TABLE
from scores.classes.passing import Growth, days_done
from scores.classes.works import Words, one_work, places_in

if TYPE_CHECKING:
    from sqlite_utils import Database

APPLICATION_ID = 0x43504C31
"""SQLite's application_id of a class store ("CPL1")."""
STUDENT_TABLES = ("answers", "places", *COUNTED)
"""Every table with rows that belong to one student, by its column ``student``."""


def m001_class(db: Database) -> None:
    """Students, decks, skills and answers; what follows from the answers; the names expected."""
    for statement in _SCHEMA.split(";"):
        if statement.strip():
            db.execute(statement)


_SCHEMA = """
CREATE TABLE students (
    key INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, name TEXT NOT NULL, named_ms INTEGER NOT NULL
);
CREATE TABLE decks (
    key INTEGER PRIMARY KEY, fingerprint TEXT NOT NULL UNIQUE, title TEXT NOT NULL,
    author TEXT NOT NULL, items_a_day INTEGER NOT NULL, days INTEGER NOT NULL, due TEXT,
    pass_level REAL NOT NULL, given INTEGER NOT NULL
);
CREATE TABLE skills (
    key INTEGER PRIMARY KEY, kind TEXT NOT NULL, region TEXT NOT NULL, UNIQUE (kind, region)
);
CREATE TABLE targets (
    key INTEGER PRIMARY KEY, deck INTEGER NOT NULL, name TEXT NOT NULL, UNIQUE (deck, name)
);
CREATE TABLE expected (name TEXT PRIMARY KEY) WITHOUT ROWID;
CREATE TABLE answers (
    student INTEGER NOT NULL, id BLOB NOT NULL, deck INTEGER NOT NULL, skill INTEGER NOT NULL,
    target INTEGER NOT NULL, at_ms INTEGER NOT NULL, day INTEGER NOT NULL, score REAL NOT NULL,
    right INTEGER NOT NULL, seconds REAL NOT NULL, level REAL NOT NULL, said INTEGER NOT NULL,
    truth INTEGER NOT NULL, PRIMARY KEY (student, id)
) WITHOUT ROWID;
CREATE TABLE marks (
    student INTEGER NOT NULL, deck INTEGER NOT NULL, skill INTEGER NOT NULL,
    tries INTEGER NOT NULL, right INTEGER NOT NULL, total REAL NOT NULL, latest INTEGER NOT NULL,
    latest_score REAL NOT NULL, latest_level REAL NOT NULL, last_day INTEGER NOT NULL,
    PRIMARY KEY (student, deck, skill)
) WITHOUT ROWID;
CREATE TABLE days (
    student INTEGER NOT NULL, deck INTEGER NOT NULL, day INTEGER NOT NULL, tries INTEGER NOT NULL,
    total REAL NOT NULL, seconds REAL NOT NULL, PRIMARY KEY (student, deck, day)
) WITHOUT ROWID;
CREATE TABLE mixups (
    student INTEGER NOT NULL, deck INTEGER NOT NULL, truth INTEGER NOT NULL, said INTEGER NOT NULL,
    tries INTEGER NOT NULL, PRIMARY KEY (student, deck, truth, said)
) WITHOUT ROWID;
CREATE TABLE target_marks (
    student INTEGER NOT NULL, deck INTEGER NOT NULL, target INTEGER NOT NULL,
    tries INTEGER NOT NULL, total REAL NOT NULL, PRIMARY KEY (student, deck, target)
) WITHOUT ROWID;
"""


def m002_levels(db: Database) -> None:
    """Answers by difficulty; decks that are one work; the latest answers to each work."""
    for statement in _LEVELS.split(";"):
        if statement.strip():
            db.execute(statement)
    for (student,) in db.execute("SELECT key FROM students").fetchall():
        for made in (_DERIVE_LEVELS, _DERIVE_WORK_AT_FIRST):
            db.conn.execute(made.format(mine=_OF_ONE), {"student": student, "bins": BINS})


_LEVELS = """
CREATE TABLE level_marks (
    student INTEGER NOT NULL, deck INTEGER NOT NULL, skill INTEGER NOT NULL, bin INTEGER NOT NULL,
    tries INTEGER NOT NULL, right INTEGER NOT NULL, total_level REAL NOT NULL,
    PRIMARY KEY (student, deck, skill, bin)
) WITHOUT ROWID;
CREATE TABLE deck_marks (
    student INTEGER NOT NULL, deck INTEGER NOT NULL, latest INTEGER NOT NULL,
    latest_score REAL NOT NULL, PRIMARY KEY (student, deck)
) WITHOUT ROWID;
ALTER TABLE decks ADD COLUMN questions TEXT NOT NULL DEFAULT '';
ALTER TABLE decks ADD COLUMN work INTEGER NOT NULL DEFAULT 0;
UPDATE decks SET work = key;
"""


def m003_people(db: Database) -> None:
    """Several ids that are one student; a teacher's own names; the pencils of each id."""
    for statement in _PEOPLE.split(";"):
        if statement.strip():
            db.execute(statement)


_PEOPLE = """
ALTER TABLE students ADD COLUMN person INTEGER NOT NULL DEFAULT 0;
UPDATE students SET person = key;
ALTER TABLE students ADD COLUMN pencils TEXT NOT NULL DEFAULT '';
CREATE TABLE same (id TEXT PRIMARY KEY, person TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE called (id TEXT PRIMARY KEY, name TEXT NOT NULL) WITHOUT ROWID;
"""


def m004_pencils(db: Database) -> None:
    """The pencils that students sent, by their ids; ``made`` is when the file was (UTC text)."""
    db.execute(
        "CREATE TABLE pencil_sets (id TEXT PRIMARY KEY, made TEXT NOT NULL, csv TEXT NOT NULL)"
        " WITHOUT ROWID"
    )


def m005_courses(db: Database) -> None:
    """Where a deck stands in a course, as JSON; how its answers a day grow; all it wants."""
    for statement in _COURSES.split(";"):
        if statement.strip():
            db.execute(statement)


_COURSES = """
ALTER TABLE decks ADD COLUMN course TEXT NOT NULL DEFAULT '';
ALTER TABLE decks ADD COLUMN growth TEXT NOT NULL DEFAULT '[]';
ALTER TABLE decks ADD COLUMN wanted INTEGER NOT NULL DEFAULT 0;
UPDATE decks SET wanted = items_a_day * days;
"""


def m006_on_paper(db: Database) -> None:
    """Answers written on worksheets."""
    db.execute(CREATE)


def m007_days(db: Database) -> None:
    """Each student's days of practice on each work, and on all decks."""
    for statement in _DAYS.split(";"):
        if statement.strip():
            db.execute(statement)
    counts: dict[tuple[int, int], list[int]] = {}
    for student, work, tries in db.execute(
        "SELECT student, work, sum(tries) FROM days JOIN decks ON decks.key = deck"
        " GROUP BY student, work, day ORDER BY student, work, day"
    ):
        counts.setdefault((student, work), []).append(tries)
    wants = {
        work: (items, from_json(Growth, json.loads(growth)))
        for work, items, growth in db.execute("SELECT key, items_a_day, growth FROM decks")
    }
    db.conn.executemany(
        "UPDATE deck_marks SET days = ?, done = ? WHERE student = ? AND deck = ?",
        [(len(mine), days_done(mine, *wants[key[1]]), *key) for key, mine in counts.items()],
    )


_DAYS = """
ALTER TABLE deck_marks ADD COLUMN days INTEGER NOT NULL DEFAULT 0;
ALTER TABLE deck_marks ADD COLUMN done INTEGER NOT NULL DEFAULT 0;
CREATE TABLE totals (
    student INTEGER PRIMARY KEY, tries INTEGER NOT NULL, days INTEGER NOT NULL,
    first_day INTEGER NOT NULL
);
INSERT INTO totals
    SELECT student, sum(tries), count(DISTINCT day), min(day) FROM days GROUP BY student;
"""


def m008_places(db: Database) -> None:
    """A deck may stand in several courses: their JSON is a list, and which of them each student
    has stands in a table of its own."""
    db.execute("UPDATE decks SET course = '[' || course || ']' WHERE course != ''")
    db.execute(
        "CREATE TABLE places (student INTEGER NOT NULL, deck INTEGER NOT NULL, courses TEXT NOT"
        " NULL, PRIMARY KEY (student, deck)) WITHOUT ROWID"
    )
    db.execute(
        "INSERT INTO places SELECT DISTINCT student, deck, course FROM days"
        " JOIN decks ON decks.key = deck WHERE course != ''"
    )


STEPS: tuple[Callable[[Database], None], ...] = (
    *(m001_class, m002_levels, m003_people, m004_pencils, m005_courses),
    *(m006_on_paper, m007_days, m008_places),
)
LATEST = len(STEPS)


def migrate(connection: sqlite3.Connection) -> None:
    """Bring a class store up to date."""
    from sqlite_utils import Database, Migrations

    made = Migrations("class")

    def numbered(number: int, step: Callable[[Database], None]) -> Callable[[Database], None]:
        def run(db: Database) -> None:
            step(db)
            db.execute(f"PRAGMA user_version = {number}")
            db.execute(f"PRAGMA application_id = {APPLICATION_ID}")

        run.__name__ = step.__name__
        return run

    for number, step in enumerate(STEPS, start=1):
        made(name=step.__name__)(numbered(number, step))
    made.apply(Database(connection))


_OF_ONE = "(SELECT * FROM answers WHERE student = :student)"

_DERIVE_LEVELS = """INSERT INTO level_marks
    SELECT :student, deck, skill, min(:bins - 1, CAST(level * :bins AS INTEGER)) AS bin,
        count(*), sum(right), sum(level)
    FROM {mine} GROUP BY deck, skill, bin"""
# Before decks could want more of later days.
_DERIVE_WORK_AT_FIRST = """INSERT INTO deck_marks
    SELECT :student, work, sum(place <= wanted), sum(score * (place <= wanted))
    FROM (
        SELECT mine.work, score,
            max(whole.items_a_day, whole.items_a_day * whole.days / 2) AS wanted,
            row_number() OVER (PARTITION BY mine.work ORDER BY at_ms DESC, given.id) AS place
        FROM {mine} AS given JOIN decks AS mine ON mine.key = given.deck
        JOIN decks AS whole ON whole.key = mine.work
    ) GROUP BY work"""


def sweep(db: sqlite3.Connection) -> None:
    """Take away skills, targets and decks that nobody answers any more."""
    db.execute("DELETE FROM targets WHERE key NOT IN (SELECT target FROM answers)")
    for table, key in (("skills", "skill"), ("decks", "deck")):
        spared = "NOT given AND " if table == "decks" else ""
        db.execute(
            f"DELETE FROM {table} WHERE {spared}key NOT IN (SELECT {key} FROM answers"
            f" UNION SELECT {key} FROM {TABLE})"
        )
    db.execute("DELETE FROM places WHERE deck NOT IN (SELECT key FROM decks)")
    settle_works(db)


def settle_works(db: sqlite3.Connection) -> None:
    """Say which decks are one work, the words of one speaking for all; order changes nothing."""
    rows = db.execute(
        "SELECT key, title, author, questions, course, work FROM decks"
        " ORDER BY given DESC, due DESC, title, fingerprint"
    ).fetchall()
    settled: list[tuple[int, list[Words]]] = []
    work_of: dict[int, int] = {}
    for key, title, author, questions, course, _ in rows:
        one = Words(title, author, questions, places_in(course))
        alike = [group for group in settled if any(one_work(one, other) for other in group[1])]
        for group in alike[1:]:
            settled.remove(group)
            alike[0][1].extend(group[1])
            work_of |= {k: alike[0][0] for k, work in work_of.items() if work == group[0]}
        if not alike:
            settled.append((key, [one]))
        else:
            alike[0][1].append(one)
        work_of[key] = alike[0][0] if alike else key
    moved = [(work_of[row[0]], row[0]) for row in rows if work_of[row[0]] != row[-1]]
    if not moved:
        return
    db.executemany("UPDATE decks SET work = ? WHERE key = ?", moved)
    wrote = {
        person
        for (person,) in db.execute(
            f"SELECT person FROM students WHERE key IN (SELECT student FROM {TABLE})"
        )
    }
    for (student,) in db.execute("SELECT key FROM students WHERE key = person").fetchall():
        # Which answers on paper are one hangs on which decks are one work, and so do their days.
        (derive if student in wrote else derive_work)(db, student)


PUT_ANSWER = (
    f"INSERT INTO answers VALUES ({', '.join('?' * 13)}) ON CONFLICT (student, id) DO UPDATE SET"
    " deck = excluded.deck, skill = excluded.skill, target = excluded.target,"
    " at_ms = excluded.at_ms, day = excluded.day, score = excluded.score, right = excluded.right,"
    " seconds = excluded.seconds, level = excluded.level, said = excluded.said,"
    " truth = excluded.truth WHERE"
    " (excluded.at_ms, excluded.day, excluded.score, excluded.right, excluded.seconds,"
    " excluded.level, excluded.said, excluded.truth, {})"
    " > (at_ms, day, score, right, seconds, level, said, truth, {})"
)
"""Keys say nothing of what they stand for, and differ from class to class: names are compared."""
_NAMED = (
    "(SELECT fingerprint FROM decks WHERE key = {0}deck),"
    " (SELECT kind || '/' || region FROM skills WHERE key = {0}skill),"
    " coalesce((SELECT name FROM targets WHERE key = {0}target), '')"
)
PUT_ANSWER = PUT_ANSWER.format(_NAMED.format("excluded."), _NAMED.format("answers."))
"""Keep an answer, or over an older one of the same id."""
