"""How often answers are right of which the learner was sure; counted, no more.

Whether being sure goes with being right more often is not claimed, nor that it has changed:
the other answers stand beside, and a share carries its 95 % interval (Wilson 1927, Journal of
the American Statistical Association 22:209-212; from memory).
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scores.record.queries import said_sure

if TYPE_CHECKING:
    from scores.record.record import Record

SURE = "sure"
"""The fact that says whether the learner was sure, of answers given while that was asked."""
ENOUGH = 20
"""Answers below which nothing is told."""
Z_95 = 1.96


@dataclass(frozen=True)
class Sureness:
    """Answers that the learner was sure of, and the others given while that was asked."""

    sure: int = 0
    sure_right: int = 0
    others: int = 0
    others_right: int = 0


NOT_ASKED = Sureness()


def sureness(record: Record) -> Sureness:
    """Counted over the whole record, but for answers with help and what is no practice."""
    counts = {True: [0, 0], False: [0, 0]}
    for right, text in said_sure(record):
        try:
            said = json.loads(text)[SURE]
        except (ValueError, KeyError, TypeError, RecursionError):
            continue
        if isinstance(said, bool):
            counts[said][0] += 1
            counts[said][1] += bool(right)
    return Sureness(*counts[True], *counts[False])


def interval(right: int, of: int) -> tuple[float, float]:
    """The 95 % interval of a share."""
    share, more = right / of, Z_95**2 / of
    middle = (share + more / 2) / (1 + more)
    half = Z_95 / (1 + more) * math.sqrt(share * (1 - share) / of + more / (4 * of))
    return max(0.0, middle - half), min(1.0, middle + half)


def sure_words(of: Sureness) -> str:
    """What the counts come to, in a sentence or two; nothing while they are too few."""
    if of.sure < ENOUGH:
        return ""
    low, high = interval(of.sure_right, of.sure)
    said = (
        f"Of {of.sure} answers you were sure of, {of.sure_right} were right. Of a hundred such,"
        f" between {100 * low:.0f} and {100 * high:.0f} would be, as far as {of.sure} can tell."
    )
    if of.others >= ENOUGH:
        said += f" Of the {of.others} others, {of.others_right} were right."
    return said
