"""All of a record in open forms: CSV (RFC 4180), JSON, xAPI statements. Nothing is left out.

Each comes in pieces, so that ten years need no more memory than a day.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date, datetime
from typing import Any

from drills.basics.json_values import JSON, json_text
from scores.exchange.on_paper import paper_statement, shared
from scores.exchange.xapi import statement
from scores.record.attempt import Attempt
from scores.record.decks_added import decks_kept
from scores.record.paper_answers import typed_of
from scores.record.queries import pencil_sets
from scores.record.record import Record
from scores.record.rows import ATTEMPT_COLUMNS, FACT_COLUMNS, attempt_row, facts_row
from scores.skill.memory import SkillState

FORMAT = "coloured-pencil-coach record"
SCHEMA = 1
NOT_OURS = frozenset({"offers"})
"""Settings that only save the coach a second: they follow from the pencils."""


def csv_header() -> list[str]:
    """The columns: the record's own, in its order."""
    return [name.strip() for name in f"{ATTEMPT_COLUMNS}, {FACT_COLUMNS}".split(",")]


def csv_rows(record: Record) -> Iterator[list[Any]]:
    """One row an answer, oldest first; targets, choices and answers are JSON in their cells."""
    for attempt in record.attempts():
        yield [*attempt_row(attempt), *facts_row(attempt)]


def json_parts(record: Record, made: datetime, app: str) -> Iterator[str]:
    """One JSON object: settings, pencil sets, decks, skills, and every answer."""
    settings = {key: value for key, value in record.settings().items() if key not in NOT_OURS}
    head = {
        "format": FORMAT,
        "schema": SCHEMA,
        "app": app,
        "made": made.isoformat(timespec="seconds"),
        "settings": settings,
        "pencils": [
            {"fingerprint": fingerprint, "name": name, "csv": text, "added_utc": added}
            for fingerprint, name, text, added in pencil_sets(record)
        ],
        "decks": [
            {
                "fingerprint": deck.fingerprint,
                "title": deck.title,
                "content": deck.content,
                "added": deck.added.isoformat(),
            }
            for deck in decks_kept(record)
        ],
        "skills": [_skill(state) for state in record.skills().values()],
    }
    yield json_text(head)[:-1] + ',"answers":['
    for number, attempt in enumerate(record.attempts()):
        yield ("," if number else "") + "\n" + json_text(_answer(attempt))
    yield "]}\n"


def xapi_parts(record: Record, student: str, pseudonym: str) -> Iterator[str]:
    """A JSON array of xAPI 1.0.3 statements, one an answer."""
    yield "["
    for number, attempt in enumerate(record.attempts()):
        made = json.dumps(_statement(attempt, student, pseudonym), ensure_ascii=False)
        yield ("," if number else "") + "\n" + made
    yield "]\n"


def _statement(attempt: Attempt, student: str, pseudonym: str) -> dict[str, JSON]:
    """The statement of an answer; of one typed in from a worksheet that says so, at the day it
    was written, and tells no time taken."""
    typed = typed_of(attempt)
    if typed is None:
        return statement(attempt, student, pseudonym)
    ((given, _),) = shared([attempt], [typed], typed.deck)
    made: Any = paper_statement(given, typed, student, pseudonym)
    del made["result"]["duration"]
    return dict(made)


def _answer(attempt: Attempt) -> dict[str, Any]:
    names = [name.strip() for name in ATTEMPT_COLUMNS.split(",")]
    made: dict[str, Any] = dict(zip(names, attempt_row(attempt), strict=True))
    made["right"] = attempt.right
    made |= {"target": attempt.target, "facts": attempt.facts}
    made |= {"answers": attempt.answers, "verdict": attempt.verdict}
    return made


def _skill(state: SkillState) -> dict[str, Any]:
    """A skill as JSON values; its threshold follows from all answers and is left out."""
    return {
        key: value.isoformat() if isinstance(value, date) else value
        for key, value in asdict(state).items()
        if key != "threshold"
    }
