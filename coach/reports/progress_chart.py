"""Charts of progress as SVG in neutral greys: they read without colour, and hold no script."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import date, timedelta
from html import escape

from coach.reports.figure_words import day_words, number, short_day
from coach.reports.progress_figures import Figures
from coach.reports.progress_words import change_words
from scores.progress.lines import ProgressLine
from scores.progress.match import MatchCourse
from scores.progress.span import Span
from scores.progress.wheel import CalendarDay

WIDTH, HEIGHT = 640, 226
_LEFT, _RIGHT, _TOP, _FOOT = 64, 16, 46, 34
LEAST_FACTOR = 3.0
"""A threshold's axis spans at least this factor, so that noise does not look like a landslide."""
_INK, _SOFT, _BAND, _GRID = "#1a1a1a", "#555555", "#d4d4d4", "#e6e6e6"
_STYLE = (
    "text{font:12px system-ui,sans-serif;fill:#1a1a1a}.soft{fill:#555555}"
    ".end{text-anchor:end}.mid{text-anchor:middle}.name{font-weight:600}"
)


def picture(figures: Figures) -> str:
    """All charts under one another, as one SVG file."""
    charts = _charts(figures)
    span = figures.course.span
    title = f"Progress from {day_words(span.first)} to {day_words(span.last)}"
    high = 40 + (HEIGHT + 24) * max(len(charts), 1)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{high}"'
        f' viewBox="0 0 {WIDTH} {high}" role="img"><title>{escape(title)}</title>'
        f'<style>{_STYLE}</style><rect width="100%" height="100%" fill="#ffffff"/>'
        f'<text class="name" x="12" y="24">{escape(title)}</text>'
    ]
    for place, chart in enumerate(charts):
        parts.append(f'<g transform="translate(0 {40 + (HEIGHT + 24) * place})">{chart}</g>')
    if not charts:
        parts.append('<text x="12" y="70">Nothing was answered in this time.</text>')
    return "".join([*parts, "</svg>\n"])


def figures_svg(figures: Figures) -> list[str]:
    """The same charts, each an SVG of its own for a page."""
    return [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT + 10}"'
        f' width="{WIDTH}" role="img">{chart}</svg>'
        for chart in _charts(figures)
    ]


def _charts(figures: Figures) -> list[str]:
    course = figures.course
    lines = [line for line in (course.eye, *course.kinds) if line]
    made = [
        line_chart(line, course.span, change_words(course.change) if line is course.eye else "")
        for line in lines
        if line.points
    ]
    if course.matches.points:
        made.append(match_chart(course.matches, course.span))
    return made


def line_chart(line: ProgressLine, span: Span, words: str = "") -> str:
    """A threshold over time with its 90 % interval, on a log axis; lower is better."""
    low = min(point.low for point in line.points)
    high = max(point.high for point in line.points)
    wider = max(1.0, LEAST_FACTOR / (high / low)) ** 0.5
    low, high = low / wider, high * wider
    y = _axis(math.log(low), math.log(high))
    x = _days(span)

    def up(value: float) -> float:
        return y(math.log(value))

    top = [(x(p.day), up(p.high)) for p in line.points]
    foot = [(x(p.day), up(p.low)) for p in reversed(line.points)]
    middle = [(x(p.day), up(p.value)) for p in line.points]
    heading = f"{line.words}, threshold in {line.unit}", words
    parts = [
        *_heading(*heading),
        *(_tick(up(value), number(value, line.unit)) for value in ticks(low, high)),
        _axis_words("smaller is better"),
        f'<polygon points="{_path([*top, *foot])}" fill="{_BAND}"/>',
        f'<polyline points="{_path(middle)}" fill="none" stroke="{_INK}" stroke-width="1.6"/>',
        *(_whisker(a[0], a[1], b[1]) for a, b in zip(top, reversed(foot), strict=True)),
        *(f'<circle cx="{px:.1f}" cy="{py:.1f}" r="3" fill="{_INK}"/>' for px, py in middle),
        *_dates(span, x),
    ]
    return "".join(parts)


def match_chart(matches: MatchCourse, span: Span) -> str:
    """Matches: the median and the middle half, from nought up."""
    high = max(max(point.upper for point in matches.points), 1.0)
    y = _axis(0.0, high)
    x = _days(span)
    heading = "Make the match, ΔE00 from the target", "the median, and the middle half"
    middle = [(x(p.day), y(p.median)) for p in matches.points]
    parts = _heading(*heading)
    parts += [_tick(y(value), number(value) if value else "0") for value in even_ticks(high)]
    parts.append(_axis_words("smaller is better"))
    parts.append(
        f'<polyline points="{_path(middle)}" fill="none" stroke="{_SOFT}" stroke-width="1"/>'
    )
    for point in matches.points:
        parts.append(_whisker(x(point.day), y(point.upper), y(point.lower)))
        parts.append(
            f'<rect x="{x(point.day) - 3:.1f}" y="{y(point.median) - 3:.1f}" width="6" height="6"'
            f' fill="{_INK}"/>'
        )
    return "".join([*parts, *_dates(span, x)])


