"""Which layers a patch has, written as one would say them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from drills.hand.patch import Recipe
    from drills.pencils.pencil import PencilSet

HOW = (
    "Write its layers in order, parted by semicolons: a pencil by name or code, and lightly, "
    "middle or firmly; “blend” for the colourless blender. End with “on black” if it is."
)
_ON_BLACK = re.compile(r"[\s,;]*\bon black(?: paper)?\s*$", re.I)


class MovesScreen(CoachScreen["Recipe | None"]):
    """Dismissed with the layers of a patch, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def __init__(self, pencil_set: PencilSet) -> None:
        super().__init__()
        self.pencil_set = pencil_set

    def compose(self) -> ComposeResult:
        names = [one.name for one in self.pencil_set.pencils if not one.is_blender][:2]
        example = f"{names[0]} lightly; {names[-1]} firmly"
        yield Static("A patch of your own", classes="title", markup=False)
        yield Static(HOW, classes="words", markup=False)
        yield Input(placeholder=example)
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(Hint("Enter", "take"), Hint("Esc", "back", "back"))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        try:
            self.dismiss(patch_recipe(self.pencil_set, event.value))
        except InputError as error:
            self.query_one("#trouble", Static).update(str(error))

    def action_back(self) -> None:
        self.dismiss(None)


def patch_recipe(pencil_set: PencilSet, text: str) -> Recipe:
    """The recipe of a patch as written. Raises InputError."""
    from drills.hand.patch import Recipe
    from drills.planning.mending.laid_moves import laid_moves

    black = _ON_BLACK.search(text)
    moves = laid_moves(pencil_set, _ON_BLACK.sub("", text))
    if not any(move.action == "lay" for move in moves):
        raise InputError("the patch", "no layer of colour is named", "Name a pencil and how hard.")
    if any(move.action == "lay" and pencil_set.pencils[move.pencil].is_blender for move in moves):
        raise InputError("the patch", "a blender has no colour to lay", "Write: blend.")
    try:
        return Recipe(moves, "black" if black else "white")
    except ValueError as error:
        raise InputError("the patch", str(error), "Write fewer or other layers.") from error
