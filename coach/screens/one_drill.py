"""One drill alone: choose it, and practise nothing else for the minutes set."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints

if TYPE_CHECKING:
    from scores.today.offers import Offers


class OneDrillScreen(CoachScreen["str | None"]):
    """Dismissed with the name of the drill chosen, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,q", "back", "Back")]
    CSS = """
    OneDrillScreen OptionList { height: 1fr; margin: 1 2; background: $background; border: none; }
    """

    def __init__(self, offers: Offers) -> None:
        super().__init__()
        self.offers = offers

    def compose(self) -> ComposeResult:
        yield Static("One drill, and nothing else", classes="title", markup=False)
        yield OptionList(markup=False)
        yield Hints(Hint("↑ ↓ Enter", "practise it"), Hint("Esc", "back", "back"))

    def on_mount(self) -> None:
        options = self.query_one(OptionList)
        asked = {kind for kind, _ in self.offers.pairs}
        for name in sorted(asked, key=lambda name: self.offers.kinds[name].title):
            options.add_option(Option(self.offers.kinds[name].title, id=name))
        options.highlighted = 0
        options.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id)

    def action_back(self) -> None:
        self.dismiss(None)
