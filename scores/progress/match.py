"""Matches made: how far the learner's plans end from the target (ΔE00), week by week."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from scores.progress.answers import Matches
from scores.progress.span import Span


@dataclass(frozen=True)
class MatchPoint:
    """One period's matches, ΔE00: the median, and the quarter below and above it."""

    day: date
    median: float
    lower: float
    upper: float
    matches: int


@dataclass(frozen=True)
class MatchCourse:
    """Matches over a span, periods without any left out. No change is told of them."""

    points: tuple[MatchPoint, ...]


def match_course(matches: Matches, span: Span) -> MatchCourse:
    """The matches of a span by period."""
    first, last = span.first.toordinal(), span.last.toordinal()
    inside = (matches.day >= first) & (matches.day <= last)
    period = span.periods - 1 - (last - matches.day[inside]) // span.period_days
    error = matches.error[inside]
    points = []
    for place in np.flatnonzero(np.bincount(period, minlength=1)):
        lower, middle, upper = np.percentile(error[period == place], (25, 50, 75))
        count = int((period == place).sum())
        points.append(MatchPoint(span.period_end(int(place)), middle, lower, upper, count))
    return MatchCourse(tuple(points))
