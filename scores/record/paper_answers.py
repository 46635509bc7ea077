"""Answers to a deck that were written on its worksheets and typed in: kept, not practice.

Each is an attempt marked ``PAPER`` whose facts say, under ``SHEET``, which question of which
sheet it answers. What was mistyped is typed anew: both are kept, and the later one counts.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from typing import TYPE_CHECKING, Any

from drills.basics.days import from_utc_text, zone_of
from scores.record.trials import PAPER

if TYPE_CHECKING:
    from scores.record.attempt import Attempt
    from scores.record.record import Record

SHEET = "sheet"
NOON = time(12)
"""When an answer is taken to be given on the day it was written."""


@dataclass(frozen=True)
class PaperAnswer:
    """One answer as typed: ``letters`` for question ``number`` of the ``sheet``.

    ``deck`` is a fingerprint, ``written`` the practice day it was answered on paper and ``typed``
    when it was typed in (UTC, as the record writes it).
    """

    id: str
    deck: str
    sheet: str
    number: int
    letters: str
    written: date
    typed: str
    kind: str
    region: str
    target: str
    score: float
    right: bool
    zone: str

    @property
    def at(self) -> datetime:
        """Noon of the day it was written, where it was typed in."""
        return datetime.combine(self.written, NOON, zone_of(self.zone)).astimezone(UTC)


def paper_answers(record: Record, decks: Sequence[str] | None) -> list[PaperAnswer]:
    """All that was typed of decks, by fingerprint, in the order kept; the unreadable left out.

    None is every deck.
    """
    rows = record._rows(
        "SELECT id, kind, region, score, right, zone, facts FROM attempts"
        " JOIN attempt_facts USING (seq) WHERE deck = ? AND deck != '' ORDER BY seq",
        (PAPER,),
    )
    found = []
    for identity, kind, region, score, right, zone, text in rows:
        try:
            facts = json.loads(text)
        except (ValueError, TypeError, RecursionError):
            continue
        one = _read(identity, kind, region, score, bool(right), zone, facts)
        if one is not None and (decks is None or one.deck in decks):
            found.append(one)
    return found


def typed_of(attempt: Attempt) -> PaperAnswer | None:
    """What was typed of a worksheet, where this attempt is that; None for any other."""
    if attempt.deck != PAPER:
        return None
    return _read(
        *(attempt.id, attempt.kind, attempt.region, attempt.score, attempt.right, attempt.zone),
        attempt.facts,
    )


def _read(
    identity: str, kind: str, region: str, score: float, right: bool, zone: str, facts: Any
) -> PaperAnswer | None:
    """None for what is no answer on a worksheet, or can't be one."""
    try:
        said = facts[SHEET]
        written, typed = date.fromisoformat(said["written"]), str(said["typed"])
        from_utc_text(typed)
        if not 1970 <= written.year < 9000:
            return None
        return PaperAnswer(
            identity,
            str(said["deck"]),
            str(said["name"]),
            int(said["number"]),
            str(said["letters"]),
            written,
            typed,
            kind,
            region,
            str(facts.get("named", "")),
            score,
            right,
            zone,
        )
    except (AttributeError, KeyError, OverflowError, TypeError, ValueError):
        return None


def that_count(typed: Iterable[PaperAnswer]) -> list[PaperAnswer]:
    """Of what was typed for each question of each sheet the latest, in the order of days."""
    latest: dict[tuple[str, int], PaperAnswer] = {}
    for one in sorted(typed, key=lambda one: (one.typed, one.id)):
        latest[one.sheet, one.number] = one
    return sorted(latest.values(), key=lambda one: (one.at, one.id))
