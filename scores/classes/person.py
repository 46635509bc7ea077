"""A student of a class: one or more ids, known by the least of them."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from dataclasses import dataclass


@dataclass(frozen=True)
class Person:
    """One student: ``id`` is the least of ``ids``; ``sent`` are the names that files gave."""

    id: str
    ids: tuple[str, ...]
    name: str
    sent: tuple[str, ...]
    pencils: str


def people_of(db: sqlite3.Connection) -> list[Person]:
    """Every student, by id. The name is the teacher's, else that with the latest answers."""
    groups: dict[int, list[tuple[str, str, int, str]]] = defaultdict(list)
    for person, *row in db.execute("SELECT person, id, name, named_ms, pencils FROM students"):
        groups[person].append(tuple(row))
    called = dict(db.execute("SELECT id, name FROM called").fetchall())
    found = []
    for rows in groups.values():
        rows.sort()
        ids = tuple(row[0] for row in rows)
        latest = max(rows, key=lambda row: (row[2], row[1], row[3]))
        given = [called[one] for one in ids if one in called]
        sent = tuple(sorted({row[1] for row in rows}))
        found.append(Person(ids[0], ids, given[0] if given else latest[1], sent, latest[3]))
    return sorted(found, key=lambda person: person.id)
