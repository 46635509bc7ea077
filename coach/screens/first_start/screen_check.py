"""The screen check: 24-bit colour or not, two greys that should differ, and the room itself."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.scene import Scene
from drills.questions.protocol import Swatch

if TYPE_CHECKING:
    from coach.host import HostApp

GREYS = (Swatch((34.0, 0.0, 0.0), "a grey"), Swatch((37.0, 0.0, 0.0), "a slightly lighter one"))
"""Two greys three steps of L* apart: hard on a bad screen, plain on a fair one."""

ADVICE = """\
The right one should be just a little lighter. If you can't see that, raise the brightness or \
face the screen head-on.

Switch off night tint and automatic brightness. Sit so that no lamp shines on the screen and \
no bright colour is near it. The grey around the swatches is there for the same reason.

Look away and rest your eyes now and then. This is practice, not a test of colour vision: if \
colours look strange or have changed for you, see an eye specialist.

Next: two short questions, then a first match laid with these pencils.
Each is first shown solved, so that you see how to look."""


class EyesScreen(CoachScreen[None]):
    """One look, then straight into practice."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "go_on", "Begin"),
        Binding("escape", "app.quit", "Leave"),
    ]

    def compose(self) -> ComposeResult:
        depth = self.app.app_state.depth
        yield Static("A look at your screen", classes="title", markup=False)
        yield Static(f"This terminal: {depth.words}.", classes="words", markup=False)
        if depth.true_colour:
            yield Scene(GREYS)
            yield Static(ADVICE, classes="words", markup=False)
        else:
            yield Static(
                f"\nDrills that judge colour are left out. {depth.remedy}\n\n"
                "Those that need no colour are still asked.",
                classes="words",
                markup=False,
            )
        yield Hints(
            Hint("Enter", "begin", "go_on"),
            Hint("?", "help", "app.help"),
            Hint("Esc", "leave", "app.quit"),
        )

    def action_go_on(self) -> None:
        self.app.begin()
