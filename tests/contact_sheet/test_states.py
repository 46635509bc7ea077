"""Every screen and state: whole, apart, grey, readable, in its measure, with its keys.

The main ones are kept as they looked, as text with their grounds.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from itertools import combinations
from pathlib import Path

import pytest
from rich.cells import cell_len
from syrupy.assertion import SnapshotAssertion
from textual.containers import VerticalScroll
from textual.geometry import Region
from textual.scroll_view import ScrollView
from textual.widget import Widget
from textual.widgets import OptionList, Static

from coach.app import CoachApp
from coach.design.measures import MARGIN, MEASURE
from coach.widgets.adjusting_swatch import AdjustingSwatch
from coach.widgets.choices import Choices
from coach.widgets.drawn.picture_view import PictureView
from coach.widgets.hints import Hints
from coach.widgets.results import ResultRows
from coach.widgets.scene import Scene
from coach.widgets.strip import PlanStrip
from tests.contact_sheet.walk import furnish, walk
from tests.contrast import contrast
from tests.pilots import RGB, coloured, lines, runs, shown

READS = 4.5
"""Least contrast of lettering: WCAG 2.2, success criterion 1.4.3."""
JUDGED = (Scene, Choices, ResultRows, AdjustingSwatch, PlanStrip, PictureView)
"""Widgets in which colours are judged; lists and scrolled parts hold swatches beside words."""
ITS_OWN_MEASURE = {"progress", "progress-skills"}
"""What is set for the command's 78 columns."""


def on_screen(app: CoachApp) -> dict[Widget, tuple[Region, Region]]:
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


def nothing_is_cut(app: CoachApp) -> Iterator[object]:
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


def nothing_overlaps(app: CoachApp) -> Iterator[object]:
    for (one, (_, a)), (two, (_, b)) in combinations(on_screen(app).items(), 2):
        if a.intersection(b).area:
            yield one, two


def prose_keeps_its_measure(app: CoachApp) -> Iterator[object]:
    """No line of running words is longer than the measure; a table has gaps and may be."""
    for widget in on_screen(app):
        if isinstance(widget, Static) and widget.content_size.width > MEASURE:
            for line in str(widget.content).splitlines():
                words = line.strip()
                if cell_len(words) > MEASURE and "  " not in words:
                    yield widget, line


def lettering_reads(app: CoachApp) -> Iterator[object]:
    for run in runs(app):
        if re.search(r"\w", run.text) and run.lettering and run.behind:
            if coloured(run.lettering) or coloured(run.behind):
                yield "on colour", run
            elif contrast(run.lettering[0], run.behind[0]) < READS:
                yield run


def colour_only_where_it_is_judged(app: CoachApp) -> Iterator[object]:
    for run in runs(app):
        if coloured(run.behind) or (coloured(run.lettering) and not run.blank):
            widget, _ = app.screen.get_widget_at(run.x, run.y)
            held = isinstance(widget, (*JUDGED, OptionList, ScrollView)) or widget.id == "rows"
            if not held:
                yield widget, run


def hints_are_in_view(app: CoachApp) -> Iterator[object]:
    hints = app.screen.query(Hints)
    if not hints or not hints.first().hints:
        yield "no keys are told"
        return
    text = shown(app)
    for hint in hints.first().hints:
        if f"{hint.keys} {hint.words}" not in text:
            yield hint


def the_first_line_says_it(app: CoachApp) -> Iterator[object]:
    first = lines(app)[0]
    if not first[MARGIN:].strip() or first[:MARGIN].strip():
        yield first
    bold = [run for run in runs(app) if run.y == 0 and not run.blank and run.style.bold]
    if not bold or bold[0].x > MARGIN:
        yield "not a heading", first


LAWS: tuple[Callable[[CoachApp], Iterator[object]], ...] = (
    nothing_is_cut,
    nothing_overlaps,
    prose_keeps_its_measure,
    lettering_reads,
    colour_only_where_it_is_judged,
    hints_are_in_view,
    the_first_line_says_it,
)


MAIN = (
    *("today", "question", "reveal", "plan", "plan-other-way", "mending", "closing", "class"),
    *("settings", "help", "welcome", "screen-check", "today-few-colours"),
)
"""What is kept as it looked: changed on purpose, it is kept anew by ``--snapshot-update``."""


def picture(app: CoachApp) -> str:
    """The screen as text, and below it what is bold and the cells of each ground."""
    cells = Counter[RGB]()
    bold = []
    for run in runs(app):
        cells[run.behind or (0, 0, 0)] += len(run.text)
        if run.style.bold and not run.blank:
            bold.append(f"{run.y}: {run.text.strip()}")
    grounds = [f"#{r:02x}{g:02x}{b:02x} {count}" for (r, g, b), count in sorted(cells.items())]
    text = [line.rstrip() for line in lines(app)]
    return "\n".join([*text, "bold " + " | ".join(bold), *grounds])


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])
async def test_every_state_keeps_the_laws_and_the_main_ones_look_as_before(
    tmp_path: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    furnish(tmp_path, weeks=1)
    broken = []
    names = []
    pictures = {}
    async for seen in walk(tmp_path, size, every_kind=False):
        names.append(seen.name)
        if seen.name in MAIN:
            pictures[seen.name] = picture(seen.app)
        for law in LAWS:
            if law is prose_keeps_its_measure and seen.name in ITS_OWN_MEASURE:
                continue
            broken += [f"{seen.name}: {law.__name__}: {what}" for what in law(seen.app)]
    assert len(names) >= 40
    assert not broken, "\n".join(broken)
    assert pictures.keys() == set(MAIN)
    assert pictures == snapshot
