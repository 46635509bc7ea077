"""Which of the pencils to take out for a photo, and what the photo becomes with them."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.widgets.drawn.copies import Copies
from coach.widgets.hints import Hint, Hints
from coach.widgets.paint import beyond_screen, cell_style
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.colour.data.tables import FloatArray
    from drills.layering.palette import Palette
    from drills.pictures.main_colours import MainColour
    from drills.pictures.picture import Picture
    from drills.pictures.spot import Correction
    from drills.planning.for_picture.pencils_for import PencilsFor

MAIN = 8
"""Main colours that the pencils are judged by."""
BEGIN_WITH = 8
GREYS = (3, 5, 7)
WORKING = "Working out which pencils come nearest…"
NOT_READY = "The pencils are not ready yet: go back and try again in a moment."
_SIDE = 320
_CHIP = 8


class PhotoPencilsScreen(CoachScreen[None]):
    """The photo, the photo in a few pencils and in a few greys; what to lay for each colour."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("minus,underscore", "count(-1)", "One pencil fewer"),
        Binding("plus,equals_sign", "count(1)", "One pencil more"),
        Binding("g", "greys", "Other greys"),
        Binding("up", "read(-1)", "Read back", show=False),
        Binding("down", "read(1)", "Read on", show=False),
        Binding("pageup", "read(-8)", "Read back", show=False),
        Binding("pagedown", "read(8)", "Read on", show=False),
    ]

    def __init__(self, picture: Picture, light: Correction | None) -> None:
        super().__init__()
        self.picture = picture
        self.light = light
        self.most = BEGIN_WITH
        self.greys = 5
        self.found: PencilsFor | None = None
        self._copy: FloatArray | None = None
        self._main: tuple[MainColour, ...] = ()

    def compose(self) -> ComposeResult:
        yield Static("Pencils for this photo", id="title", classes="title", markup=False)
        yield Copies()
        with VerticalScroll(can_focus=False):
            yield Static(WORKING, id="words", markup=False)
        yield Hints(
            Hint("− +", "fewer, more pencils", "count(1)"),
            Hint("g", "3, 5 or 7 greys", "greys"),
            Hint("↑ ↓", "read on", "read(1)"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.query_one(Copies).display = self.app.app_state.depth.true_colour
        self._begin()

    def _begin(self) -> None:
        made = self.app.app_state.ready_for
        if made is None:
            self._say(Text(NOT_READY))
            return
        self._say(Text(WORKING))
        self._work_out(made.palette, self.most)

    @work(thread=True, exclusive=True)
    def _work_out(self, palette: Palette, most: int) -> None:
        from drills.pictures.main_colours import corrected_copy, main_colours
        from drills.planning.for_picture.pencils_for import pencils_for

        try:
            if not self._main:
                self._copy = corrected_copy(self.picture, self.light, _SIDE)
                self._main = main_colours(self.picture, MAIN, self.light)
            found = pencils_for(palette, self._main, most)
        except InputError as error:
            self.app.call_from_thread(self._say, Text(str(error)))
        else:
            self.app.call_from_thread(self._chosen, palette, found, most)

    def _chosen(self, palette: Palette, found: PencilsFor, most: int) -> None:
        if most != self.most or not self.app.stands(self):
            return
        self.found = found
        self._show()
        self._say(_told(palette, found, self.app.app_state.depth.true_colour))

    def _show(self) -> None:
        """The three pictures, where the terminal shows them truly."""
        from drills.pictures.greys import value_study
        from drills.planning.for_picture.outcome import as_drawn

        if self.found is None or self._copy is None or not self.query_one(Copies).display:
            return
        copy = self._copy
        self.query_one(Copies).show(
            (copy, as_drawn(copy, self.found.layers), value_study(copy, self.greys)),
            ("the photo", "with these pencils", f"in {self.greys} greys"),
        )

    # Keys

    def action_count(self, by: int) -> None:
        """Take out one pencil fewer or more."""
        from drills.planning.for_picture.pencils_for import FEWEST, MOST

        most = min(MOST, max(FEWEST, self.most + by))
        if most != self.most:
            self.most = most
            self._begin()

    def action_greys(self) -> None:
        """The value study in another number of greys."""
        self.greys = GREYS[(GREYS.index(self.greys) + 1) % len(GREYS)]
        self._show()

    def action_read(self, lines: int) -> None:
        self.query_one(VerticalScroll).scroll_relative(y=lines, animate=False)

    def action_back(self) -> None:
        self.dismiss()

    def _say(self, words: Text) -> None:
        if self.app.stands(self):
            count = "one pencil" if self.most == 1 else f"{self.most} pencils"
            self.query_one("#title", Static).update(f"Pencils for this photo: {count} at most")
            self.query_one("#words", Static).update(words)


def _told(palette: Palette, found: PencilsFor, swatches: bool) -> Text:
    """The pencils, each main colour with how it is made, and what one more would bring."""
    from coach.reports.picture_words import layer_words, one_more_words, summary
    from drills.colour.reading import read_colour

    out = Text(f"{summary(palette, found)}\n\n")
    out.append("Take out: " + ", ".join(plain(palette.names[one]) for one in found.pencils))
    out.append(f"\n\n{one_more_words(palette, found)}\n")
    for one in found.reached:
        out.append("\n")
        if swatches and not beyond_screen(one.colour.lab):
            out.append(" " * _CHIP, cell_style(one.colour.lab))
            if not beyond_screen(one.lab):
                out.append(" " * _CHIP, cell_style(one.lab))
            out.append("  ")
        out.append(f"{one.colour.share:.0%} of the photo. {read_colour(one.colour.lab).sentence()}")
        out.append(f"\n{layer_words(palette, one)}\n")
    return out
