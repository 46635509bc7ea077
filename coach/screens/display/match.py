"""A measured look at the screen, about two minutes: two matches, black, white, evenness."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.screens.display.pattern import Pattern, Squares
from coach.this_screen.kept import DARK, LIGHT, Known
from coach.widgets.hints import Hint, Hints
from drills.screen.matching import GreyMatch, agreed, start

if TYPE_CHECKING:
    from coach.host import HostApp

MATCH = """\
Step back two or three metres, or half close your eyes, until the pattern is one even grey. Move \
the grey in the middle until it can't be told from it: first how light, then the tint."""
AGAIN = "Once more, from the other side."
APART = "The two matches lie too far apart, or where no screen is. Once more, please."
SQUARES = "How many squares do you see on {}? Come close; press 0 to {}."
EVEN = """\
All of this grey should look alike, middle and corners, as you sit before it. Does it? y or n"""
COUNT = len(DARK)
ARROWS = (
    Hint("↑ ↓", "lighter, darker"),
    Hint("← →", "greener, pinker"),
    Hint("- +", "yellower, bluer"),
    Hint("Enter", "they are equal", "equal"),
    Hint("Esc", "leave it", "leave"),
)


class MatchScreen(CoachScreen[Known | None]):
    """Gives what was found, or None where it was left."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move(1, 1, 1)", "Lighter", show=False),
        Binding("down", "move(-1, -1, -1)", "Darker", show=False),
        Binding("left", "move(0, 1, 0)", "Greener", show=False),
        Binding("right", "move(0, -1, 0)", "Pinker", show=False),
        Binding("plus,equals_sign", "move(0, 0, 1)", "Bluer", show=False),
        Binding("minus,underscore", "move(0, 0, -1)", "Yellower", show=False),
        Binding("enter", "equal", "They are equal", show=False),
        Binding("escape", "leave", "Leave it", show=False),
        *(Binding(str(n), f"seen({n})", show=False) for n in range(COUNT + 1)),
        Binding("y", "even(1)", show=False),
        Binding("n", "even(0)", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.matches: list[GreyMatch] = []
        self.now = start(lighter=True)
        self.powers: tuple[float, float, float] | None = None
        self.told: list[int] = []

    def compose(self) -> ComposeResult:
        yield Static("A measured look at this screen", classes="title", markup=False)
        yield Static(MATCH, classes="words", id="asked", markup=False)
        yield Pattern()
        yield Squares()
        yield Hints(*ARROWS)

    def on_mount(self) -> None:
        self.query_one(Pattern).levels = self.now.levels

    def action_move(self, red: int, green: int, blue: int) -> None:
        if self.powers is None:
            self.now = self.now.moved(red, green, blue)
            self.query_one(Pattern).levels = self.now.levels

    def action_equal(self) -> None:
        if self.powers is not None:
            return
        self.matches.append(self.now)
        if len(self.matches) == 1:
            self._begin(AGAIN, lighter=False)
            return
        self.powers = agreed(self.matches)
        if self.powers is None:
            self.matches.clear()
            self._begin(APART, lighter=True)
            return
        self.query_one(Pattern).display = False
        self.query_one(Squares).display = True
        self._ask_squares(0, DARK, "black")

    def _begin(self, words: str, lighter: bool) -> None:
        self.now = start(lighter)
        self.query_one(Pattern).levels = self.now.levels
        self.query_one("#asked", Static).update(f"{words} {MATCH}")

    def _ask_squares(self, ground: int, levels: tuple[int, ...], name: str) -> None:
        squares = self.query_one(Squares)
        squares.ground, squares.levels = ground, levels
        self.query_one("#asked", Static).update(SQUARES.format(name, COUNT))
        self.query_one(Hints).hints = (
            Hint(f"0–{COUNT}", "squares seen"),
            Hint("Esc", "leave it", "leave"),
        )

    def action_seen(self, count: int) -> None:
        if self.powers is None or len(self.told) >= 2:
            return
        self.told.append(count)
        if len(self.told) == 1:
            self._ask_squares(255, LIGHT, "white")
            return
        squares = self.query_one(Squares)
        squares.ground, squares.levels = 128, ()
        squares.styles.max_width = "100%"
        self.query_one("#asked", Static).update(EVEN)
        self.query_one(Hints).hints = (
            Hint("y", "even", "even(1)"),
            Hint("n", "not even", "even(0)"),
            Hint("Esc", "leave it", "leave"),
        )

    def action_even(self, even: int) -> None:
        if self.powers is not None and len(self.told) == 2:
            self.dismiss(Known("by eye", powers=self.powers, told=(*self.told, even)))

    def action_leave(self) -> None:
        self.dismiss(None)
