"""Matches made: how far the learner's plans end from the target (ΔE00), week by week."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from scores.progress.answers import Matches
from scores.progress.change import Third, ThresholdChange
from scores.progress.fit import FloatArray
from scores.progress.span import Span, thirds

MOST_DAYS = 300
"""Days whose pairs are laid side by side; of more, so many quantiles stand for all."""
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
    change: ThresholdChange | None = None


def match_course(matches: Matches, span: Span) -> MatchCourse:
    """The matches of a span by period."""
    inside = _inside(matches, span.first, span.last)
    period = span.periods - 1 - (span.last.toordinal() - matches.day[inside]) // span.period_days
    error = matches.error[inside]
    points = []
    for place in np.flatnonzero(np.bincount(period, minlength=1)):
        lower, middle, upper = np.percentile(error[period == place], (25, 50, 75))
        count = int((period == place).sum())
        points.append(MatchPoint(span.period_end(int(place)), middle, lower, upper, count))
    return MatchCourse(tuple(points))


def _inside(matches: Matches, first: date, last: date) -> NDArray[np.bool_]:
    made: NDArray[np.bool_] = (matches.day >= first.toordinal()) & (matches.day <= last.toordinal())
    return made


def match_change(matches: Matches, span: Span) -> ThresholdChange | None:
    """The last third of a span's matches against the first; None where there is no such thing.

    Each day counts once, by its median, since the matches of one day share its mood.
    ``finer`` is one less the p-value of the rank-sum test (Mann & Whitney 1947, Ann.
    Math. Statist. 18:50-60, normal approximation with ties); ``ratio``, ``low`` and
    ``high`` follow from the ratios of all pairs of days (Hodges & Lehmann 1963, Ann.
    Math. Statist. 34:598-611).
    """
    mine = matches.day[_inside(matches, span.first, span.last)]
    if not len(mine):
        return None
    ends = thirds(date.fromordinal(int(mine[0])), date.fromordinal(int(mine[-1])))
    (then, before), (now, after) = (_end(matches, first, last) for first, last in ends)
    if not len(then) or not len(now):
        return None
    few, many = _thinned(then), _thinned(now)
    ratios = np.sort(np.log((many[:, None] + 0.01) / (few[None, :] + 0.01)).ravel())
    # The pairs' order statistics that hold the shift; its spread is by all the days.
    m, n = len(then), len(now)
    share = 1.96 * math.sqrt((m + n + 1) / (12 * m * n))
    cut = max(0, round(len(ratios) * (0.5 - share)))
    low, middle, high = ratios[cut], np.median(ratios), ratios[-1 - cut]
    three = [float(np.exp(value)) for value in (middle, low, high)]
    return ThresholdChange(before, after, three[0], three[1], three[2], _finer(then, now))


def _end(matches: Matches, first: date, last: date) -> tuple[FloatArray, Third]:
    """The median of each day with matches, and what there was."""
    mine = _inside(matches, first, last)
    day, error = matches.day[mine], matches.error[mine]
    error = error[np.lexsort((error, day))]
    _, start, count = np.unique(day, return_index=True, return_counts=True)
    medians = (error[start + (count - 1) // 2] + error[start + count // 2]) / 2.0
    return medians, Third(first, last, len(day), len(medians))


def _thinned(values: FloatArray) -> FloatArray:
    """At most MOST_DAYS values spread as these are."""
    if len(values) <= MOST_DAYS:
        return values
    made: FloatArray = np.quantile(values, (np.arange(MOST_DAYS) + 0.5) / MOST_DAYS)
    return made


def _finer(then: FloatArray, now: FloatArray) -> float:
    """How sure it is that ``now`` lies lower."""
    m, n = len(then), len(now)
    ordered = np.sort(now)
    below = np.searchsorted(ordered, then, "left").sum()
    upto = np.searchsorted(ordered, then, "right").sum()
    _, ties = np.unique(np.concatenate([then, now]), return_counts=True)
    tied = float((ties.astype(np.float64) ** 3 - ties).sum()) / max((m + n) * (m + n - 1), 1)
    variance = m * n / 12 * ((m + n + 1) - tied)
    if variance <= 0:
        return 0.5
    off = float(below + upto) / 2 - m * n / 2
    # Half a pair is given up either way: the count is of whole pairs.
    z = math.copysign(max(0.0, abs(off) - 0.5), off) / math.sqrt(variance)
    return _NORMAL.cdf(z)
