"""One pencil's name, code, opacity and lightfastness."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Label, Static

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from drills.basics.errors import InputError
from drills.pencils.pencil import Lightfastness, Opacity, Pencil

FIELDS = {
    "name": "Name",
    "code": "Code, as on its barrel",
    "opacity": "Opacity: transparent, semi or opaque (colourless for a blender)",
    "lightfastness": "Lightfastness, ASTM D6901 class I to V, if you know it",
}


class PencilDetailsScreen(CoachScreen[bool]):
    """Asks for the details of ``pencil``; ``keep`` takes what is written, or raises InputError.

    Dismissed with True once it is kept.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def __init__(self, pencil: Pencil, keep: Callable[[Pencil], None], title: str) -> None:
        super().__init__()
        self.pencil = pencil
        self.keep = keep
        self.heading = title

    def compose(self) -> ComposeResult:
        yield Static(self.heading, classes="title", markup=False)
        for name, words in FIELDS.items():
            yield Label(words, classes="words", markup=False)
            yield Input(str(getattr(self.pencil, name)), id=name)
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(Hint("Tab", "next field"), Hint("Enter", "keep"), Hint("Esc", "back", "back"))

    def on_mount(self) -> None:
        self.query_one("#name", Input).focus()

    def on_input_submitted(self) -> None:
        name, code, opacity, light = (self.query_one(f"#{key}", Input).value for key in FIELDS)
        # Whatever is written: the reader of pencils files, which ``keep`` asks, knows what may be.
        written = replace(
            self.pencil,
            name=name,
            code=code,
            opacity=cast(Opacity, opacity),
            lightfastness=cast(Lightfastness, light),
        )
        try:
            self.keep(written)
        except InputError as error:
            self.query_one("#trouble", Static).update(str(error))
        else:
            self.dismiss(True)

    def action_back(self) -> None:
        self.dismiss(False)
