"""Progress in words: changes, what the rule is, and the page for a plain terminal."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence
from datetime import date

from coach.design.measures import MEASURE
from coach.reports.figure_words import AXIS, day_words, number
from coach.reports.progress_figures import Figures
from coach.reports.seen import paper as paper_seen
from coach.reports.seen.then_now import WHOLE
from coach.reports.seen.then_now import lines as then_now_lines
from coach.reports.skill_table import lines as skill_table
from drills.basics.counted import counted
from scores.progress.claim import LEAST_DAYS, Claim
from scores.progress.figures import RetestRun
from scores.progress.lines import Point, ProgressLine
from scores.progress.match import MatchCourse
from scores.progress.on_paper import OnPaper, finished
from scores.progress.on_paper import words as paper_words
from scores.progress.sureness import sure_words
from scores.progress.wheel import LETTERS, STANDING_WORDS, Wheel
from scores.skill.skill_threshold import Z_90

RULE = (
    "A change is claimed only for the whole eye, once good and bad days can't explain it, and for"
    " matches on paper, once chance can't, however often you look. Of a hundred learners who don't"
    " change, about five would ever be told of one of the eye in half a year. The drills below show"
    " where you stand."
)
WIDTH = MEASURE
"""Columns of a sentence, as on every screen."""
ROWS = 13
"""Points of a line shown as rows; of more, the latest of every few."""
PAPER_ROWS = 5
"""Swatches on paper shown one by one: the latest."""
BAR = 25
"""Columns of a row's interval."""


def change_words(change: Claim | None) -> str:
    """What is known of a change of the whole eye, in a sentence."""
    if change is None:
        return "Nothing has been measured yet."
    since = day_words(date.fromordinal(change.since))
    if change.direction is not None:
        ends = sorted(abs(100 * (1 - 10.0**end)) for end in (change.low, change.high))
        size = f"about {abs(100 * (1 - change.ratio)):.0f} % ({ends[0]:.0f} to {ends[1]:.0f} %)"
        sees = "smaller differences" if change.direction == "finer" else "only larger differences"
        return f"Your eye sees {sees} than on {since}, by {size}."
    if not math.isfinite(change.least):
        days = counted(change.days, "day")
        return (
            "It is too early to say whether your eye has changed:"
            f" {days} of practice so far, of at least {LEAST_DAYS}."
        )
    return (
        f"No change has been found since {since}. One of about"
        f" {100 * (1 - 1 / change.least):.0f} % would have shown by now."
    )


def page(figures: Figures) -> Iterator[str]:
    """The lines of a plain page, 80 columns at most."""
    yield title(figures)
    yield from head(figures)
    yield from _then_now(figures)
    yield from paper_lines(figures)
    yield from sure_lines(figures)
    eye = figures.course.eye
    if eye is not None:
        yield ""
        yield from textwrap.wrap(RULE, WIDTH)
        yield "Below, o is the threshold; it lies between the two · nine times in ten."
        yield from _line(eye)
    for line in figures.course.kinds:
        yield from _line(line)
    yield from _matches(figures.course.matches)
    yield from rest(figures)


def title(figures: Figures) -> str:
    """Which days are told of."""
    span = figures.course.span
    return f"Progress from {day_words(span.first)} to {day_words(span.last)}"


def head(figures: Figures, few: bool = False) -> Iterator[str]:
    """How much was answered, and what is known of a change; with ``few`` no minutes."""
    minutes = f" in {counted(round(figures.minutes), 'minute')} of answering"
    yield f"{counted(figures.answers, 'answer')}{'' if few else minutes}"
    yield ""
    yield from textwrap.wrap(change_words(figures.course.change), WIDTH)


def rest(figures: Figures) -> Iterator[str]:
    """What is no curve: re-tests, each skill, families, what comes due, minutes by day."""
    yield from _retests(figures.course.retests)
    yield from _skills(figures)
    yield from _wheel(figures.wheel)
    yield from _coming(figures)
    yield from _days(figures)


def _then_now(figures: Figures) -> Iterator[str]:
    if told := then_now_lines(figures.course.then_now):
        yield ""
        yield from told
        yield from textwrap.wrap(WHOLE, WIDTH)


def _wrapped(text: str, indent: int = 0) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2)
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
        yield f"  {point.day:%d %b %y}  {said:24}{''.join(cells)}"


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


def paper_lines(figures: Figures, few: bool = False) -> Iterator[str]:
    """What came on paper, and the latest swatches; ``few`` as in ``paper_words``."""
    told = paper_words(figures.paper, figures.today, few)
    if not told:
        return
    yield ""
    yield from textwrap.wrap(told, WIDTH)
    if figures.paper_change is not None:
        yield from textwrap.wrap(paper_seen.words(figures.paper_change), WIDTH)
    for one in finished(figures.paper)[-PAPER_ROWS:]:
        yield f"  {one.day:%d %b %y}  {paper_row(one)}"


def sure_lines(figures: Figures) -> Iterator[str]:
    """How often the learner was right when sure."""
    if told := sure_words(figures.sureness):
        yield ""
        yield from textwrap.wrap(told, WIDTH)


def paper_row(one: OnPaper) -> str:
    """One swatch on paper: how far off it landed, what was to be expected, after how much."""
    mended = "" if not one.mended else ", mended once" if one.mended == 1 else ", mended"
    unsure = ", said in words" if one.how == "in words" else ""
    return f"{one.miss:4.1f} off; to be expected {one.expected:.0f}{mended}{unsure}"


def _retests(runs: Sequence[RetestRun]) -> Iterator[str]:
    if not runs:
        return
    yield ""
    yield "Re-tests, on questions that practice never asks:"
    for run in runs[-ROWS:]:
        yield f"  {run.day:%d %b %y}  {run.right} of {run.items} right"
    yield from _wrapped(luck_words(runs), 2)


def luck_words(runs: Sequence[RetestRun]) -> str:
    """By how much luck alone moves the number right from one re-test to the next.

    90 % of differences of two binomial counts at the mean proportion right.
    """
    items = sum(run.items for run in runs) / len(runs)
    share = sum(run.right for run in runs) / sum(run.items for run in runs)
    apart = Z_90 * math.sqrt(2 * items * share * (1 - share))
    return (
        f"Luck alone can change the number from one time to the next by up to {max(apart, 1):.0f}."
    )


def _skills(figures: Figures) -> Iterator[str]:
    if not figures.skills:
        return
    yield ""
    yield "Each skill: how fine you see now, and when it comes back"
    yield from skill_table(figures.skills, figures.today)


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


def _coming(figures: Figures) -> Iterator[str]:
    yield ""
    if figures.due:
        yield f"{figures.due} skills call for practice today."
    if not figures.coming:
        yield "Nothing more comes due in the coming week."
        return
    yield "Coming due in the coming week, a forecast:"
    for skill in figures.coming[:20]:
        yield from _wrapped(f"{skill.words}: {skill.day_words}", 2)
    if len(figures.coming) > 20:
        yield f"  and {len(figures.coming) - 20} more"


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
