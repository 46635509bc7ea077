"""Asking for a pencils file by its path."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.host import HostApp

FORM = """\
A pencils file is CSV (UTF-8). Its first line names the columns: name, and one of hex, lab or \
31 reflectances r400 … r700. These may follow: code, opacity (transparent, semi, opaque; \
colourless for a blender), on_black, lightfastness, notes. Each swatch is firm pressure on white \
drawing paper.

    name,hex,opacity
    My first red,#c33935,semi"""


class PencilFileScreen(CoachScreen[bool]):
    """Dismissed with True once a file's pencils are in use."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def compose(self) -> ComposeResult:
        yield Static("Your pencils", classes="title", markup=False)
        yield Static(FORM, classes="words", markup=False)
        yield Input(placeholder="the file, for example ~/pencils.csv")
        yield Static("", id="trouble", classes="words apart", markup=False)
        yield Hints(Hint("Enter", "use these pencils"), Hint("Esc", "back", "back"))

    def action_back(self) -> None:
        self.dismiss(False)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        path = event.value.strip()
        if not path:
            return
        try:
            self.app.app_state.use(self.app.app_state.load(path))
        except InputError as error:
            self.query_one("#trouble", Static).update(str(error))
        else:
            self.dismiss(True)
