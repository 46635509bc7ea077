"""A class: what its students sent, merged so that order and repetition change nothing.

One SQLite file of its own, apart from anybody's record. An answer is known by
student and attempt id. Should two files disagree about one (a file was edited),
the same one of the two is kept, whichever came first: the greater by its content.
A student's name is that of the file with the latest answers, or what the teacher calls them
(``scores.classes.people``).
"""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Self
from uuid import UUID

from drills.basics.errors import InputError, plain
from scores.classes.counted.counting import derive
from scores.classes.paper.kept import count_of
from scores.classes.paper.tables import TABLE
from scores.classes.person import people_of
from scores.classes.store_rows import (
    EPOCH,
    put_answers,
    put_deck,
    put_paper,
    put_pencils,
    put_places,
    put_student,
)
from scores.classes.store_tables import (
    APPLICATION_ID,
    LATEST,
    STUDENT_TABLES,
    migrate,
    sweep,
)
from scores.classes.works import parted, places_in
from scores.exchange.results_read import ResultsFile
from scores.exchange.results_written import DeckNamed
from scores.exchange.same_work import same_work
from scores.exchange.xapi import SharedAnswer
from scores.record.failures import FAILURES, is_damage, reason


@dataclass(frozen=True)
class Added:
    """What came of one file: ``new`` answers of ``given``; ``not_counted`` for their date."""

    student: str
    deck: str
    given: int
    new: int
    not_counted: int


