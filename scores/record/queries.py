"""What others ask of the record's tables, each question once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby, pairwise
from operator import itemgetter
from statistics import median
from typing import TYPE_CHECKING

from drills.basics.days import from_utc_text
from scores.record.paper_answers import paper_answers
from scores.record.record import Record
from scores.record.rows import ATTEMPT_COLUMNS, FACT_COLUMNS, attempt_of
from scores.record.trials import NOT_PRACTICE, PAPER, RETEST, block_of

if TYPE_CHECKING:
    from scores.record.attempt import Attempt

USUAL_READING_S = 6.0
"""Seconds a learner reads a reveal, until it is known (our estimate)."""
GAPS, FEWEST_GAPS, LONGEST_READING_S = 120, 8, 90.0
EXAMPLE = "example"
"""The key in an answer's facts for the seconds that a solved example before it was looked at."""
MOST_QUESTIONS = 80
"""Questions of a session, about, at most."""


def trials_since(record: Record, first: date) -> list[tuple[int, str, int, bytes]]:
    """Block, skill, whether a re-test, and answers; from the block of a day on.

    See ``scores.record.trials``.
    """
    sql = "SELECT block, skill, probe, answers FROM trials WHERE block >= ?"
    return record._rows(sql, (block_of(first),))


def matches_since(record: Record, first: date) -> list[tuple[str, float]]:
    """The day (ISO 8601) and error (ΔE00) of every match made without help, oldest first."""
    # Left to itself SQLite takes another index, and reads every such answer from its page.
    return record._rows(
        "SELECT day, error FROM attempts INDEXED BY idx_attempts_match"
        " WHERE kind = 'make-the-match' AND chance < 1.0 AND day >= ? AND deck != ? ORDER BY day",
        (first.isoformat(), RETEST),
    )


def said_sure(record: Record) -> list[tuple[int, str]]:
    """Right or not, and the facts (JSON) of each answer of practice, without help, whose facts
    may say whether the learner was sure."""
    return record._rows(
        "SELECT right, facts FROM attempt_facts INDEXED BY idx_facts_sure"
        " JOIN attempts USING (seq)"
        " WHERE instr(facts, '\"sure\":') > 0 AND chance < 1.0 AND deck NOT IN (?, ?)",
        NOT_PRACTICE,
    )


def first_id(record: Record) -> str:
    """The id of the first answer of all; empty before there is one."""
    rows = record._rows("SELECT id FROM attempts ORDER BY seq LIMIT 1")
    return str(rows[0][0]) if rows else ""


def latest_retests(record: Record, limit: int = 400) -> list[tuple[str, int]]:
    """The day (ISO 8601) and the question's seed of the latest answers to re-tests."""
    return record._rows(
        "SELECT day, seed FROM attempts WHERE deck = ? AND deck != '' ORDER BY seq DESC LIMIT ?",
        (RETEST, limit),
    )


def latest_paper_day(record: Record) -> date | None:
    """The practice day of the latest swatch laid on paper; None before one was."""
    rows = record._rows(
        "SELECT day FROM attempts WHERE deck = ? AND deck != '' AND kind = 'on_paper'"
        " ORDER BY seq DESC LIMIT 1",
        (PAPER,),
    )
    return date.fromisoformat(rows[0][0]) if rows else None


def reading_seconds(record: Record) -> float:
    """The learner's own median seconds from an answer to the next question.

    From the latest ``GAPS`` answers; ``USUAL_READING_S`` until there are a few. An example looked
    at in between is no reading of a reveal.
    """
    rows = record._rows(
        f"SELECT session, number, at_utc, response_s, instr(facts, '\"{EXAMPLE}\":')"
        " FROM attempts JOIN attempt_facts USING (seq)"
        # What was typed of a worksheet came all at once.
        " WHERE NOT (deck = ? AND kind != 'on_paper') ORDER BY seq DESC LIMIT ?",
        (PAPER, GAPS),
    )
    gaps = []
    for (session, number, at, took, example), (before, earlier, then, _, _) in pairwise(rows):
        if session == before and number == earlier + 1 and not example:
            gap = (from_utc_text(at) - from_utc_text(then)).total_seconds() - took
            # Longer, the learner went away; shorter, a clock was put right.
            if 0.0 <= gap <= LONGEST_READING_S:
                gaps.append(gap)
    return usual_reading(gaps)


def usual_reading(gaps: Sequence[float]) -> float:
    """The median of such seconds; ``USUAL_READING_S`` until there are a few."""
    return max(1.0, median(gaps)) if len(gaps) >= FEWEST_GAPS else USUAL_READING_S


def session_seconds(record: Record, count: int = 5) -> list[float]:
    """How long the latest sessions of practice were, from the first question, or the example
    before it, to the last answer, the latest last."""
    rows = record._rows(
        "SELECT session, number, at_utc, response_s, CASE WHEN number = 1 THEN (SELECT"
        f" CASE WHEN json_valid(facts) THEN json_extract(facts, '$.{EXAMPLE}') END"
        " FROM attempt_facts WHERE attempt_facts.seq = attempts.seq) END"
        " FROM attempts WHERE deck NOT IN (?, ?) ORDER BY seq DESC LIMIT ?",
        (*NOT_PRACTICE, count * MOST_QUESTIONS),
    )
    spans: list[float] = []
    for _, answers in groupby(rows, key=itemgetter(0)):
        given = list(answers)
        looked = given[-1][4] if isinstance(given[-1][4], int | float) else 0.0
        begun = from_utc_text(given[-1][2]).timestamp() - given[-1][3] - max(0.0, looked)
        if len(spans) == count or given[-1][1] != 1:
            # Of one whose beginning was not read, or was lost, nobody knows the length.
            break
        spans.append(max(0.0, from_utc_text(given[0][2]).timestamp() - begun))
    return spans[::-1]


def pencil_sets(record: Record) -> list[tuple[str, str, str, str]]:
    """Fingerprint, name, CSV and time (UTC) of every set kept, oldest first."""
    return record._rows(
        "SELECT fingerprint, name, csv, added_utc FROM pencil_sets ORDER BY added_utc"
    )


def deck_attempts(record: Record, deck: str) -> Iterator[Attempt]:
    """The attempts of one deck, in the order they were kept."""
    rows = record._rows(
        f"SELECT {ATTEMPT_COLUMNS}, {FACT_COLUMNS} FROM attempts JOIN attempt_facts USING (seq)"
        " WHERE deck = ? AND deck != '' ORDER BY seq",
        (deck,),
    )
    return map(attempt_of, rows)


def deck_answers(record: Record, deck: str) -> int:
    """How many answers were given to a deck, on paper too, each as often as it was typed."""
    shown = int(record._rows("SELECT count(*) FROM attempts WHERE deck = ?", (deck,))[0][0])
    return shown + len(paper_answers(record, (deck,)))


def decks_answered(record: Record) -> list[str]:
    """The fingerprints of all decks that were answered, on a screen or paper, kept or not."""
    rows = record._rows(
        "SELECT DISTINCT deck FROM attempts WHERE deck NOT IN ('', ?, ?)", NOT_PRACTICE
    )
    on_paper = (one.deck for one in paper_answers(record, None))
    return list(dict.fromkeys([*(str(row[0]) for row in rows), *on_paper]))


def attempts_held(record: Record) -> int:
    """How many answers the table of attempts holds, counted one by one."""
    return int(record._rows("SELECT count(*) FROM attempts")[0][0])
