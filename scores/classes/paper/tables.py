"""The table of answers on paper, and which of what was typed counts.

They lie apart from ``answers``, so that no threshold and no mix-up is read from what a printer
made of colours; days done and the grade that passing goes by are of both.
"""

from __future__ import annotations

TABLE = "paper_answers"
CREATE = f"""CREATE TABLE {TABLE} (
    student INTEGER NOT NULL, id BLOB NOT NULL, deck INTEGER NOT NULL, skill INTEGER NOT NULL,
    sheet TEXT NOT NULL, number INTEGER NOT NULL, letters TEXT NOT NULL,
    typed_ms INTEGER NOT NULL, at_ms INTEGER NOT NULL, day INTEGER NOT NULL, score REAL NOT NULL,
    right INTEGER NOT NULL, PRIMARY KEY (student, id)
) WITHOUT ROWID"""
"""``student`` is a file's, ``deck`` and ``skill`` are keys; ``day`` is the ordinal of the practice
day it was written."""

PUT = (
    f"INSERT INTO {TABLE} VALUES ({', '.join('?' * 12)}) ON CONFLICT (student, id) DO UPDATE SET"
    " deck = excluded.deck, skill = excluded.skill, sheet = excluded.sheet,"
    " number = excluded.number, letters = excluded.letters, typed_ms = excluded.typed_ms,"
    " at_ms = excluded.at_ms, day = excluded.day, score = excluded.score, right = excluded.right"
    " WHERE (excluded.typed_ms, excluded.at_ms, excluded.sheet, excluded.number, excluded.letters,"
    " excluded.score, excluded.right, {0}) > (typed_ms, at_ms, sheet, number, letters, score,"
    " right, {1})"
)
_NAMED = (
    "(SELECT fingerprint FROM decks WHERE key = {0}deck),"
    " (SELECT kind || '/' || region FROM skills WHERE key = {0}skill)"
)
PUT = PUT.format(_NAMED.format("excluded."), _NAMED.format(f"{TABLE}."))
"""Keep an answer; should two files disagree about one, the same of the two whichever came first."""

_LATEST = """(SELECT * FROM (
    SELECT mine.*, students.person AS person, row_number() OVER (
        PARTITION BY students.person, decks.work, sheet, number
        ORDER BY typed_ms DESC, mine.id DESC
    ) AS turn
    FROM {table} AS mine JOIN students ON students.key = mine.student
    JOIN decks ON decks.key = mine.deck {only}
) WHERE turn = 1)"""
LATEST = _LATEST.format(table=TABLE, only="")
"""Of what was typed for each question of each sheet the latest, whichever machine it came from."""
# Not LATEST of one person: that would read what everybody wrote.
OF_PERSON = _LATEST.format(table=TABLE, only="WHERE students.person = :student")
