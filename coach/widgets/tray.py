"""Pencils as a tray: swatches in rows, each with its code and marks below; one is marked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from coach.design.measures import LARGE_ROWS
from coach.widgets.paint import block, shortened, text
from drills.questions.protocol import Lab

WIDE, GAP = 11, 1
HIGH = 2
"""Rows of a swatch; below it one of words, and one of the room's grey."""
LARGE_WIDE, LARGE_HIGH = 24, LARGE_ROWS
"""The same where large things are wanted."""


@dataclass(frozen=True)
class TrayPencil:
    """One pencil: its swatch (None for a blender), what stands under it, ``group`` in words.

    ``label`` is its code, else its name; ``marks`` what is to be known at a glance (how
    lightfast, how opaque), in letters; ``place`` sorts it within the groups; ``words`` is what
    it is found by.
    """

    lab: Lab | None
    label: str
    marks: str
    group: str
    place: tuple[float, ...]
    words: str


@dataclass(frozen=True)
class _Row:
    """A heading, or the places in the set of the pencils side by side."""

    heading: str
    pencils: tuple[int, ...]
    high: int = 1


class Tray(ScrollView, can_focus=True):
    """All ``pencils``, one marked: in their own order, or ``grouped`` with a heading each."""

    DEFAULT_CSS = """
    Tray { height: 1fr; margin: 1 2 0 2; overflow-x: hidden; scrollbar-size-vertical: 1; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "along(-1)", show=False),
        Binding("right", "along(1)", show=False),
        Binding("up", "across(-1)", show=False),
        Binding("down", "across(1)", show=False),
        Binding("home", "along(-100000)", show=False),
        Binding("end", "along(100000)", show=False),
    ]

    class Marked(Message):
        """Another pencil is marked, or none is left to be."""

    pencils: tuple[TrayPencil, ...] = ()
    true_colour = True
    marked: reactive[int] = reactive(0)
    grouped: reactive[bool] = reactive(False)
    find: reactive[str] = reactive("")
    """Only pencils whose words have all of these are shown."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[_Row, ...] = ()
        self._wide, self._high = WIDE, HIGH

    def show(self, pencils: Sequence[TrayPencil], true_colour: bool) -> None:
        self.pencils, self.true_colour = tuple(pencils), true_colour
        self.marked = min(self.marked, max(0, len(pencils) - 1))
        self._lay()

    @property
    def shown(self) -> tuple[int, ...]:
        """The places in the set of the pencils shown, in the order they lie in."""
        wanted = self.find.casefold().split()
        found = [
            at
            for at, pencil in enumerate(self.pencils)
            if all(word in pencil.words.casefold() for word in wanted)
        ]
        if self.grouped:
            found.sort(key=lambda at: self.pencils[at].place)
        return tuple(found)

    def _lay(self) -> None:
        """Lay the rows anew for this width, order and what is looked for."""
        large = self.is_attached and self.screen.has_class("-large")
        self._wide, self._high = (LARGE_WIDE, LARGE_HIGH) if large else (WIDE, HIGH)
        across = max(1, (self.scrollable_content_region.width + GAP) // (self._wide + GAP))
        rows: list[_Row] = []
        row: list[int] = []
        for at in self.shown:
            group = self.pencils[at].group
            new = self.grouped and (not row or self.pencils[row[-1]].group != group)
            if row and (new or len(row) == across):
                rows.append(_Row("", tuple(row), self._high + 2))
                row = []
            if new:
                rows.append(_Row(group, ()))
            row.append(at)
        if row:
            rows.append(_Row("", tuple(row), self._high + 2))
        self._rows = tuple(rows)
        self.virtual_size = Size(
            self.scrollable_content_region.width, sum(row.high for row in self._rows)
        )
        if self.shown and self.marked not in self.shown:
            self.marked = self.shown[0]
        self._to_marked()
        self.refresh()
        self.post_message(self.Marked())

    def on_resize(self) -> None:
        self._lay()

    def watch_grouped(self) -> None:
        self._lay()

    def watch_find(self) -> None:
        self._lay()

    def watch_marked(self) -> None:
        self._to_marked()
        self.refresh()
        self.post_message(self.Marked())

    def action_along(self, by: int) -> None:
        shown = self.shown
        if shown:
            here = shown.index(self.marked) if self.marked in shown else 0
            self.marked = shown[min(len(shown) - 1, max(0, here + by))]

    def action_across(self, by: int) -> None:
        """The pencil above or below; in a shorter row its last."""
        rows = [row.pencils for row in self._rows if row.pencils]
        here = next((at for at, row in enumerate(rows) if self.marked in row), None)
        if here is not None and 0 <= here + by < len(rows):
            column = rows[here].index(self.marked)
            self.marked = rows[here + by][min(column, len(rows[here + by]) - 1)]

    def _to_marked(self) -> None:
        """Scroll so that the marked pencil, and a heading over it, can be seen."""
        top = heading = 0
        for row in self._rows:
            if self.marked in row.pencils:
                break
            heading = row.high if row.heading else 0
            top += row.high
        else:
            return
        first, seen = self.scroll_offset.y, self.scrollable_content_region.height
        if top - heading < first:
            self.scroll_to(y=top - heading, animate=False)
        elif top + self._high + 1 > first + seen:
            self.scroll_to(y=top + self._high + 1 - seen, animate=False)

    def _at(self, y: int) -> tuple[_Row, int] | None:
        """The row at a line of the whole tray, and which of its lines that is."""
        for row in self._rows:
            if y < row.high:
                return row, y
            y -= row.high
        return None

    def on_click(self, event: events.Click) -> None:
        point = event.get_content_offset(self)
        found = None if point is None else self._at(point.y + self.scroll_offset.y)
        if point is not None and found is not None:
            column = point.x // (self._wide + GAP)
            if column < len(found[0].pencils):
                self.marked = found[0].pencils[column]

    def render_line(self, y: int) -> Strip:
        width, style = self.scrollable_content_region.width, self.rich_style
        found = self._at(y + self.scroll_offset.y)
        if found is None:
            return Strip.blank(width, style)
        row, within = found
        if row.heading:
            return Strip([text(row.heading, style + Style(bold=True), width)])
        line: list[Segment] = []
        for at in row.pencils:
            line += [self._part(at, within, style), Segment(" " * GAP, style)]
        return Strip(line).adjust_cell_length(width, style)

    def _part(self, at: int, within: int, style: Style) -> Segment:
        pencil = self.pencils[at]
        if within < self._high:
            if pencil.lab is None or not self.true_colour:
                return Segment(" " * self._wide, style)
            return block(pencil.lab, self._wide)
        if within > self._high:
            return Segment(" " * self._wide, style)
        marked = at == self.marked
        room = self._wide - 1 - len(pencil.marks) - bool(pencil.marks)
        label = set_cell_size(shortened(pencil.label, room), room)
        words = f"{'▸' if marked else ' '}{label} {pencil.marks}"
        return text(words, style + Style(bold=True, reverse=True) if marked else style, self._wide)
