"""The pencils of a set as a list, one marked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from coach.widgets.paint import block, shortened, text, wrapped
from drills.questions.protocol import Lab

if TYPE_CHECKING:
    from drills.colour.reading import Reading
    from drills.layering.palette import Palette

BOLD = Style(bold=True)
SWATCH = 12
ROWS = 3
"""Two rows of swatch and one of the room's grey between."""


@dataclass(frozen=True)
class PencilLine:
    """A pencil's swatch (None for a blender) and two lines of words."""

    lab: Lab | None
    name: str
    reads: str


def pencil_lines(palette: Palette) -> tuple[PencilLine, ...]:
    """Every pencil, in the file's own order."""
    from drills.colour.reading import read_colours

    lines = []
    for pencil, lab, reading in zip(
        palette.set.pencils, palette.lab.tolist(), read_colours(palette.lab), strict=True
    ):
        name = f"{pencil.code}  {pencil.name}" if pencil.code else pencil.name
        if pencil.is_blender:
            lines.append(PencilLine(None, name, "colourless blender"))
            continue
        light = f", lightfastness {pencil.lightfastness}" if pencil.lightfastness else ""
        lines.append(
            PencilLine(
                (lab[0], lab[1], lab[2]), f"{name}  ({pencil.opacity}{light})", short(reading)
            )
        )
    return tuple(lines)


def short(reading: Reading) -> str:
    """The first sentence of a reading, and the everyday name where it hides the family."""
    first = reading.sentence().split(". ")[0].rstrip(".")
    return f"{first} (a {reading.everyday})" if reading.everyday else first


class PencilList(ScrollView, can_focus=True):
    """All the pencils, one marked."""

    DEFAULT_CSS = """
    PencilList { height: 1fr; margin: 1 2; overflow-x: hidden; scrollbar-size-vertical: 1; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "mark(-1)", "Back", show=False),
        Binding("down", "mark(1)", "On", show=False),
        Binding("pageup", "mark(-6)", "A page back", show=False),
        Binding("pagedown", "mark(6)", "A page on", show=False),
        Binding("home", "mark(-1000)", "First", show=False),
        Binding("end", "mark(1000)", "Last", show=False),
    ]

    lines: tuple[PencilLine, ...] = ()
    true_colour = True
    marked: reactive[int] = reactive(0)

    def show(self, lines: tuple[PencilLine, ...], true_colour: bool) -> None:
        self.lines, self.true_colour = lines, true_colour
        self.virtual_size = Size(self.size.width, len(lines) * ROWS)
        self.marked = min(self.marked, max(0, len(lines) - 1))
        self.refresh()

    def action_mark(self, by: int) -> None:
        self.marked = min(len(self.lines) - 1, max(0, self.marked + by))

    def watch_marked(self) -> None:
        top, seen = self.marked * ROWS, self.scrollable_content_region.height
        first = self.scroll_offset.y
        if top < first:
            self.scroll_to(y=top, animate=False)
        elif top + ROWS > first + seen:
            self.scroll_to(y=top + ROWS - seen, animate=False)

    def on_click(self, event: events.Click) -> None:
        point = event.get_content_offset(self)
        if point is not None:
            self.action_mark((point.y + self.scroll_offset.y) // ROWS - self.marked)

    def render_line(self, y: int) -> Strip:
        width = self.scrollable_content_region.width
        style = self.rich_style
        at, row = divmod(y + self.scroll_offset.y, ROWS)
        if at >= len(self.lines):
            return Strip.blank(width, style)
        line = self.lines[at]
        room = max(1, width - SWATCH - 4)
        # What a narrow screen leaves of the reading goes beside the gap.
        words = [shortened(line.name, room), *wrapped(line.reads, room), "", ""][row]
        if line.lab is None or not self.true_colour or row == ROWS - 1:
            side = [Segment(" " * SWATCH, style)]
        else:
            side = [block(line.lab, SWATCH)]
        mark = "▸ " if at == self.marked and row == 0 else "  "
        lettering = style + BOLD if at == self.marked and row == 0 else style
        said = text(words, lettering, room)
        return Strip([Segment(mark, style), *side, Segment("  ", style), said]).adjust_cell_length(
            width, style
        )
