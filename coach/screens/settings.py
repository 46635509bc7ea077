"""Settings: a line each, turned over with Enter."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.cells import set_cell_size
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.settings import all_settings, turn, withheld_words
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from scores.record.record import NotSavedError

if TYPE_CHECKING:
    from coach.host import HostApp

ABOUT = """\
Colour vision: where hue families look alike to you, drills that ask for their hue are left \
out, by a published model of colour-vision weakness. It is no test and no diagnosis."""


class SettingsScreen(CoachScreen[None]):
    """What is asked, and how."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("m", "app.open('display')", "This screen"),
    ]

    def compose(self) -> ComposeResult:
        yield Static("Settings", classes="title", markup=False)
        yield Lines(markup=False)
        yield Static(ABOUT, id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("↑ ↓", "look through"),
            Hint("Enter", "change"),
            Hint("m", "this screen", "app.open('display')"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.fill()
        self.query_one(OptionList).focus()

    def fill(self) -> None:
        options = self.query_one(OptionList)
        made = self.app.app_state.ready_for
        if made is None:
            self.query_one("#trouble", Static).update("The pencils are not ready yet.")
            return
        at = options.highlighted or 0
        options.clear_options()
        options.add_options(
            Option(f"{set_cell_size(one.words, 44)} {one.state}", id=one.key)
            for one in all_settings(self.app.app_state.record, made.offers)
        )
        options.highlighted = min(at, options.option_count - 1)
        withheld = withheld_words(self.app.app_state.record, made.offers)
        self.query_one("#trouble", Static).update(f"{ABOUT}\n{withheld}".rstrip())

    def on_host_app_pencils_ready(self) -> None:
        self.fill()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        made = self.app.app_state.ready_for
        if made is None or event.option_id is None:
            return
        try:
            turn(self.app.app_state.record, event.option_id, made.offers)
            self.size_things()
        except NotSavedError as error:
            self.query_one("#trouble", Static).update(f"Not kept: {error}")
        else:
            self.fill()

    def action_back(self) -> None:
        self.dismiss()
