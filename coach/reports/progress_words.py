"""Progress in words: changes, what the rule is, and the page for a plain terminal."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence
from datetime import date

from coach.reports.progress_figures import Figures
from scores.progress.change import ThresholdChange
from scores.progress.lines import Point, ProgressLine
from scores.progress.match import MatchCourse
from scores.progress.wheel import LETTERS, STANDING_WORDS, Wheel

AXIS = "smaller is better"
RULE = (
    "A change is called one only where it is more than noise: the first third of the time is"
    " laid beside the last, and of a hundred learners whose eye stayed the same, five at most"
    " would be shown an improvement anywhere on this page. That is for one look: luck gets"
    " more chances the oftener one looks."
)
ROWS = 13
"""Points of a line shown as rows; of more, the latest of every few."""
BAR = 25
"""Columns of a row's interval."""


def day_words(day: date) -> str:
    """A day as "9 March 2026"."""
    return f"{day.day} {day:%B %Y}"


def short_day(day: date) -> str:
    return f"{day.day} {day:%b}"


def number(value: float, unit: str = "") -> str:
    """Three figures at most: 0.12, 3.4, 27; multiples ("× now") always with two decimals."""
    if value < 1 or unit.startswith("×"):
        return f"{value:.2f}"
    return f"{value:.1f}" if value < 10 else f"{value:.0f}"


def change_words(change: ThresholdChange | None) -> str:
    """What a change comes to, and whether that is more than noise."""
    if change is None or change.verdict == "too few answers":
        return "too few answers to tell"
    if change.verdict == "within the noise":
        return f"no change beyond the noise ({_by(change)})"
    return f"{change.verdict} by {_percents(change)}"


def _percents(change: ThresholdChange) -> str:
    """The size of a change that is one: "31 % (14 to 45 %)"."""
    ends = sorted(abs(100 * (1 - r)) for r in (change.low, change.high))
    if change.low < 1 < change.high:
        ends[0] = 0.0
    return f"{abs(100 * (1 - change.ratio)):.0f} % ({ends[0]:.0f} to {ends[1]:.0f} %)"


def _by(change: ThresholdChange) -> str:
    low, high = 100 * (change.low - 1), 100 * (change.high - 1)
    return f"{low:+.0f} to {high:+.0f} %".replace("-", "−")


def page(figures: Figures) -> Iterator[str]:
    """The lines of a plain page, 80 columns at most."""
    span = figures.course.span
    yield f"Progress from {day_words(span.first)} to {day_words(span.last)}"
    yield f"{figures.answers:,} answers in {figures.minutes:.0f} minutes of answering"
    yield ""
    lines = [line for line in (figures.course.eye, *figures.course.groups) if line]
    if not lines:
        yield "Nothing was answered in this time, so there is nothing to measure yet."
    for line in lines:
        yield from _wrapped(f"{line.words}: {change_words(line.change)}", 2)
    if lines:
        yield ""
        yield from textwrap.wrap(RULE, 78)
        yield "Below, · to · holds the threshold (o) 95 times in 100."
    for line in lines:
        yield from _line(line)
    yield from _matches(figures.course.matches)
    yield from _retest(figures)
    yield from _skills(figures.course.skills)
    yield from _wheel(figures.wheel)
    yield from _fading(figures)
    yield from _days(figures)


def _wrapped(text: str, indent: int = 0) -> list[str]:
    return textwrap.wrap(
        text, 78, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2)
    )


def _line(line: ProgressLine) -> Iterator[str]:
    if not line.points:
        return
    yield ""
    yield f"{line.words}, {line.unit} ({AXIS})"
    yield from rows(line.points, line.unit)


def rows(points: Sequence[Point], unit: str) -> Iterator[str]:
    """A row for each point: day, threshold, its interval as a bar on one log scale."""
    some = _some(points)
    low = math.log(min(point.low for point in some))
    high = math.log(max(point.high for point in some))
    for point in some:
        cells = [" "] * BAR
        ends = [_column(v, low, high) for v in (point.low, point.value, point.high)]
        for column in range(ends[0], ends[2] + 1):
            cells[column] = "-"
        cells[ends[0]] = cells[ends[2]] = "·"
        cells[ends[1]] = "o"
        said = _said(point, unit)
        answers = f"{point.answers:4d} answers"
        yield f"  {point.day:%d %b %y}  {said:24}{''.join(cells)} {answers}"


