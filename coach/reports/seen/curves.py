"""Curves to draw: thresholds, matches and misses on paper over a span, each with its band."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from coach.reports.figure_words import AXIS, number, short_day
from coach.reports.progress_chart import LEAST_FACTOR, even_ticks, ticks
from coach.reports.progress_figures import Figures
from drills.basics.errors import plain
from scores.progress.lines import ProgressLine
from scores.progress.on_paper import OnPaper, finished
from scores.progress.span import Span

HOLDS = ("the threshold; nine times in ten it is between the fainter lines", "9 times in 10")
MATCHES = ("the median; the fainter lines hold the middle half", "Middle half")
READING = ("a swatch; its line says how far off the reading may be", "Reading")
"""What a curve's marks are, and the head of the column of its band."""
DATES = 5
"""Dates under a curve."""


@dataclass(frozen=True)
class CurvePoint:
    """``low`` to ``high`` is the band about ``value``."""

    day: date
    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Curve:
    """``points``, oldest first, over ``span``. On a log axis where ``log`` is True.

    ``says`` is what points and lines are, ``band`` what the table calls the band; ``joined``
    whether a line joins the points.
    """

    title: str
    unit: str
    says: str
    band: str
    points: tuple[CurvePoint, ...]
    span: Span
    log: bool
    joined: bool = True

    @property
    def ends(self) -> tuple[float, float]:
        """The values the axis goes from and to."""
        low = min(point.low for point in self.points)
        high = max(point.high for point in self.points)
        if not self.log:
            return 0.0, max(high, 1.0)
        wider = max(1.0, LEAST_FACTOR / (high / low)) ** 0.5
        return low / wider, high * wider

    def height(self, value: float) -> float:
        """Where a value lies on the axis: its logarithm on a log axis."""
        return math.log10(value) if self.log else value

    @property
    def marks(self) -> list[tuple[float, str]]:
        """Round values on the axis, and how they are written."""
        low, high = self.ends
        at = ticks(low, high) if self.log else even_ticks(high)
        return [(value, number(value, self.unit) if value else "0") for value in at]

    @property
    def dates(self) -> list[tuple[date, str]]:
        """Days under the curve, with the year where the span is long."""
        days = sorted(
            {
                self.span.first + timedelta(days=round(place * (self.span.days - 1) / (DATES - 1)))
                for place in range(DATES)
            }
        )
        long = self.span.days > 300
        return [(day, f"{day:%b %Y}" if long else short_day(day)) for day in days]

    def rows(self) -> Iterator[tuple[str, str, str]]:
        """The same data as a table: day, value, band."""
        for point in self.points:
            low, value, high = (number(v, self.unit) for v in (point.low, point.value, point.high))
            yield f"{point.day.day} {point.day:%b %Y}", value, f"{low} to {high}"


def curves(figures: Figures) -> tuple[Curve, ...]:
    """The whole eye first, then matches, what came on paper, and each kind of drill."""
    course = figures.course
    eye = [_threshold(course.eye, course.span)] if course.eye and course.eye.points else []
    kinds = [_threshold(line, course.span) for line in course.kinds if line.points]
    found = [*eye, *_paper(figures.paper, course.span), *kinds]
    if course.matches.points:
        points = tuple(CurvePoint(p.day, p.median, p.lower, p.upper) for p in course.matches.points)
        title = f"Make the match, ΔE00 from the target ({AXIS})"
        found.append(Curve(title, "ΔE00", *MATCHES, points, course.span, False))
    return tuple(found)


def _threshold(line: ProgressLine, span: Span) -> Curve:
    points = tuple(CurvePoint(p.day, p.value, p.low, p.high) for p in line.points)
    title = f"{plain(line.words)}, {plain(line.unit)} ({AXIS})"
    return Curve(title, line.unit, *HOLDS, points, span, True)


def _paper(paper: tuple[OnPaper, ...], span: Span) -> Iterator[Curve]:
    """Each swatch laid, with how far off its reading may be."""
    points = tuple(
        CurvePoint(one.day, one.miss, max(0.0, one.miss - one.doubt), one.miss + one.doubt)
        for one in finished(paper)
        if span.first <= one.day <= span.last
    )
    if points:
        title = f"On paper, ΔE00 from the target ({AXIS})"
        yield Curve(title, "ΔE00", *READING, points, span, False, False)
