"""A session that a fault of ours broke off: noted, so that the next start offers the rest of it."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime
from typing import TYPE_CHECKING

from drills.basics.days import from_utc_text, practice_day, utc_text
from drills.basics.json_values import JSON
from scores.record.record import NotSavedError, Record

if TYPE_CHECKING:
    from coach.session.session import Session

KEY = "unfinished"


def note(session: Session, now: datetime) -> None:
    """Save what waits, and keep how many minutes were left; where neither can be, go on."""
    session.retry_save()
    with suppress(NotSavedError):
        left: JSON = {"at": utc_text(now), "minutes": round(session.remaining / 60, 1)}
        session.record.set_setting(KEY, left)


def minutes_left(record: Record, now: datetime) -> float | None:
    """The minutes left of a session broken off on the same practice day; None where none was."""
    noted = record.setting(KEY)
    if not isinstance(noted, dict):
        return None
    at, minutes = noted.get("at"), noted.get("minutes")
    if not isinstance(at, str) or not isinstance(minutes, int | float):
        return None
    with suppress(ValueError, OverflowError):
        if practice_day(from_utc_text(at).astimezone(now.tzinfo)) == practice_day(now):
            return max(2.0, min(60.0, float(minutes)))
    return None


def begun_again(record: Record) -> None:
    """It is offered once."""
    if record.setting(KEY) is not None:
        with suppress(NotSavedError):
            record.set_setting(KEY, None)
