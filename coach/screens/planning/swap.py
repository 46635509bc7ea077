"""Another pencil in one move's place: every pencil with what would become of the result."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines

if TYPE_CHECKING:
    from drills.layering.moves import Move
    from drills.layering.palette import Palette
    from drills.questions.protocol import Lab


class SwapScreen(CoachScreen["int | None"]):
    """Dismissed with the place of the pencil chosen, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def __init__(self, palette: Palette, moves: tuple[Move, ...], at: int, target: Lab) -> None:
        super().__init__()
        self.palette = palette
        self.moves = moves
        self.at = at
        self.target = target

    def compose(self) -> ComposeResult:
        yield Static(
            f"Move {self.at + 1}: another pencil in its place, best first",
            classes="title",
            markup=False,
        )
        yield Lines(markup=False)
        yield Hints(Hint("↑ ↓ Enter", "take"), Hint("Esc", "back", "back"))

    def on_mount(self) -> None:
        options = self.query_one(OptionList)
        for pencil, off in outcomes(self.palette, self.moves, self.at, self.target):
            words = f"ΔE00 {off:5.1f}   {self.palette.names[pencil]}"
            if pencil == self.moves[self.at].pencil:
                words += "   (as it is)"
            options.add_option(Option(words, id=str(pencil)))
        options.highlighted = 0
        options.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(int(event.option_id or 0))

    def action_back(self) -> None:
        self.dismiss(None)


def outcomes(
    palette: Palette, moves: tuple[Move, ...], at: int, target: Lab
) -> list[tuple[int, float]]:
    """Each coloured pencil with the ΔE00 it would leave in that move's place, best first."""
    from drills.colour.difference import delta_e00
    from drills.layering.predict import predict_many

    colours = [int(i) for i in palette.at_hand]
    recipes = [
        [replace(move, pencil=pencil) if i == at else move for i, move in enumerate(moves)]
        for pencil in colours
    ]
    off = delta_e00(predict_many(palette, recipes), target)
    return sorted(zip(colours, off.tolist(), strict=True), key=lambda pair: pair[1])
