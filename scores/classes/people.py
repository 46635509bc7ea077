"""Who is who in a class: one student on several machines, names, and students of one name.

A file carries its machine's id. Which ids are one student, and what a teacher calls one, is
kept by id in the class's own tables: files that come before or after change nothing of it.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from datetime import date
from itertools import combinations
from typing import TYPE_CHECKING

from drills.basics.errors import InputError, plain
from scores.classes.counted.counting import derive
from scores.classes.person import Person, id_words, people_of
from scores.classes.roll import folded

if TYPE_CHECKING:
    from scores.classes.store import ClassBook

ID_LEAST = 4
"""Characters of an id that may stand for it."""
SEE_THEM = "See them with: coach class show"


def find(book: ClassBook, named: str) -> list[Person]:
    """The students someone means by a name, by a name as told apart, or by its id's
    words or beginning.

    Accents, case and stops don't matter. A name of now goes before one that files gave.
    """
    people = people_of(book.db)
    wanted, start = folded(named), named.strip().casefold()
    told = told_apart(book)
    ways = (
        [one for one in people if wanted and wanted == folded(told[one.id])],
        [one for one in people if wanted and wanted == folded(one.name)],
        [one for one in people if wanted and wanted in {folded(name) for name in one.sent}],
        [one for one in people if wanted in {id_words(each) for each in one.ids}],
        [
            one
            for one in people
            if len(start) >= ID_LEAST and any(each.startswith(start) for each in one.ids)
        ],
    )
    return next((way for way in ways if way), [])


def only_one(book: ClassBook, named: str) -> Person:
    """The one student meant. Raises InputError where there is none, or more than one."""
    found = find(book, named)
    where = f"student “{plain(named, 40)}”"
    if not found:
        raise InputError(where, "there is no such student", SEE_THEM)
    if len(found) > 1:
        told = told_apart(book)
        ids = "; ".join(told[one.id] for one in found)
        raise InputError(where, "more than one student has this name", f"Say which: {ids}.")
    return found[0]


def join(book: ClassBook, one: Person, other: Person) -> None:
    """Take two students as one from now on. Raises InputError where that can't be kept."""
    ids = sorted({*one.ids, *other.ids})
    with book.writing() as db:
        for identity in ids:
            db.execute("INSERT OR REPLACE INTO same VALUES (?, ?)", (identity, ids[0]))
        settle(db, ids)


def part(book: ClassBook, person: Person, ids: Collection[str]) -> None:
    """Take these ids of one student as students of their own again. Raises InputError."""
    rest = [one for one in person.ids if one not in ids]
    with book.writing() as db:
        for identity in person.ids:
            db.execute("DELETE FROM same WHERE id = ?", (identity,))
        if len(rest) > 1:
            db.executemany("INSERT INTO same VALUES (?, ?)", [(one, rest[0]) for one in rest])
        settle(db, person.ids)


def call(book: ClassBook, person: Person, name: str) -> None:
    """Call a student so, whatever files say; by what they say again where it is empty.

    ``name`` is sound already. Raises InputError.
    """
    with book.writing() as db:
        for identity in person.ids:
            db.execute("DELETE FROM called WHERE id = ?", (identity,))
        if name:
            db.execute("INSERT INTO called VALUES (?, ?)", (person.id, name))


def settle(db: sqlite3.Connection, ids: Iterable[str]) -> None:
    """Say whose answers are whose for these ids, by what the teacher said, and count anew."""
    mine = list(ids)
    marks = ", ".join("?" * len(mine))
    db.execute(
        "UPDATE students SET person = (SELECT key FROM students AS first WHERE first.id ="
        " coalesce((SELECT same.person FROM same WHERE same.id = students.id), students.id))"
        f" WHERE id IN ({marks})",
        mine,
    )
    for (key,) in db.execute(f"SELECT key FROM students WHERE id IN ({marks})", mine).fetchall():
        derive(db, key)


# -- students of one name ------------------------------------------------------------------


def told_apart(book: ClassBook) -> dict[str, str]:
    """Names by id. Students of the same one are told apart by their pencils, else by the day
    they began, else by their deck, else by how many answers they gave, or by two of these;
    else by two words that stand for their id."""
    facts = {
        identity: (day, tries)
        for identity, day, tries in book.db.execute(
            "SELECT id, coalesce(first_day, 0), coalesce(tries, 0) FROM students"
            " LEFT JOIN totals ON totals.student = students.key WHERE key = person"
        )
    }
    alike: dict[str, list[Person]] = defaultdict(list)
    for person in people_of(book.db):
        alike[person.name.casefold()].append(person)
    found = {}
    for group in alike.values():
        if len(group) == 1:
            found[group[0].id] = group[0].name
            continue
        decks = _decks(book)
        columns = [
            [plain(person.pencils) for person in group],
            [_began(facts[person.id][0]) for person in group],
            [decks.get(person.id, "") for person in group],
            [f"{facts[person.id][1]:,} answers" for person in group],
            [id_words(person.id) for person in group],
            [person.id[:8] for person in group],
        ]
        for person, mark in zip(group, _marks(columns, len(group)), strict=True):
            found[person.id] = f"{person.name} ({mark})"
    return found


def of_one_name(book: ClassBook) -> list[tuple[str, list[str]]]:
    """Each name that several have, as they are told apart: one student on two machines?"""
    told = told_apart(book)
    alike: dict[str, list[Person]] = defaultdict(list)
    for person in people_of(book.db):
        alike[person.name.casefold()].append(person)
    return [
        (group[0].name, [told[person.id] for person in group])
        for _, group in sorted(alike.items())
        if len(group) > 1
    ]


def _began(day: int) -> str:
    if not day:
        return "not begun"
    began = date.fromordinal(day)
    return f"began {began.day} {began:%B}"


def _decks(book: ClassBook) -> dict[str, str]:
    """The title of the deck each student answered most, by id."""
    found: dict[str, str] = {}
    for identity, title in book.db.execute(
        "SELECT students.id, whole.title FROM marks JOIN students ON students.key = student"
        " JOIN decks AS one ON one.key = marks.deck JOIN decks AS whole ON whole.key = one.work"
        " GROUP BY students.id, whole.key ORDER BY sum(tries) DESC, whole.title, whole.fingerprint"
    ):
        found.setdefault(identity, plain(title))
    return found


def _marks(columns: Sequence[Sequence[str]], count: int) -> list[str]:
    """The first one column, or two, that differ for all."""
    *human, words, ids = columns
    known = [column for column in human if all(column)]
    telling = [column for column in known if len(set(column)) > 1][:1]
    for some in (*((one,) for one in known), *combinations(known, 2), (*telling, words)):
        joined = [", ".join(parts) for parts in zip(*some, strict=True)]
        if len(set(joined)) == count:
            return joined
    return list(ids)
