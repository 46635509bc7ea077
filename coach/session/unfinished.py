"""A session that a fault of ours broke off: noted, so that the next start offers the rest of it."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from drills.basics.days import from_utc_text, practice_day, utc_text
from drills.basics.json_values import as_json, from_json
from scores.record.record import NotSavedError, Record

if TYPE_CHECKING:
    from coach.session.session import Session

KEY = "unfinished"


@dataclass(frozen=True)
class Left:
    """When it was broken off (UTC), and how many minutes were left."""

    at: str
    minutes: float


def note(session: Session, now: datetime) -> None:
    """Save what waits, and keep how many minutes were left; where neither can be, go on."""
    session.retry_save()
    with suppress(NotSavedError):
        left = Left(utc_text(now), round(session.remaining / 60, 1))
        session.record.set_setting(KEY, as_json(left))


def minutes_left(record: Record, now: datetime) -> float | None:
    """The minutes left of a session broken off on the same practice day; None where none was."""
    with suppress(ValueError, OverflowError):
        left = from_json(Left, record.setting(KEY))
        if practice_day(from_utc_text(left.at).astimezone(now.tzinfo)) == practice_day(now):
            return max(2.0, min(60.0, left.minutes))
    return None


def begun_again(record: Record) -> None:
    """It is offered once."""
    if record.setting(KEY) is not None:
        with suppress(NotSavedError):
            record.set_setting(KEY, None)