class ClassBook:
    """Open one with ``ClassBook.open``; close it when done."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self.db = connection

    @classmethod
    def open(cls, path: Path, create: bool = True) -> Self:
        """Open the class at ``path``. Raises InputError: damaged, newer, or can't be opened.

        One that is not there is made, unless ``create`` is False: then an empty
        one in memory serves.
        """
        where = plain(str(path), 200)
        there = path.exists()
        connection: sqlite3.Connection | None = None
        try:
            if not there and create:
                path.parent.mkdir(parents=True, exist_ok=True)
            elif there and not path.is_file():
                raise InputError(where, "it is not an ordinary file", "Move it away.")
            elif there and path.stat().st_size == 0:
                raise InputError(where, "it is not a class", "Move it away to begin a new one.")
            name = str(path) if there or create else ":memory:"
            connection = sqlite3.connect(name, isolation_level=None, timeout=5.0)
            if there:
                # Before anything that would change another program's file.
                _check_identity(connection, where)
            connection.execute("PRAGMA journal_mode = WAL")
            connection.execute("PRAGMA synchronous = FULL")
            # Forgotten students are overwritten in the file, not only unlinked.
            connection.execute("PRAGMA secure_delete = ON")
            connection.execute("PRAGMA cache_size = -32768")
            if connection.execute("PRAGMA user_version").fetchone()[0] < LATEST:
                migrate(connection)
        except FAILURES as error:
            if connection is not None:
                connection.close()
            remedy = "Move it away to begin a new one." if is_damage(error) else "Try again."
            raise InputError(where, _words(error), remedy) from error
        except OSError as error:
            raise InputError(where, f"it can't be opened: {reason(error)}", "") from error
        except BaseException:
            if connection is not None:
                connection.close()
            raise
        return cls(path, connection)

    def close(self) -> None:
        """Close the file."""
        self.db.close()

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction. Raises InputError; then nothing of it is kept."""
        try:
            self.db.execute("BEGIN IMMEDIATE")
            try:
                yield self.db
                self.db.execute("COMMIT")
            except BaseException:
                if self.db.in_transaction:
                    self.db.execute("ROLLBACK")
                raise
        except FAILURES as error:
            raise InputError(plain(str(self.path), 200), _words(error), "Try again.") from error

    # -- decks and names expected ----------------------------------------------------

    def give_deck(self, deck: DeckNamed) -> None:
        """Take this deck as one the class was given: from now on only such decks are merged."""
        with self.writing() as db:
            put_deck(db, deck, given=True)

    def _given(self) -> list[DeckNamed]:
        rows = self.db.execute(
            "SELECT fingerprint, title, author, questions, course FROM decks WHERE given"
        )
        return [
            DeckNamed(name, title, author, 1, 1, None, 1.0, asks, (), *parted(places_in(courses)))
            for name, title, author, asks, courses in rows
        ]

    def decks_given(self) -> dict[str, str]:
        """The title, by fingerprint, of each deck the class was given."""
        rows = self.db.execute("SELECT fingerprint, title FROM decks WHERE given")
        return dict(rows.fetchall())

    def expect(self, names: Iterable[str]) -> None:
        """Replace the names of those who are expected to send something."""
        with self.writing() as db:
            db.execute("DELETE FROM expected")
            db.executemany("INSERT OR IGNORE INTO expected VALUES (?)", [(name,) for name in names])

    # -- merging -----------------------------------------------------------------------

    def add(self, results: ResultsFile, source: str, typed: bool = False) -> Added:
        """Merge a results file. Raises InputError when its deck is not the class's.

        The same class comes of the same files in any order, however often. What a teacher
        ``typed`` changes nothing of what a student's own files say of name and pencils.
        """
        self._check_deck(results.deck, source)
        with self.writing() as db:
            student = put_student(db, results, source, typed)
            if results.pencil_set:
                put_pencils(db, results.student, results.made, results.pencil_set)
            deck = put_deck(db, results.deck, given=False)
            put_places(db, student, results.deck, deck)
            (person,) = db.execute(
                "SELECT person FROM students WHERE key = ?", (student,)
            ).fetchone()
            before = _count(db, person) + count_of(db, person)
            changes = db.total_changes
            known = put_answers(db, student, deck, results.answers)
            put_paper(db, student, deck, results)
            if db.total_changes > changes:
                derive(db, person, {student: known})
            after = _count(db, person) + count_of(db, person)
        given = len(results.answers) + len(results.on_paper)
        return Added(results.name, results.deck.title, given, after - before, results.not_counted)

    def _check_deck(self, deck: DeckNamed, source: str) -> None:
        given = self.decks_given()
        if not given or deck.fingerprint in given:
            return
        if any(same_work(deck, one) or _one_place(deck, one) for one in self._given()):
            return
        where, title = plain(source, 200), plain(deck.title)
        if deck.title in given.values():
            raise InputError(
                where,
                f"it answers another version of the deck “{title}”",
                "Ask the student to add the deck you sent last, or give the class that version:"
                " coach class add --deck FILE",
            )
        raise InputError(
            where,
            f"it answers “{title}”, a deck that this class was not given",
            "Give it the deck: coach class add --deck FILE",
        )

    # -- what is read, and forgotten ------------------------------------------------------

    def drop(self, student: str) -> None:
        """Forget a student wholly, by id: answers, names, other machines, what followed."""
        with self.writing() as db:
            rows = db.execute(
                "SELECT key, id, name FROM students WHERE person ="
                " (SELECT person FROM students WHERE id = ?)",
                (student,),
            ).fetchall()
            if not rows:
                return
            for key, identity, name in rows:
                for table in (*STUDENT_TABLES, TABLE):
                    db.execute(f"DELETE FROM {table} WHERE student = ?", (key,))
                db.execute(
                    "DELETE FROM expected WHERE name IN"
                    " (?, (SELECT name FROM called WHERE id = ?))",
                    (name, identity),
                )
                for table in ("students", "same", "called", "pencil_sets"):
                    db.execute(f"DELETE FROM {table} WHERE id = ?", (identity,))
            sweep(db)
        # What was deleted must not live on in the log.
        self.db.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def answers(self, decks: Collection[str] = ()) -> Iterator[tuple[SharedAnswer, str]]:
        """Every answer with its student's name, by student and time; for an export.

        Answers of one student's several machines carry one id and one name.
        """
        people = people_of(self.db)
        who = {identity: (one.id, one.name) for one in people for identity in one.ids}
        several = {one.id for one in people if len(one.ids) > 1}
        sql = (
            "SELECT answers.id, students.id, decks.fingerprint, kind, region, at_ms, score, right,"
            " seconds, level, said, truth, coalesce(targets.name, '') FROM answers"
            " JOIN students ON students.key = answers.student"
            " JOIN decks ON decks.key = answers.deck JOIN skills ON skills.key = answers.skill"
            " LEFT JOIN targets ON targets.key = answers.target"
            " ORDER BY students.name, students.id, at_ms, answers.id"
        )
        wanted = set(decks) | {
            name
            for (name,) in self.db.execute(
                "SELECT fingerprint FROM decks WHERE work IN (SELECT work FROM decks WHERE"
                f" fingerprint IN ({', '.join('?' * len(decks))}))",
                tuple(decks),
            )
        }
        told: set[tuple[str, bytes]] = set()
        for blob, student, deck, kind, region, ms, score, right, *rest in self.db.execute(sql):
            if decks and deck not in wanted:
                continue
            person, name = who[student]
            if person in several:
                if (person, blob) in told:
                    continue
                told.add((person, blob))
            moment = EPOCH + timedelta(milliseconds=ms)
            identity = str(UUID(bytes=blob))
            yield (
                SharedAnswer(
                    identity, person, deck, kind, region, moment, score, bool(right), *rest
                ),
                name,
            )


def _one_place(one: DeckNamed, other: DeckNamed) -> bool:
    """Whether two decks are one deck of a course, at whatever levels."""
    first, second = ({(at.course, at.name, at.asks) for at in deck.places} for deck in (one, other))
    return bool(first & second)


def _count(db: sqlite3.Connection, person: int) -> int:
    """How many answers a person gave, on however many machines."""
    keys = db.execute("SELECT key FROM students WHERE person = ?", (person,)).fetchall()
    # Of one machine each has an id of its own.
    what = "DISTINCT id" if len(keys) > 1 else "*"
    (count,) = db.execute(
        f"SELECT count({what}) FROM answers WHERE student IN"
        " (SELECT key FROM students WHERE person = ?)",
        (person,),
    ).fetchone()
    return int(count)


def _check_identity(connection: sqlite3.Connection, where: str) -> None:
    version = connection.execute("PRAGMA user_version").fetchone()[0]
    if connection.execute("PRAGMA application_id").fetchone()[0] != APPLICATION_ID:
        raise InputError(where, "it is not a class", "Move it away to begin a new one.")
    if version > LATEST:
        raise InputError(where, "it was made by a newer coach", "Update the coach.")


def _words(error: Exception) -> str:
    return reason(error).replace("the record's", "the class's").replace("the record", "the class")
