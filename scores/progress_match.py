"""Matches made: how far the learner's plans end from the target (ΔE00), week by week."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist

from scores.progress_change import Change, Third
from scores.progress_span import Span, thirds
from scores.tables import median

Matches = Sequence[tuple[date, float]]
_NORMAL = NormalDist()


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
    """Matches over a span, periods without any left out; ``change`` None until there are two days.

    Of the change, ``ratio`` is the median now over the median then.
    """

    points: tuple[MatchPoint, ...]
    change: Change | None = None


def match_course(matches: Matches, span: Span) -> MatchCourse:
    """The matches of a span by period."""
    points = []
    for place in range(span.periods):
        last = span.period_end(place)
        mine = sorted(
            error
            for day, error in matches
            if 0 <= (last - day).days < span.period_days and day >= span.first
        )
        if mine:
            lower, upper = _quantile(mine, 0.25), _quantile(mine, 0.75)
            points.append(MatchPoint(last, median(mine), lower, upper, len(mine)))
    return MatchCourse(tuple(points))


def match_change(matches: Matches, span: Span) -> Change | None:
    """The last third of a span's matches against the first; None where there is no such thing.

    Each day counts once, by its median, since the matches of one day share its mood.
    ``finer`` is one less the p-value of the rank-sum test (Mann & Whitney 1947, Ann.
    Math. Statist. 18:50-60, normal approximation with ties); ``low`` and ``high``
    follow from the ratios of all pairs of days (Hodges & Lehmann 1963).
    """
    mine = [(day, error) for day, error in matches if span.first <= day <= span.last]
    if not mine:
        return None
    ends = thirds(min(day for day, _ in mine), max(day for day, _ in mine))
    sides, found = [], []
    for first, last in ends:
        by_day: dict[date, list[float]] = {}
        for day, error in mine:
            if first <= day <= last:
                by_day.setdefault(day, []).append(error)
        sides.append([median(errors) for errors in by_day.values()])
        found.append(Third(first, last, sum(map(len, by_day.values())), len(by_day)))
    then, now = sides
    if not then or not now:
        return None
    ratios = sorted(math.log((n + 0.01) / (t + 0.01)) for n in now for t in then)
    # The pairs' order statistics that hold the shift (Lehmann 1975, §2.5).
    spread = 1.96 * math.sqrt(len(then) * len(now) * (len(then) + len(now) + 1) / 12)
    cut = max(0, round(len(ratios) / 2 - spread))
    low, middle, high = ratios[cut], median(ratios), ratios[-1 - cut]
    return Change(
        found[0], found[1], math.exp(middle), math.exp(low), math.exp(high), _finer(then, now)
    )


def _finer(then: Sequence[float], now: Sequence[float]) -> float:
    """How sure it is that ``now`` lies lower."""
    m, n = len(then), len(now)
    below = sum((b < a) + 0.5 * (b == a) for a in then for b in now)
    every = sorted([*then, *now])
    ties = sum(k**3 - k for k in (every.count(value) for value in set(every)))
    variance = m * n / 12 * ((m + n + 1) - ties / ((m + n) * (m + n - 1)))
    if variance <= 0:
        return 0.5
    # Half a pair is given up either way: the count is of whole pairs.
    off = below - m * n / 2
    z = math.copysign(max(0.0, abs(off) - 0.5), off) / math.sqrt(variance)
    return _NORMAL.cdf(z)


def _quantile(ordered: Sequence[float], share: float) -> float:
    """Linear between order statistics (Hyndman & Fan 1996, type 7)."""
    place = share * (len(ordered) - 1)
    low = math.floor(place)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (place - low) * (ordered[high] - ordered[low])
