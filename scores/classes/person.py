"""A student of a class: one or more ids, known by the least of them."""

from __future__ import annotations

import hashlib
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


def id_words(identity: str) -> str:
    """Two words that stand for an id wherever it must be told: "lamp river"."""
    number = int(hashlib.sha256(identity.encode()).hexdigest()[:8], 16)
    return f"{_WORDS[number % 32]} {_WORDS[32 + number // 32 % 32]}"


_WORDS = (
    *("lamp", "boat", "chair", "drum", "fern", "gate", "hill", "kite"),
    *("leaf", "moon", "nest", "oak", "pear", "quilt", "rope", "shell"),
    *("tower", "vase", "wheel", "yarn", "acorn", "bell", "cup", "door"),
    *("elm", "fox", "glove", "hat", "island", "jar", "key", "ladder"),
    *("river", "meadow", "harbour", "garden", "forest", "valley", "bridge", "castle"),
    *("market", "corner", "window", "kitchen", "station", "village", "museum", "library"),
    *("summer", "winter", "morning", "evening", "thunder", "shadow", "candle", "basket"),
    *("pebble", "feather", "button", "ribbon", "pocket", "saddle", "anchor", "mirror"),
)
"""Plain things, none of them a colour or a pencil. Two lists of 32: 1,024 pairs."""
