"""Which of the daily backups are kept."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

DAYS = 7
WEEKS = 4


def kept(days: Collection[date], today: date) -> frozenset[date]:
    """The days whose backups stay: the last seven, and the newest of each of the last four weeks.

    Both are counted among the backups there are, not back from ``today``: after a
    long rest none is too old. Those dated after ``today`` are counted apart by the
    same rule. So a clock set far ahead or back pushes no other day's backup out
    when it is set right, and at most twice eleven are kept.
    """
    past = [day for day in days if day <= today]
    return _rolling(past) | _rolling([day for day in days if day > today])


def _rolling(days: Collection[date]) -> frozenset[date]:
    newest_first = sorted(set(days), reverse=True)
    by_week: dict[tuple[int, int], date] = {}
    for day in newest_first:
        year, week, _ = day.isocalendar()
        by_week.setdefault((year, week), day)
    return frozenset(newest_first[:DAYS]) | frozenset(list(by_week.values())[:WEEKS])
