"""The brief before class, laid out: lines for a terminal, a sheet for A4 or Letter."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator
from datetime import datetime

from coach.reports.classes.brief import FOOT, Brief, sections
from coach.reports.printed.document import html
from coach.reports.printed.flow import MARGIN, Flow
from drills.basics.days import date_text
from drills.basics.errors import plain
from drills.sheets.layout import Size

_SWATCH, _TALL, _TEXT = 22.0, 14.0, 3.4
_NAME_MM = 52.0
_COLUMNS = 6


def brief_lines(
    brief: Brief, columns: int, swatches: bool, shortened: Callable[[str], str] | None = None
) -> Iterator[str]:
    """The page as lines of at most so many columns; ``swatches`` where 24-bit colour is drawn.

    ``shortened`` leaves what is said of one colour or student fewer figures; how many stand
    where is a line each then.
    """
    said = shortened or str
    heads = [brief.head] if shortened is None else brief.head.split(", ")
    yield from _wrapped(f"Before class: {brief.title}. {heads[0]}", columns)
    for head in heads[1:]:
        yield f"  {head}"
    if brief.alike:
        yield from _wrapped(brief.alike, columns)
    if brief.colours:
        yield ""
        yield "Show these colours"
    for at, one in enumerate(brief.colours):
        if at and swatches:
            # Only what is to be compared touches.
            yield ""
        beside = f", beside {one.beside}" if one.beside else ""
        for line in _wrapped(f"{one.region}{beside}: {said(one.why)}", columns - 2 * _COLUMNS - 3):
            yield f"  {_blocks(one.swatches, swatches)} {line}" if swatches else f"  {line}"
    for heading, rows, more in sections(brief):
        yield ""
        yield heading
        for name, words in rows:
            text = f"{name}: {said(words)}" if name else words
            yield from _wrapped(text, columns, "  ", "    ")
        if more:
            yield f"  {more}"
    yield ""
    yield from _wrapped(FOOT, columns)


def _blocks(labs: tuple[tuple[float, float, float], ...], swatches: bool) -> str:
    if not swatches:
        return ""
    from drills.colour.spaces import screen_rgb

    blocks = ""
    for lab in labs[:2]:
        r, g, b = screen_rgb(lab).tolist()
        blocks += f"\x1b[48;2;{r};{g};{b}m{' ' * (2 * _COLUMNS // len(labs[:2]))}\x1b[0m"
    return blocks or " " * (2 * _COLUMNS)


def _wrapped(words: str, columns: int, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(
        plain(words, 600), max(30, columns), initial_indent=first, subsequent_indent=rest
    )


FOR_TEACHER = "For the teacher alone: it names students."
"""A printed page lies about where students see it."""


def brief_page(brief: Brief, size: Size, made: str) -> str:
    """One HTML file that prints on one sheet of this size."""
    from drills.colour.spaces import hex_of

    flow = Flow(size)
    flow.lines(MARGIN, flow.width, plain(f"Before class: {brief.title}", 100), 5.5, bold=True)
    flow.lines(MARGIN, flow.width, f"{made} {FOR_TEACHER}", 3.0, faint=True)
    flow.y += 1.5
    flow.lines(MARGIN, flow.width, brief.head, _TEXT + 0.4)
    if brief.alike:
        flow.lines(MARGIN, flow.width, brief.alike, _TEXT)
    if brief.colours:
        _heading(flow, "Show these colours")
    for one in brief.colours:
        flow.room(_TALL + 3.0)
        x = MARGIN
        for lab in one.swatches[:2]:
            # Two to be compared touch.
            flow.page.fill(x, flow.y, _SWATCH, _TALL, hex_of(lab))
            x += _SWATCH
        top, words_x = flow.y, MARGIN + 2 * _SWATCH + 5.0
        beside = f" beside {one.beside}" if one.beside else ""
        flow.lines(words_x, flow.width - words_x + MARGIN, f"{one.region}{beside}", 4.0, bold=True)
        flow.lines(words_x, flow.width - words_x + MARGIN, one.why, _TEXT)
        flow.y = max(flow.y, top + _TALL) + 3.0
    for heading, rows, more in sections(brief):
        _heading(flow, heading)
        for name, words in rows:
            _row(flow, name, words)
        if more:
            flow.lines(MARGIN, flow.width, more, 3.0, faint=True)
    flow.y += 3.0
    flow.lines(MARGIN, flow.width, FOOT, 2.8, faint=True)
    return html(f"Before class: {plain(brief.title, 100)}", size, flow.pages)


def _heading(flow: Flow, words: str) -> None:
    flow.y += 4.0
    flow.room(14.0)
    flow.lines(MARGIN, flow.width, words, 4.2, bold=True)
    flow.y += 1.2


def _row(flow: Flow, name: str, words: str) -> None:
    flow.room(10.0)
    if not name:
        flow.lines(MARGIN, flow.width, words, _TEXT)
        return
    top = flow.y
    flow.lines(MARGIN, _NAME_MM - 3.0, name, _TEXT, bold=True)
    after = flow.y
    flow.y = top
    flow.lines(MARGIN + _NAME_MM, flow.width - _NAME_MM, words, _TEXT)
    flow.y = max(flow.y, after) + 0.9


def made_words(when: datetime, app: str) -> str:
    """When the page was made, and by what."""
    return f"Made {date_text(when)}, {when:%H:%M}, by the coloured-pencil coach {app}."
