"""The first start: whose pencils, and can this screen be trusted with colour?"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.widgets.choices import Choices
from coach.widgets.hints import Hint, Hints
from drills.questions.protocol import Ask, Choice

if TYPE_CHECKING:
    from coach.host import HostApp

WELCOME = """\
This coach trains your eye and your hand: to name a colour's family and lean, to see how \
light and how dull it is, and to know which of your own pencils make it, in what \
order and how hard to press.

Ten minutes before drawing is enough. What you miss comes back sooner; what you know, later.

Whose pencils shall we practise with?"""

SETS = Ask(
    "",
    (
        Choice("demo", "the demo set: 36 invented pencils"),
        Choice("pocket", "the pocket set: 12 invented pencils"),
        Choice("file", "my own, from a file (CSV: name and hex, lab or reflectance)"),
    ),
)


class WelcomeScreen(CoachScreen[None]):
    """Choose the pencils."""

    app: HostApp

    # Shown first: the rest of the sheet is read once it stands.
    CSS_PATH = None
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("k", "class", "Class"),
        Binding("escape", "app.quit", "Leave"),
    ]

    def compose(self) -> ComposeResult:
        yield Static("Welcome", classes="title", markup=False)
        yield Static(WELCOME, classes="words", markup=False)
        yield Choices()
        yield Static(self.app.app_state.notice, id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("1–3", "choose"),
            Hint("Enter", "choose the marked one"),
            Hint("k", "I teach: the class", "class"),
            Hint("?", "help", "app.help"),
            Hint("Esc", "leave", "app.quit"),
        )

    def on_mount(self) -> None:
        choices = self.query_one(Choices)
        choices.asked = SETS
        choices.cursor = 0
        choices.focus()

    def action_class(self) -> None:
        """A teacher needs no pencils to see what students sent."""
        from coach.screens.classroom import ClassroomScreen

        if self.is_current:
            self.app.push_screen(ClassroomScreen())

    def on_choices_replied(self, message: Choices.Replied) -> None:
        from coach.screens.first_start.pencil_file import PencilFileScreen

        if not self.is_current:
            # The second of two presses: the first has been acted on.
            return
        if message.reply == ("file",):
            self.app.push_screen(PencilFileScreen(), self._used)
            return
        from drills.pencils.sets import demo_set, pocket_set

        self.app.app_state.use(demo_set() if message.reply == ("demo",) else pocket_set())
        self._used(True)

    def _used(self, used: bool | None) -> None:
        if used:
            from coach.screens.first_start.screen_check import EyesScreen

            self.app.make_ready()
            self.app.go(EyesScreen())