def calendar_svg(days: Sequence[CalendarDay]) -> str:
    """Minutes by day: a column a week, Monday on top; the number says how many."""
    weeks = [days[at : at + 7] for at in range(0, len(days), 7)]
    cell = 26 if len(weeks) <= 22 else 12
    wide, high = 40 + cell * len(weeks), 26 + 7 * cell
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}"'
        ' role="img"><title>Minutes of answering by day</title>'
    ]
    for row, name in ((0, "Mon"), (2, "Wed"), (4, "Fri"), (6, "Sun")):
        parts.append(
            f'<text class="soft" x="0" y="{26 + row * cell + cell * 0.7:.0f}">{name}</text>'
        )
    for column, week in enumerate(weeks):
        left = 36 + column * cell
        if column % max(1, 78 // cell) == 0:
            parts.append(f'<text class="soft" x="{left}" y="16">{short_day(week[0].day)}</text>')
        for row, day in enumerate(week):
            shade = 255 - round(min(day.minutes, 15.0) / 15.0 * 110) if day.answers else 255
            parts.append(
                f'<rect x="{left}" y="{24 + row * cell}" width="{cell - 2}" height="{cell - 2}"'
                f' fill="rgb({shade},{shade},{shade})" stroke="{_GRID}">'
                f"<title>{day_words(day.day)}: {day.minutes:.0f} minutes</title></rect>"
            )
            if day.answers and cell > 20:
                parts.append(
                    f'<text class="mid" x="{left + cell / 2 - 1:.0f}"'
                    f' y="{24 + row * cell + cell * 0.62:.0f}">{day.minutes:.0f}</text>'
                )
    return "".join([*parts, "</svg>"])


def ticks(low: float, high: float) -> list[float]:
    """Round values between two above nought, fit for a log axis; two at least."""
    found = [
        digit * 10.0**power
        for power in range(math.floor(math.log10(low)) - 1, math.ceil(math.log10(high)) + 1)
        for digit in (1, 1.5, 2, 3, 5, 7)
        if low <= digit * 10.0**power <= high
    ]
    return found if len(found) >= 2 else [low, high]


def even_ticks(high: float) -> list[float]:
    """From nought to about ``high`` in four steps at most, of one, two or five."""
    for power in range(-3, 6):
        for digit in (1, 2, 5):
            step = digit * 10.0**power
            if high / step <= 4:
                return [step * place for place in range(math.floor(high / step) + 1)]
    return [0.0, high]


def _axis(low: float, high: float) -> Callable[[float], float]:
    """From a value to the height on the page; greater values lie higher up."""
    pad = 0.06 * (high - low) or 0.1
    bottom, top = low - pad, high + pad
    room = HEIGHT - _TOP - _FOOT
    return lambda value: _TOP + room * (top - value) / (top - bottom)


def _days(span: Span) -> Callable[[date], float]:
    wide = WIDTH - _LEFT - _RIGHT
    return lambda day: (
        _LEFT + wide * min(max((day - span.first).days, 0) / max(span.days - 1, 1), 1)
    )


def _dates(span: Span, x: Callable[[date], float]) -> list[str]:
    """Five dates under the chart, with the year where the span is long."""
    base = HEIGHT - _FOOT
    parts = [f'<line x1="{_LEFT}" x2="{WIDTH - _RIGHT}" y1="{base}" y2="{base}" stroke="{_SOFT}"/>']
    for place in range(5):
        day = span.first + timedelta(days=round(place * (span.days - 1) / 4))
        said = f"{short_day(day)} {day:%Y}" if span.days > 300 else short_day(day)
        anchor = "start" if place == 0 else "end" if place == 4 else "middle"
        parts.append(
            f'<text class="soft" x="{x(day):.1f}" y="{base + 16}"'
            f' text-anchor="{anchor}">{said}</text>'
        )
    return parts


def _heading(text: str, change: str) -> list[str]:
    return [
        f"<title>{escape(f'{text}: {change}' if change else text)}</title>",
        f'<text class="name" x="12" y="16">{escape(text)}</text>',
        f'<text x="12" y="34">{escape(change)}</text>',
    ]


def _axis_words(text: str) -> str:
    middle = _TOP + (HEIGHT - _TOP - _FOOT) / 2
    return (
        f'<text class="soft mid" transform="translate(14 {middle:.0f}) rotate(-90)">'
        f"← {escape(text)}</text>"
    )


def _tick(height: float, said: str) -> str:
    return (
        f'<line x1="{_LEFT}" x2="{WIDTH - _RIGHT}" y1="{height:.1f}" y2="{height:.1f}"'
        f' stroke="{_GRID}"/><text class="end soft" x="{_LEFT - 6}"'
        f' y="{height + 4:.1f}">{said}</text>'
    )


def _whisker(x: float, top: float, foot: float) -> str:
    return (
        f'<line x1="{x:.1f}" x2="{x:.1f}" y1="{top:.1f}" y2="{foot:.1f}" stroke="{_SOFT}"'
        ' stroke-width="1"/>'
    )


def _path(points: Sequence[tuple[float, float]]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
