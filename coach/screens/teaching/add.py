"""A file from a teacher: choose it, read what it changes, take it in."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.teaching.coming import Coming

ENDINGS = (".deck.toml", ".course.toml", ".reply.json")
MOST = 12
"""Files offered, the newest first."""
ABOUT = (
    "Your teacher's file ends in .deck.toml, .course.toml or .reply.json."
    " Choose it, or write where it is."
)


class AddScreen(CoachScreen[bool]):
    """Dismissed with True once something was taken in."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def __init__(self) -> None:
        super().__init__()
        self.coming: Coming | None = None
        self.files: list[Path] = []

    def compose(self) -> ComposeResult:
        yield Static("Work from your teacher", classes="title", markup=False)
        yield Static(ABOUT, classes="words", markup=False)
        yield Lines(markup=False)
        yield Input(placeholder="the file, for example ~/Downloads/greens.deck.toml")
        with VerticalScroll(can_focus=False):
            yield Static("", id="told", markup=False)
        yield Hints()

    def on_mount(self) -> None:
        self.files = files_about((Path.cwd(), Path.home() / "Downloads"))
        options = self.query_one(OptionList)
        options.display = bool(self.files)
        for at, file in enumerate(self.files):
            options.add_option(Option(plain(str(file), 200), id=str(at)))
        if self.files:
            options.highlighted = 0
            options.focus()
        else:
            self.query_one(Input).focus()
        self._hint("look at it")

    def _hint(self, what: str) -> None:
        tab = (Hint("Tab", "list or path"),) if self.files else ()
        self.query_one(Hints).hints = (Hint("Enter", what), *tab, Hint("Esc", "back", "back"))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._take(str(self.files[int(event.option_id or 0)]))

    def on_option_list_option_highlighted(self) -> None:
        self._forget()

    def on_input_changed(self) -> None:
        self._forget()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        if event.value.strip():
            self._take(event.value.strip())

    def _forget(self) -> None:
        """Another file is looked at: what was told is told no more."""
        if self.coming is not None:
            self.coming = None
            self._say("")
            self._hint("look at it")

    def _take(self, path: str) -> None:
        """Tell what the file brings, and the second time take it in."""
        from coach.teaching.coming import looked_in

        app_state = self.app.app_state
        try:
            if self.coming is None:
                found = looked_in(app_state.record, path, app_state.clock())
                self._say("\n".join(found.words))
                if found.new:
                    self.coming = found
                    self._hint("add it")
                return
            app_state.say(self.coming.take_in(app_state.record, app_state.clock()))
        except InputError as error:
            self._say(str(error))
            return
        self.dismiss(True)

    def _say(self, words: str) -> None:
        self.query_one("#told", Static).update(words)

    def action_back(self) -> None:
        self.dismiss(False)


def files_about(folders: tuple[Path, ...], endings: tuple[str, ...] = ENDINGS) -> list[Path]:
    """Files in these folders that end so, the newest first."""
    found: dict[Path, float] = {}
    for folder in folders:
        try:
            with os.scandir(folder) as entries:
                for entry in entries:
                    if entry.name.endswith(endings) and entry.is_file():
                        found[Path(entry.path)] = entry.stat().st_mtime
        except OSError:
            continue
    return sorted(found, key=lambda path: (-found[path], path.name))[:MOST]
