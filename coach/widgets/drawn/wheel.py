"""The twelve hue families as a wheel: how far each goes by length, how it stands by pattern."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.widgets.heat import short
from coach.widgets.paint import text

SPACE = 2.0
"""Cells are about twice as high as wide."""
HALF = 11.0
"""Degrees to either side of a family's middle that are drawn; between two, a gap."""
HUB = 0.14
"""Share of the radius left free in the middle, from which every length begins."""
LABEL = 4
"""Columns for a label beside the wheel."""
RIM = "·"


@dataclass(frozen=True)
class Wedge:
    """One family: ``length`` 0 to 1, None where nothing is known; ``pattern`` one character."""

    region: str
    length: float | None
    pattern: str


@lru_cache(maxsize=8)
def places(
    columns: int, rows: int, families: int
) -> tuple[tuple[tuple[int, float] | None, ...], ...]:
    """For each cell of a picture, the family it belongs to and its share of the radius.

    The first family stands on top and the others follow clockwise.
    """
    radius = _radius(columns, rows)
    middle_x, middle_y = (columns - 1) / 2, (rows - 1) / 2
    wide = 360.0 / families
    made = []
    for row in range(rows):
        line: list[tuple[int, float] | None] = []
        for column in range(columns):
            across, up = (column - middle_x) / SPACE, middle_y - row
            share = math.hypot(across, up) / radius
            turn = math.degrees(math.atan2(across, up)) % 360.0
            at = round(turn / wide) % families
            off = abs((turn - at * wide + 180.0) % 360.0 - 180.0)
            inside = HUB < share <= 1.0 and off <= HALF * 12 / families
            line.append((at, (share - HUB) / (1.0 - HUB)) if inside else None)
        made.append(tuple(line))
    return tuple(made)


def _radius(columns: int, rows: int) -> float:
    """In rows: what fits with the labels round it."""
    return max(1.0, min((rows - 3) / 2, (columns - 2 * LABEL) / (2 * SPACE)))


class WheelPicture(Widget, can_focus=True):
    """``wedges`` round a wheel; the one at ``at`` is marked, and moved by ← → or a click."""

    DEFAULT_CSS = "WheelPicture { height: 1fr; min-height: 11; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right,down", "turn(1)", show=False),
        Binding("left,up", "turn(-1)", show=False),
        Binding("home", "first", show=False),
    ]

    wedges: reactive[tuple[Wedge, ...]] = reactive(())
    at: reactive[int] = reactive(0)

    class Turned(Message):
        """Another family is marked."""

    def show(self, wedges: Sequence[Wedge]) -> None:
        self.wedges = tuple(wedges)
        self.at = min(self.at, max(0, len(wedges) - 1))
        self.post_message(self.Turned())

    @property
    def marked(self) -> Wedge | None:
        return self.wedges[self.at] if self.wedges else None

    def action_turn(self, by: int) -> None:
        if self.wedges:
            self._mark((self.at + by) % len(self.wedges))

    def action_first(self) -> None:
        self._mark(0)

    def _mark(self, at: int) -> None:
        self.at = at
        self.post_message(self.Turned())

    def on_click(self, event: events.Click) -> None:
        point = event.get_content_offset(self)
        if point is None or not self.wedges:
            return
        columns, rows = self.size
        across, up = (point.x - (columns - 1) / 2) / SPACE, (rows - 1) / 2 - point.y
        turn = math.degrees(math.atan2(across, up)) % 360.0
        self._mark(round(turn / 360.0 * len(self.wedges)) % len(self.wedges))

    def render_line(self, y: int) -> Strip:
        style, (columns, rows) = self.rich_style, self.size
        if not self.wedges or y >= rows:
            return Strip.blank(columns, style)
        cells = [self._cell(place) for place in places(columns, rows, len(self.wedges))[y]]
        line = [Segment("".join(cells), style)]
        strip = Strip(line)
        for at, wedge in enumerate(self.wedges):
            column, row = self._label(at)
            if row == y:
                marked = at == self.at
                words = f"▸{short(wedge.region)}" if marked else f" {short(wedge.region)}"
                shown = style + Style(bold=True, reverse=marked)
                label = Strip([text(f"{words} ", shown, LABEL)])
                strip = Strip.join(
                    [strip.crop(0, column), label, strip.crop(column + LABEL, columns)]
                )
        return strip.adjust_cell_length(columns, style)

    def _cell(self, place: tuple[int, float] | None) -> str:
        if place is None:
            return " "
        at, share = place
        wedge = self.wedges[at]
        if wedge.length is not None and share <= wedge.length:
            return wedge.pattern
        return RIM if share > 1.0 - 1.2 / _radius(*self.size) else " "

    def _label(self, at: int) -> tuple[int, int]:
        """Column and row where the label of a family begins."""
        columns, rows = self.size
        turn, out = 2 * math.pi * at / len(self.wedges), _radius(columns, rows) + 1.0
        x = (columns - 1) / 2 + SPACE * (out + 0.6) * math.sin(turn) - LABEL / 2 + 0.5
        y = (rows - 1) / 2 - out * math.cos(turn)
        return max(0, min(columns - LABEL, round(x))), max(0, min(rows - 1, round(y)))
