"""The laws that every screen and state keeps; each yields what breaks it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import combinations
from typing import Any

from rich.cells import cell_len
from textual.app import App
from textual.containers import VerticalScroll
from textual.geometry import Region
from textual.scroll_view import ScrollView
from textual.widget import Widget
from textual.widgets import OptionList, Static

from coach.design.measures import MARGIN, MEASURE
from coach.widgets.adjusting_swatch import AdjustingSwatch
from coach.widgets.choices import Choices
from coach.widgets.drawn.picture_view import PictureView
from coach.widgets.hints import Hints
from coach.widgets.results import ResultRows
from coach.widgets.scene import Scene
from coach.widgets.strip import PlanStrip
from tests.contrast import contrast
from tests.pilots import coloured, lines, runs, shown

READS = 4.5
"""Least contrast of lettering: WCAG 2.2, success criterion 1.4.3."""
JUDGED = (Scene, Choices, ResultRows, AdjustingSwatch, PlanStrip, PictureView)
"""Widgets in which colours are judged; lists and scrolled parts hold swatches beside words."""


def on_screen(app: App[Any]) -> dict[Widget, tuple[Region, Region]]:
    """Each widget without children that is shown: its whole region, and the part in view."""
    found = {}
    for widget, place in app.screen._compositor.full_map.items():
        leaf = not any(child.display for child in widget.children)
        bar = "Scroll" in type(widget).__name__
        if leaf and widget.is_attached and place.region.area and not bar:
            found[widget] = place.region, place.region.intersection(place.clip)
    return found


def scrolled(widget: Widget) -> bool:
    """Whether what of it is out of view can be scrolled to."""
    return isinstance(widget, ScrollView) or any(
        isinstance(one, VerticalScroll | ScrollView) for one in widget.ancestors
    )


def nothing_is_cut(app: App[Any]) -> Iterator[object]:
    for widget, (whole, seen) in on_screen(app).items():
        if whole != seen and not scrolled(widget):
            yield widget, whole, seen
        if isinstance(widget, Static):
            words = str(widget.content)
            wide = widget.content_size.width
            needs = widget.get_content_height(app.size, app.size, wide) if wide else 0
            if words and needs > widget.content_size.height:
                yield "too low", widget, needs
            if any(cell_len(word) > wide for word in words.split()):
                yield "too narrow", widget, wide


def nothing_overlaps(app: App[Any]) -> Iterator[object]:
    for (one, (_, a)), (two, (_, b)) in combinations(on_screen(app).items(), 2):
        if a.intersection(b).area:
            yield one, two


def prose_keeps_its_measure(app: App[Any]) -> Iterator[object]:
    """No line of running words is longer than the measure; a table has gaps and may be."""
    for widget in on_screen(app):
        if isinstance(widget, Static) and widget.content_size.width > MEASURE:
            for line in str(widget.content).splitlines():
                words = line.strip()
                if cell_len(words) > MEASURE and "  " not in words:
                    yield widget, line
        if isinstance(widget, ResultRows):
            yield from (line for line in widget.lines if cell_len(line.words) > MEASURE)


def lettering_reads(app: App[Any]) -> Iterator[object]:
    for run in runs(app):
        if re.search(r"\w", run.text) and run.lettering and run.behind:
            if coloured(run.lettering) or coloured(run.behind):
                yield "on colour", run
            elif contrast(run.lettering[0], run.behind[0]) < READS:
                yield run


def colour_only_where_it_is_judged(app: App[Any]) -> Iterator[object]:
    for run in runs(app):
        if coloured(run.behind) or (coloured(run.lettering) and not run.blank):
            widget, _ = app.screen.get_widget_at(run.x, run.y)
            held = isinstance(widget, (*JUDGED, OptionList, ScrollView)) or widget.id == "rows"
            if not held:
                yield widget, run


def hints_are_in_view(app: App[Any]) -> Iterator[object]:
    hints = app.screen.query(Hints)
    if not hints or not hints.first().hints:
        yield "no keys are told"
        return
    text = shown(app)
    for hint in hints.first().hints:
        if f"{hint.keys} {hint.words}" not in text:
            yield hint


def the_first_line_says_it(app: App[Any]) -> Iterator[object]:
    first = lines(app)[0]
    if not first[MARGIN:].strip() or first[:MARGIN].strip():
        yield first
    bold = [run for run in runs(app) if run.y == 0 and not run.blank and run.style.bold]
    if not bold or bold[0].x > MARGIN:
        yield "not a heading", first


LAWS: tuple[Callable[[App[Any]], Iterator[object]], ...] = (
    nothing_is_cut,
    nothing_overlaps,
    prose_keeps_its_measure,
    lettering_reads,
    colour_only_where_it_is_judged,
    hints_are_in_view,
    the_first_line_says_it,
)
