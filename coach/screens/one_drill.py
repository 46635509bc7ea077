"""One thing alone: a drill, a family or a colour wished for, and nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from scores.skill.skill_words import WHEEL, region_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from scores.today.offers import Offers
    from scores.today.wishes import Wish


class OneDrillScreen(CoachScreen["str | None"]):
    """Dismissed with what was chosen (see ``coach.session.own_skills.only``), or None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,q", "back", "Back")]

    def __init__(self, offers: Offers, wishes: Sequence[Wish] = ()) -> None:
        super().__init__()
        self.offers = offers
        self.wishes = wishes

    def compose(self) -> ComposeResult:
        yield Static("One thing, and nothing else", classes="title", markup=False)
        yield Lines(markup=False)
        yield Hints(Hint("↑ ↓ Enter", "practise it"), Hint("Esc", "back", "back"))

    def on_mount(self) -> None:
        options = self.query_one(OptionList)
        asked = {kind for kind, _ in self.offers.pairs}
        for name in sorted(asked, key=lambda name: self.offers.kinds[name].title):
            options.add_option(Option(self.offers.kinds[name].title, id=name))
        regions = {region for _, region in self.offers.pairs}
        for family in (family for family in WHEEL if family in regions):
            words = f"Everything in {region_words(family)}"
            options.add_option(Option(words, id=f"family:{family}"))
        for number, wish in enumerate(self.wishes, 1):
            words = f"A colour you wished for: {wish.words}"
            options.add_option(Option(words, id=f"wish:{number}"))
        options.highlighted = 0
        options.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id)

    def action_back(self) -> None:
        self.dismiss(None)
