"""This screen: those known by name, which one is looked at now, and how to make one known."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from rich.cells import set_cell_size
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, OptionList, Static

from coach.screens.base import CoachScreen
from coach.terminal import in_browser
from coach.this_screen.kept import (
    LONGEST_NAME,
    Known,
    keep,
    look_at,
    screens_of,
    take_out,
)
from coach.this_screen.words import ABOUT, IN_BROWSER, NOTHING, advice, how_words
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from drills.basics.errors import InputError
from scores.record.record import NotSavedError

if TYPE_CHECKING:
    from coach.host import HostApp


class DisplayScreen(CoachScreen[None]):
    """A list of screens; Enter looks at one from now on."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("m", "measure", "Measure"),
        Binding("w", "wide", "Wider than sRGB"),
        Binding("i", "profile", "Profile"),
        Binding("x", "take_out", "Take out"),
        Binding("escape,q", "back", "Back"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.found: Known | None = None
        self.in_browser = in_browser()

    def compose(self) -> ComposeResult:
        yield Static("This screen", classes="title", markup=False)
        yield Static(ABOUT, classes="words", markup=False)
        yield Lines(markup=False)
        yield Input(max_length=400, classes="-asked")
        yield Static("", id="trouble", classes="words", markup=False)
        profile = () if self.in_browser else (Hint("i", "from its profile", "profile"),)
        yield Hints(
            Hint("Enter", "look at it now"),
            Hint("m", "measure by eye", "measure"),
            *profile,
            Hint("w", "wider than sRGB, uncorrected", "wide"),
            Hint("x", "take out", "take_out"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.fill()
        self.query_one(OptionList).focus()

    def fill(self) -> None:
        screens = screens_of(self.app.app_state.record)
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        lines = [("", NOTHING), *((name, how_words(one)) for name, one in screens.known)]
        options.clear_options()
        for name, words in lines:
            mark = "▸" if name == (screens.active if screens.now else "") else " "
            options.add_option(f"{mark} {set_cell_size(name or '—', LONGEST_NAME)} {words}")
        self.names = [name for name, _ in lines]
        options.highlighted = min(at, len(lines) - 1)
        told = advice(screens.now) if screens.now else ""
        self.say(f"{told} {IN_BROWSER if self.in_browser else ''}".strip())

    def say(self, words: str) -> None:
        self.query_one("#trouble", Static).update(words)

    def changed(self) -> None:
        """Paint and ask by what is known now."""
        app_state = self.app.app_state
        app_state.see_by()
        made = app_state.ready_for
        if made is not None and made.palette.screen_known != app_state.screen_known:
            self.app.make_ready()
        self.fill()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._try(lambda: look_at(self.app.app_state.record, self.names[event.option_index]))

    def action_measure(self) -> None:
        from coach.screens.display.match import MatchScreen

        self.app.push_screen(MatchScreen(), self._ask_name)

    def action_wide(self) -> None:
        self._ask_name(Known("wide"))

    def action_profile(self) -> None:
        if not self.in_browser:
            self.found = None
            self._ask("The profile's file (.icc, .icm)", "")

    def _ask_name(self, found: Known | None) -> None:
        if found is not None:
            self.found = found
            self._ask("A name for this screen, such as: desk", "this screen")

    def _ask(self, placeholder: str, value: str) -> None:
        field = self.query_one(Input)
        field.placeholder, field.value, field.display = placeholder, value, True
        self.say(placeholder + ". Enter keeps it; Esc leaves it.")
        field.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        found, name = self.found, event.value
        if found is None:
            from coach.this_screen.profile import read_profile

            try:
                found, name = read_profile(event.value), Path(event.value).stem[:LONGEST_NAME]
            except InputError as error:
                self.say(str(error))
                return
        if self._try(lambda: keep(self.app.app_state.record, name, found)):
            self._close_field()

    def action_take_out(self) -> None:
        at = self.query_one(OptionList).highlighted
        if at:
            self._try(lambda: take_out(self.app.app_state.record, self.names[at]))

    def action_back(self) -> None:
        if self.query_one(Input).display:
            self._close_field()
            self.fill()
        else:
            self.dismiss()

    def _close_field(self) -> None:
        self.query_one(Input).display = False
        self.query_one(OptionList).focus()

    def _try(self, change: Callable[[], None]) -> bool:
        try:
            change()
        except (InputError, NotSavedError) as error:
            self.say(f"Not kept: {error}")
            return False
        self.changed()
        return True
