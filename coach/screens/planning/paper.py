"""One colour to lay with real pencils: its plan, and then what came of it."""

from __future__ import annotations

from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.widgets import Input

from coach.screens.plan import PlanScreen
from coach.widgets.hints import Hint
from drills.questions.protocol import Lab
from scores.progress.on_paper import results
from scores.today.paper_task import is_laid

HOW = (
    "Lay it on a scrap of your paper, one move at a time, and look after each. ← → go through "
    "the moves. Enter, once the last is laid, asks what came: by eye, from a photo or in words. "
    "It waits for you, so close this meanwhile if you like."
)
CHOOSING = "Choosing a colour that your pencils can mix…"
NOT_READY = "Your pencils are being made ready…"
NONE = "These pencils mix no colour of their own. In the plan (c) you can type one."


class PaperScreen(PlanScreen):
    """A plan for a colour that the coach chooses; it stays the same until it is laid."""

    HEADING = "On paper: one colour"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "laid", "It is laid"),
        Binding("n", "another", "Another colour"),
    ]

    def hints(self) -> tuple[Hint, ...]:
        return (
            Hint("← →", "step", "step(1)"),
            Hint("Enter", "it is laid: what came", "laid"),
            Hint("n", "another colour", "another"),
            Hint("a", "next way", "other"),
            Hint("s", "swap", "swap"),
            Hint("p", "print", "page"),
            Hint("d", "why", "details"),
            Hint("g", "grain", "grain"),
            Hint("k", "ask a teacher", "ask"),
            Hint("PgDn", "read on", "read(1)"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.query_one(Input).display = False
        self._choose(False)

    def on_host_app_pencils_ready(self) -> None:
        if self.plan is None:
            self._choose(False)

    def _choose(self, another: bool) -> None:
        if self.app.app_state.ready_for is None:
            self._say(NOT_READY)
            return
        self._say(CHOOSING)
        self._find(self.app.app_state.new_seed(), another)

    @work(thread=True, exclusive=True)
    def _find(self, seed: int, another: bool) -> None:
        from coach.session.paper_task import task

        state = self.app.app_state
        assert state.ready_for is not None
        self.app.call_from_thread(self._found, task(state.record, state.ready_for, seed, another))

    def _found(self, target: Lab | None) -> None:
        from coach.session.paper_task import keep_task

        if target is None:
            self._say(NONE)
            return
        trouble = keep_task(self.app.app_state.record, target)
        if trouble:
            self.app.app_state.say(f"The colour to lay was not kept: {trouble}.")
        self.aim(target)

    def said_first(self) -> list[str]:
        return [HOW]

    def action_laid(self) -> None:
        """The moves up to the marked one are laid: ask what came."""
        self.action_mend()

    def action_another(self) -> None:
        if self.plan is not None:
            self._choose(True)

    # These are of a plan for a colour of one's own.

    def action_target(self) -> None: ...

    def action_by_eye(self) -> None: ...

    def action_surprise(self) -> None: ...

    def gone_on(self, _: None) -> None:
        """Back from what came: done, once a swatch of this colour is laid to its end."""
        laid = [one.target for one in results(self.app.app_state.record)]
        if self.plan is not None and is_laid(self.plan.target, laid):
            self.dismiss()
