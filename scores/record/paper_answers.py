"""Answers to a deck that were written on its worksheets and typed in: kept, not practice.

Each is an attempt marked ``PAPER`` whose facts say, under ``SHEET``, which question of which
sheet it answers. What was mistyped is typed anew: both are kept, and the later one counts.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from typing import TYPE_CHECKING

from drills.basics.days import zone_of
from scores.record.trials import PAPER

if TYPE_CHECKING:
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


def paper_answers(record: Record, decks: Sequence[str]) -> list[PaperAnswer]:
    """All that was typed of decks, by fingerprint, in the order kept; the unreadable left out."""
    rows = record._rows(
        "SELECT id, kind, region, score, right, zone, facts FROM attempts"
        " JOIN attempt_facts USING (seq) WHERE deck = ? AND deck != '' ORDER BY seq",
        (PAPER,),
    )
    found = []
    for identity, kind, region, score, right, zone, facts in rows:
        try:
            read = json.loads(facts)
            said = read.get(SHEET)
            if said is None or said["deck"] not in decks:
                continue
            found.append(
                PaperAnswer(
                    identity,
                    str(said["deck"]),
                    str(said["name"]),
                    int(said["number"]),
                    str(said["letters"]),
                    date.fromisoformat(said["written"]),
                    str(said["typed"]),
                    kind,
                    region,
                    str(read.get("named", "")),
                    score,
                    bool(right),
                    zone,
                )
            )
        except (AttributeError, KeyError, TypeError, ValueError):
            continue
    return found


def that_count(typed: Iterable[PaperAnswer]) -> list[PaperAnswer]:
    """Of what was typed for each question of each sheet the latest, in the order of days."""
    latest: dict[tuple[str, int], PaperAnswer] = {}
    for one in sorted(typed, key=lambda one: (one.typed, one.id)):
        latest[one.sheet, one.number] = one
    return sorted(latest.values(), key=lambda one: (one.at, one.id))
