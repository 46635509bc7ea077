"""A teacher's reply: the colours it is about, the note, what to lay."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.teaching.replies_kept import ReplyKept, mark_read, replies_in, reply_words
from coach.widgets.hints import Hint, Hints
from coach.widgets.scene import Scene
from drills.basics.days import date_text
from drills.basics.errors import InputError
from drills.questions.protocol import Swatch

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.teaching.reply import Reply


class ReplyScreen(CoachScreen[None]):
    """The replies kept, the latest first."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,enter", "back", "Back"),
        Binding("left", "other(1)", "An older one"),
        Binding("right", "other(-1)", "A newer one"),
        Binding("c", "plan", "Plan it"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.kept: tuple[ReplyKept, ...] = ()
        self.at = 0

    def compose(self) -> ComposeResult:
        yield Static("", id="title", classes="title", markup=False)
        yield Scene()
        with VerticalScroll():
            yield Static("", id="words", markup=False)
        yield Hints()

    def on_mount(self) -> None:
        record = self.app.app_state.record
        self.kept = replies_in(record)
        try:
            mark_read(record)
        except InputError as error:
            self.app.app_state.say(str(error))
        self.query_one(VerticalScroll).focus()
        self.fill()

    def fill(self) -> None:
        one = self.kept[self.at]
        reply = one.reply
        self.query_one("#title", Static).update(f"A reply, {date_text(one.at.date())}")
        self.query_one("#words", Static).update("\n".join(reply_words(reply)))
        scene = self.query_one(Scene)
        scene.swatches = swatches_of(reply) if self.app.app_state.depth.true_colour else ()
        scene.display = bool(scene.swatches)
        others = (Hint("← →", "older, newer"),) if len(self.kept) > 1 else ()
        plan = (Hint("c", "plan it", "plan"),) if reply.wanted is not None else ()
        self.query_one(Hints).hints = (
            Hint("↑ ↓", "read on"),
            *plan,
            *others,
            Hint("Esc", "back", "back"),
        )

    def action_other(self, by: int) -> None:
        self.at = min(len(self.kept) - 1, max(0, self.at + by))
        self.fill()

    def action_plan(self) -> None:
        wanted = self.kept[self.at].reply.wanted
        if wanted is not None and self.app.app_state.ready_for is not None:
            self.app.plan_for(wanted)

    def action_back(self) -> None:
        self.dismiss()


def swatches_of(reply: Reply) -> tuple[Swatch, ...]:
    """What was wanted, what came, and what the last step should come to."""
    last = reply.steps[-1].lab if reply.steps else None
    told = ((reply.wanted, "wanted"), (reply.got, "came"), (last, "after the steps"))
    return tuple(Swatch(lab, label) for lab, label in told if lab is not None)
