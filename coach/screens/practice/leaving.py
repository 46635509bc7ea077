"""Leaving with answers that are not saved yet: asked first, and said where they are."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from drills.basics.errors import plain

if TYPE_CHECKING:
    from coach.host import HostApp


class LeavingScreen(CoachScreen[None]):
    """Some answers are not in the record: save them, go back, or leave anyway."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("r", "save_again", "Save again"),
        Binding("escape", "back", "Back"),
        Binding("l", "leave", "Leave anyway"),
    ]

    def compose(self) -> ComposeResult:
        yield Static("Not everything is saved", classes="title", markup=False)
        yield Static("", id="why", classes="words", markup=False)
        yield Hints(
            Hint("r", "save again", "save_again"),
            Hint("Esc", "back", "back"),
            Hint("l", "leave anyway", "leave"),
        )

    def on_mount(self) -> None:
        self.fill()

    def fill(self) -> None:
        unsaved = self.app.app_state.unsaved
        count = len(unsaved)
        some = "One answer is" if count == 1 else f"{count} answers are"
        where = (
            f"They wait in {plain(str(unsaved.draft), 200)}, and the coach tries again at the "
            "next start."
            if unsaved.draft is not None
            else "They could not be kept anywhere: if you leave now, they are lost."
        )
        self.query_one("#why", Static).update(
            f"{some} not saved: {unsaved.trouble}.\n"
            "Free some disk space, or close the program that holds the record, then press r.\n\n"
            f"{where}"
        )

    def action_save_again(self) -> None:
        self.app.leave()
        self.fill()

    def action_back(self) -> None:
        self.app.pop_screen()

    def action_leave(self) -> None:
        self.app.exit()
