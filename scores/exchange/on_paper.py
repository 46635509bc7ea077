"""Answers written on worksheets, in a results file beside those given on a screen.

Each is an xAPI statement as any other, whose extension says which question of which sheet it
answers, as what, and when that was typed in. They stand in a list of their own, which an older
coach leaves unread rather than take them for answers on a screen.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from drills.basics.json_values import JSON
from scores.exchange.xapi import EXTENSION, SharedAnswer, StatementError, answer_of, statement
from scores.record.paper_answers import PaperAnswer

if TYPE_CHECKING:
    from scores.record.attempt import Attempt

ON_PAPER = "on_paper"
"""The key of the list in a results file, and of what a statement's extension says."""
MOST_ON_PAPER = 5_000
MOST_NUMBER = 200
_SHEET = re.compile(r"[1-9][0-9]{0,2}g?-[a-z0-9]{4}")
_LETTERS = re.compile(r"[a-h]{1,8}")


@dataclass(frozen=True)
class SharedOnPaper:
    """One answer on paper: its day is that of ``answer.at``; ``typed`` is when it was typed in."""

    answer: SharedAnswer
    sheet: str
    number: int
    letters: str
    typed: datetime


def shared(
    attempts: Iterable[Attempt], typed: Sequence[PaperAnswer], deck: str
) -> list[tuple[Attempt, PaperAnswer]]:
    """The attempts behind ``typed``, as given at noon of their days to the deck so called."""
    by_id = {one.id: one for one in typed}
    return [
        (replace(attempt, at_utc=by_id[attempt.id].at, deck=deck), by_id[attempt.id])
        for attempt in attempts
        if attempt.id in by_id
    ]


def paper_statement(
    attempt: Attempt, typed: PaperAnswer, student: str, pseudonym: str
) -> dict[str, JSON]:
    """The statement of one answer on paper; ``attempt`` is as ``shared`` gives it."""
    made: Any = statement(attempt, student, pseudonym)
    # What was said on paper is no word on what a screen shows.
    more = made["context"]["extensions"][EXTENSION]
    more[ON_PAPER] = {
        "sheet": typed.sheet,
        "number": typed.number,
        "letters": typed.letters,
        "typed": typed.typed,
    }
    return dict(made)


def on_paper_of(said: Any) -> SharedOnPaper:
    """The answer on paper that a statement tells of, everything in range. Raises StatementError."""
    answer = answer_of(said)
    try:
        more = said["context"]["extensions"][EXTENSION][ON_PAPER]
        sheet, number, letters, text = (
            more[name] for name in ("sheet", "number", "letters", "typed")
        )
    except (KeyError, TypeError):
        raise StatementError("an answer on paper doesn't say of which sheet") from None
    if not (isinstance(sheet, str) and _SHEET.fullmatch(sheet)):
        raise StatementError("a sheet's name is none")
    if type(number) is not int or not 1 <= number <= MOST_NUMBER:
        raise StatementError("a question's number is out of range")
    if not (isinstance(letters, str) and _LETTERS.fullmatch(letters)):
        raise StatementError("an answer on paper is no letters")
    try:
        typed = datetime.fromisoformat(text) if isinstance(text, str) else None
        if typed is None or typed.utcoffset() is None or not 1970 <= typed.year < 9000:
            raise ValueError
    except (ValueError, OverflowError):
        raise StatementError("when an answer was typed is no time") from None
    return SharedOnPaper(answer, sheet, number, letters, typed.astimezone(UTC))
