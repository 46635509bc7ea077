"""Who is here: asked before anything of anybody's is opened, where several practise."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.types import CSSPathType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.design.measures import FIRST_SHEET, SHEET
from coach.learners import choose, sound_learner
from coach.running.base_app import BaseApp
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from drills.basics.errors import InputError

NAMELESS = "the one without a name"


class WhoApp(BaseApp):
    """Ends with ``answered`` True once a learner is chosen."""

    CSS_PATH: ClassVar[CSSPathType | None] = [FIRST_SHEET, SHEET]
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,ctrl+q", "leave", "Leave"),
        Binding("n", "new", "Somebody new"),
    ]

    def __init__(self, learners: Sequence[str]) -> None:
        super().__init__()
        self.learners = tuple(learners)
        self.answered = False

    def compose(self) -> ComposeResult:
        yield Static("Who is practising?", classes="title", markup=False)
        yield Lines(
            *(Option(name or NAMELESS, id=str(at)) for at, name in enumerate(self.learners)),
            markup=False,
            classes="as-long",
        )
        yield Input(placeholder="the name", classes="-asked")
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("↑ ↓ Enter", "that is me"),
            Hint("n", "somebody new", "app.new"),
            Hint("Esc", "leave", "app.leave"),
        )

    def on_mount(self) -> None:
        options = self.query_one(OptionList)
        options.highlighted = 0
        options.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self._choose(self.learners[int(event.option_id or 0)])

    def on_input_submitted(self, event: Input.Submitted) -> None:
        try:
            self._choose(sound_learner(event.value))
        except InputError as error:
            self.query_one("#trouble", Static).update(str(error))

    def _choose(self, name: str) -> None:
        choose(name)
        self.answered = True
        self.exit()

    def action_new(self) -> None:
        field = self.query_one(Input)
        field.display = True
        field.focus()

    def action_leave(self) -> None:
        self.exit()


def ask_who(learners: Sequence[str]) -> bool:
    """Ask who is practising, and choose them; False where nobody is."""
    app = WhoApp(learners)
    app.run()
    if app.fault is not None:
        raise app.fault
    return app.answered
