"""The pencils in use, each with its swatch and how it reads; and changing to another set."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.paint import block, shortened, text, wrapped
from drills.questions.protocol import Lab

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.colour.reading import Reading
    from drills.layering.palette import Palette

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
    """All the pencils, scrolled by line."""

    DEFAULT_CSS = """
    PencilList { height: 1fr; margin: 1 2; overflow-x: hidden; scrollbar-size-vertical: 1; }
    """

    lines: tuple[PencilLine, ...] = ()
    true_colour = True

    def show(self, lines: tuple[PencilLine, ...], true_colour: bool) -> None:
        self.lines, self.true_colour = lines, true_colour
        self.virtual_size = Size(self.size.width, len(lines) * ROWS)
        self.refresh()

    def render_line(self, y: int) -> Strip:
        width = self.scrollable_content_region.width
        style = self.rich_style
        at, row = divmod(y + self.scroll_offset.y, ROWS)
        if at >= len(self.lines):
            return Strip.blank(width, style)
        line = self.lines[at]
        room = max(1, width - SWATCH - 2)
        # What a narrow screen leaves of the reading goes beside the gap.
        words = [shortened(line.name, room), *wrapped(line.reads, room), "", ""][row]
        if line.lab is None or not self.true_colour or row == ROWS - 1:
            side = [Segment(" " * SWATCH, style)]
        else:
            side = [block(line.lab, SWATCH)]
        said = text(words, style, room)
        return Strip([*side, Segment("  ", style), said]).adjust_cell_length(width, style)


class PencilsScreen(CoachScreen[None]):
    """Look through the set in use, or take another."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("1", "take('demo')", "Demo"),
        Binding("2", "take('pocket')", "Pocket"),
        Binding("f", "file", "File"),
        Binding("h", "app.open('hand')", "Your hand"),
    ]

    def compose(self) -> ComposeResult:
        yield Static("", id="name", classes="title", markup=False)
        yield PencilList()
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("↑ ↓", "look through"),
            Hint("1", "demo set", "take('demo')"),
            Hint("2", "pocket set", "take('pocket')"),
            Hint("f", "from a file", "file"),
            Hint("h", "your hand", "app.open('hand')"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.fill()
        self.query_one(PencilList).focus()

    def on_host_app_pencils_ready(self) -> None:
        self.fill()

    def on_host_app_pencils_failed(self, message: HostApp.PencilsFailed) -> None:
        self.query_one("#trouble", Static).update(message.why)

    def on_resize(self) -> None:
        self.fill()

    def fill(self) -> None:
        app_state = self.app.app_state
        if app_state.ready_for is None:
            self.query_one("#name", Static).update(f"{app_state.pencils_name}: getting ready…")
            return
        palette = app_state.ready_for.palette
        self.query_one("#name", Static).update(f"{app_state.pencils_name}: {len(palette)} pencils")
        self.query_one(PencilList).show(pencil_lines(palette), app_state.depth.true_colour)

    def action_back(self) -> None:
        self.dismiss()

    def action_take(self, which: str) -> None:
        from drills.pencils.sets import demo_set, pocket_set

        self.app.app_state.use(demo_set() if which == "demo" else pocket_set())
        self.query_one("#trouble", Static).update(self.app.app_state.notice)
        self._changed(True)

    def action_file(self) -> None:
        from coach.screens.first_start.pencil_file import PencilFileScreen

        self.app.push_screen(PencilFileScreen(), self._changed)

    def _changed(self, changed: bool | None) -> None:
        if changed:
            self.app.make_ready()
            self.fill()
