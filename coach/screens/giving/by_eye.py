"""A colour held beside the screen, matched by eye: set two or three times, from elsewhere each."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.widgets.adjusting_swatch import AdjustingSwatch, hints
from coach.widgets.hints import Hint, Hints
from drills.questions.adjusting import Matched, matched, start_near

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.questions.protocol import Lab

LEAST, MOST = 2, 3
"""Settings asked for: a third where two lie apart."""
APART = 4.0
"""ΔE00 between two settings from which a third is asked for; our estimate."""
MIDDLE: Lab = (60.0, 12.0, 12.0)
HOW = (
    "Hold it against the screen, in the light you draw by, and turn off what tints the screen at "
    "night. Move the swatch until the two look alike; look away now and then, and stop when "
    "your eyes tire."
)
AGAIN = "Once more, from another start: two settings say how sure your eye is."
APART_WORDS = "These two lie well apart. A third time settles it."
NO_COLOUR = "This terminal can't show 24-bit colour, so nothing can be matched on it."


class ByEyeScreen(CoachScreen[Matched | None]):
    """Dismissed with the colour matched, or None.

    ``what`` is what is matched ("your patch"); ``near`` a colour it is likely to be near.
    """

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def __init__(self, what: str, near: Lab | None, seed: int) -> None:
        super().__init__()
        self.what = what
        self.near = near
        self.settings: tuple[Lab, ...] = ()
        self._rng = random.Random(seed)

    def compose(self) -> ComposeResult:
        yield Static(f"By eye: {self.what}", classes="title", markup=False)
        yield Static(HOW, id="how", classes="words", markup=False)
        yield AdjustingSwatch()
        yield Static("", id="count", classes="words apart", markup=False)
        yield Hints(*hints(), Hint("Esc", "back", "back"))

    def on_mount(self) -> None:
        if not self.app.app_state.depth.true_colour:
            self.query_one("#how", Static).update(NO_COLOUR)
            self.query_one(AdjustingSwatch).display = False
            self.query_one(Hints).hints = (Hint("Esc", "back", "back"),)
            return
        self._begin(self.near or MIDDLE, "")

    def _begin(self, near: Lab, words: str) -> None:
        swatch = self.query_one(AdjustingSwatch)
        swatch.fine = False
        swatch.setting = start_near(near, self._rng)
        swatch.focus()
        place = f"Setting {len(self.settings) + 1}."
        self.query_one("#count", Static).update(f"{place} {words}".rstrip())

    def on_adjusting_swatch_moved(self) -> None:
        swatch = self.query_one(AdjustingSwatch)
        steps = "Fine steps." if swatch.fine else ""
        self.query_one("#count", Static).update(
            f"Setting {len(self.settings) + 1}. {steps}".rstrip()
        )

    def action_steps(self) -> None:
        self.query_one(AdjustingSwatch).action_steps()

    def action_equal(self) -> None:
        self.query_one(AdjustingSwatch).action_equal()

    def on_adjusting_swatch_equal(self, message: AdjustingSwatch.Equal) -> None:
        self.settings = (*self.settings, message.lab)
        found = matched(self.settings)
        if len(self.settings) < LEAST:
            self._begin(message.lab, AGAIN)
        elif len(self.settings) < MOST and _apart(self.settings) > APART:
            self._begin(found.lab, APART_WORDS)
        else:
            self.dismiss(found)

    def action_back(self) -> None:
        self.dismiss(None)


def _apart(settings: tuple[Lab, ...]) -> float:
    from drills.colour.difference import delta_e00

    return float(delta_e00(settings[0], settings[1]))
