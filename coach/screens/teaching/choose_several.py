"""Some of a list: marked and unmarked with Enter."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from coach.widgets.paint import shortened


class ChooseScreen(CoachScreen["tuple[str, ...] | None"]):
    """Dismissed with the names marked, in the order they were ``offered`` (name to words);
    ``more`` is said of the one that is looked at."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("space", "mark", "Mark"),
    ]

    def __init__(
        self,
        title: str,
        about: str,
        offered: Mapping[str, str],
        marked: Collection[str],
        more: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__()
        self._heading = title
        self._about = about
        self.offered = dict(offered)
        # One that isn't to be had here stays unless it is taken off.
        self.offered |= {name: name for name in marked if name not in self.offered}
        self.marked = set(marked)
        self.more = more or {}

    def compose(self) -> ComposeResult:
        yield Static(self._heading, classes="title", markup=False)
        yield Static(self._about, classes="words", markup=False)
        yield Lines(markup=False)
        yield Static("", id="more", classes="words", markup=False)
        yield Hints(Hint("↑ ↓", "look"), Hint("Enter", "mark", "mark"), Hint("Esc", "done", "back"))

    def on_mount(self) -> None:
        self.query_one(OptionList).focus()

    def on_resize(self) -> None:
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        options.clear_options()
        options.add_options(Option(self._words(name), id=name) for name in self.offered)
        options.highlighted = at

    def _words(self, name: str) -> str:
        mark = "●" if name in self.marked else "○"
        return shortened(f"{mark} {self.offered[name]}", max(20, self.size.width - 8))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        self.query_one("#more", Static).update(self.more.get(event.option_id or "", ""))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        name = event.option_id or ""
        self.marked ^= {name}
        event.option_list.replace_option_prompt(name, self._words(name))

    def action_mark(self) -> None:
        self.query_one(OptionList).action_select()

    def action_back(self) -> None:
        self.dismiss(tuple(name for name in self.offered if name in self.marked))
