"""Times and days: UTC in the record, the learner's own days in the memory.

Memory is counted in whole practice days of the learner's own calendar, so that
practice at nine one morning and at ten to nine the next is a day apart. A day
turns at four in the morning, so that a late evening is one day's practice.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone, tzinfo
from functools import lru_cache

DAY_TURNS_AT = timedelta(hours=4)
"""How far into a calendar day the practice day begins (our choice)."""


def zone_name(moment: datetime) -> str:
    """The zone of an aware datetime: its IANA name when it has one, else ``±HH:MM``.

    Raises ValueError for a naive datetime.
    """
    key = getattr(moment.tzinfo, "key", None)
    if isinstance(key, str):
        return key
    offset = moment.utcoffset()
    if offset is None:
        raise ValueError("a naive time has no zone")
    minutes = round(offset.total_seconds() / 60)
    sign = "-" if minutes < 0 else "+"
    return f"{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


@lru_cache(maxsize=64)
def zone_of(name: str) -> tzinfo:
    """The zone a name stands for; UTC when this machine does not know it."""
    if len(name) == 6 and name[0] in "+-" and name[3] == ":" and (name[1:3] + name[4:]).isdecimal():
        offset = timedelta(hours=int(name[1:3]), minutes=int(name[4:]))
        if offset < timedelta(hours=24):
            return timezone(-offset if name[0] == "-" else offset)
        return UTC
    # Imported here: most clocks give a plain offset and never need zone files.
    from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return UTC


def practice_day(moment: datetime) -> date:
    """The practice day of an aware datetime, by the clock on the wall of its own zone."""
    if moment.tzinfo is None:
        raise ValueError("a naive time has no day")
    wall = moment.replace(tzinfo=None)
    if wall - datetime.min < DAY_TURNS_AT:
        return wall.date()
    return (wall - DAY_TURNS_AT).date()


def practice_ordinal(moment: datetime) -> int:
    """``practice_day(moment).toordinal()`` of a time after the first day there is, in less time."""
    into = moment.hour * 3600 + moment.minute * 60 + moment.second
    return moment.toordinal() - (into < _TURNS_AT_S)


_TURNS_AT_S = DAY_TURNS_AT // timedelta(seconds=1)


def utc_text(moment: datetime) -> str:
    """An aware datetime as fixed-width UTC text (sorts as it reads)."""
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def from_utc_text(text: str) -> datetime:
    """The aware UTC datetime of ``utc_text``. Raises ValueError."""
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(f"no zone in {text!r}")
    return moment.astimezone(UTC)


def day_of(text: str) -> date:
    """The day that a text such as ``2026-03-09`` names, in that form alone. Raises ValueError."""
    day = date.fromisoformat(text)
    if day.isoformat() != text:
        raise ValueError("no day of the form 2026-03-09")
    return day


def date_text(day: date, short: bool = False) -> str:
    """A day in words, such as ``9 March 2026``; ``short`` has ``9 Mar 2026``.

    Written without the codes of one system alone (``%-d``, ``%#d``).
    """
    month = f"{day:%b}" if short else f"{day:%B}"
    return f"{day.day} {month} {day.year}"
