"""A page of words under a title, scrolled."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.design.measures import MEASURE
from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.paint import wrapped


class PageScreen(CoachScreen[None]):
    """``title`` and ``words`` as given, with no markup read from them."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,q,enter", "back", "Back")]

    def __init__(self, title: str, words: str) -> None:
        super().__init__()
        self._heading = title
        self._words = "\n".join(
            line if "  " in line else "\n".join(wrapped(line, MEASURE))
            for line in words.split("\n")
        )

    def compose(self) -> ComposeResult:
        yield Static(self._heading, classes="title", markup=False)
        with VerticalScroll():
            yield Static(self._words, id="page", markup=False)
        yield Hints(Hint("↑ ↓", "read on"), Hint("Esc", "back", "back"))

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def action_back(self) -> None:
        self.dismiss()
