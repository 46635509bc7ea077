"""Stretches of time that progress is looked at over, and what is cut from them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Literal

RangeName = Literal["2 weeks", "3 months", "year", "all", "since"]
RANGES: dict[RangeName, tuple[int, int]] = {
    "2 weeks": (14, 1),
    "3 months": (91, 7),
    "year": (364, 14),
}
"""Days looked back over, and days a point of a line stands for."""
MOST_POINTS = 30
"""A longer stretch ("all", or since a day) is cut into this many points at most."""


@dataclass(frozen=True)
class Span:
    """Practice days from ``first`` to ``last``, both included, in periods of so many days.

    The last period ends on ``last``; the first may begin before ``first``.
    """

    name: RangeName
    first: date
    last: date
    period_days: int

    @cached_property
    def days(self) -> int:
        return (self.last - self.first).days + 1

    @cached_property
    def periods(self) -> int:
        return -(-self.days // self.period_days)

    @cached_property
    def ends(self) -> tuple[date, ...]:
        """The last day of each period, the oldest first."""
        ago = range(self.periods - 1, -1, -1)
        return tuple(self.last - timedelta(days=self.period_days * n) for n in ago)

    def period_end(self, place: int) -> date:
        """The last day of a period, the oldest being 0."""
        return self.ends[place]


def span_of(name: RangeName, today: date, begun: date | None, since: date | None = None) -> Span:
    """The span of a range that ends today.

    ``begun`` is the day of the first answer ever (for "all"), ``since`` the day
    asked for (for "since").
    """
    if name in RANGES:
        days, period = RANGES[name]
        return Span(name, today - timedelta(days=days - 1), today, period)
    first = begun if name == "all" else since
    first = min(first or today, today)
    days = (today - first).days + 1
    period = max(7 if days > 28 else 1, -(-days // MOST_POINTS))
    return Span(name, first, today, period)