def _said(point: Point, unit: str) -> str:
    low, value, high = (number(v, unit) for v in (point.low, point.value, point.high))
    return f"{value} ({low} to {high})"


def _some(points: Sequence[Point]) -> Sequence[Point]:
    """Every few of many points, the newest among them."""
    every = -(-len(points) // ROWS)
    return points[(len(points) - 1) % every :: every]


def _column(value: float, low: float, high: float) -> int:
    share = (math.log(value) - low) / (high - low) if high > low else 0.5
    return round(share * (BAR - 1))


def _matches(matches: MatchCourse) -> Iterator[str]:
    if not matches.points:
        return
    yield ""
    yield f"Make the match: ΔE00 from the target, median and middle half ({AXIS})"
    every = -(-len(matches.points) // ROWS)
    for point in matches.points[(len(matches.points) - 1) % every :: every]:
        spread = f"{point.lower:.1f} to {point.upper:.1f}"
        yield f"  {point.day:%d %b %y}  {point.median:.1f} ({spread})  {point.matches} matches"
    yield from _wrapped(f"Matches: {change_words(matches.change)}", 2)


def _retest(figures: Figures) -> Iterator[str]:
    retest = figures.course.retest
    if not retest.runs:
        return
    yield ""
    yield "Re-tests, on questions that practice never asks:"
    for run in retest.runs[-ROWS:]:
        yield f"  {run.day:%d %b %y}  {run.right} of {run.items} right"
    for line in (retest.eye, *retest.groups):
        if line:
            yield from _wrapped(f"{line.words}: {change_words(line.change)}", 2)
    yield from _wrapped(figures.better_eye, 2)


def _skills(lines: Sequence[ProgressLine]) -> Iterator[str]:
    told = [line for line in lines if line.points]
    if not told:
        return
    yield ""
    yield f"Each skill: its threshold now ({AXIS}), and how that changed"
    drill = ""
    for line in told:
        title, _, region = line.words.rpartition(": ")
        if title != drill:
            drill = title
            yield f"  {title}, {line.unit}"
        change = line.change
        few = change.verdict == "too few answers"
        by = "too few answers" if few else f"{_by(change):>15}"
        verdict = change.verdict.upper() if change.beyond_noise else ""
        yield f"    {region[:20]:21}{_said(line.points[-1], line.unit):24}{by} {verdict}".rstrip()


def _wheel(wheel: Wheel) -> Iterator[str]:
    if not wheel.cells:
        return
    yield ""
    yield "Families and skills: " + ", ".join(
        f"{LETTERS[standing]} {words}" for standing, words in STANDING_WORDS.items()
    )
    columns = [chr(ord("a") + place) for place in range(len(wheel.kinds))]
    yield " " * 20 + " ".join(f"{column:>2}" for column in columns)
    for region in wheel.regions:
        marks = []
        for kind in wheel.kinds:
            cell = wheel.cell(region, kind)
            marks.append(f"{LETTERS[cell.standing] if cell else '':>2}")
        yield f"  {region[:17]:18}{' '.join(marks)}".rstrip()
    for column, kind in zip(columns, wheel.kinds, strict=True):
        yield f"  {column} {wheel.titles[kind]}"


def _fading(figures: Figures) -> Iterator[str]:
    yield ""
    if figures.due:
        yield f"{figures.due} skills call for practice today."
    if not figures.fading:
        yield "Nothing more is forecast to fade in the coming week."
        return
    yield "Forecast to fade in the coming week, if not practised:"
    for fading in figures.fading[:20]:
        left = f"{100 * fading.left:.0f} in 100 left after the week"
        yield from _wrapped(f"{fading.words}: due {fading.day_words}; {left}", 2)
    if len(figures.fading) > 20:
        yield f"  and {len(figures.fading) - 20} more"


def _days(figures: Figures) -> Iterator[str]:
    weeks = [figures.calendar[at : at + 7] for at in range(0, len(figures.calendar), 7)]
    if not any(day.minutes for day in figures.calendar):
        return
    yield ""
    yield "Minutes of answering by day (latest 13 weeks shown)"
    yield "  week of       Mon  Tue  Wed  Thu  Fri  Sat  Sun"
    for week in weeks[-ROWS:]:
        cells = "".join(f"{day.minutes:5.0f}" if day.answers else "    ·" for day in week)
        yield f"  {week[0].day:%d %b %y}  {cells}"
