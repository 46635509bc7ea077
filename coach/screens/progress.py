"""Progress: how the eye has changed, with what is more than noise told apart from what is not."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static
from textual.worker import get_current_worker

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints

if TYPE_CHECKING:
    from coach.host import HostApp
    from scores.progress.answers import History
    from scores.progress.span import RangeName

WORKING = "Going over the answers …"
"""What stands there until the figures are worked out."""
SECTIONS = {
    "1": "Below,",
    "2": "Each skill:",
    "3": "Families and skills:",
    "4": "Coming due",
    "5": "Minutes of answering",
}
"""Keys that jump to where these words begin a line."""


class ProgressScreen(CoachScreen[None]):
    """The same figures as ``coach progress``, over a range of one's choice."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("w", "over('2 weeks')", "2 weeks"),
        Binding("m", "over('3 months')", "3 months"),
        Binding("y", "over('year')", "Year"),
        Binding("a", "over('all')", "All"),
        Binding("o", "app.one", "One thing"),
        *(Binding(key, f"jump('{key}')", show=False) for key in SECTIONS),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.range: RangeName = "3 months"
        self._history: History | None = None
        self._lines: list[str] = []

    def compose(self) -> ComposeResult:
        yield Static("Progress", id="title", classes="title", markup=False)
        with VerticalScroll():
            yield Static("", id="page", markup=False)
        yield Hints(
            Hint("w", "2 weeks", "over('2 weeks')"),
            Hint("m", "3 months", "over('3 months')"),
            Hint("y", "year", "over('year')"),
            Hint("a", "all", "over('all')"),
            Hint("1–5", "go to a part"),
            Hint("o", "practise one thing", "app.one"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()
        self.fill()

    def fill(self) -> None:
        """Work the figures out, which takes a second after a year of answers, then show them."""
        if not self._lines:
            self.query_one("#page", Static).update(WORKING)
        self._work_out(self.range)

    @work(thread=True, exclusive=True)
    def _work_out(self, name: RangeName) -> None:
        from coach.reports.progress_figures import figures
        from coach.reports.progress_words import page
        from scores.progress.answers import read_history
        from scores.record.failures import FAILURES, reason

        app_state, worker = self.app.app_state, get_current_worker()
        try:
            history = self._history or read_history(app_state.record)
            made = figures(
                app_state.record,
                app_state.clock(),
                name,
                history=history,
                eye=app_state.eye.model,
            )
        except FAILURES as error:
            lines = ["Progress", f"The record: {reason(error)}. coach doctor"]
        else:
            self._history = history
            lines = list(page(made))
        if not worker.is_cancelled:
            self.app.call_from_thread(self._show, name, lines)

    def _show(self, name: RangeName, lines: Sequence[str]) -> None:
        # Meanwhile another range may have been asked for, or another screen.
        if name != self.range or not self.is_attached:
            return
        title, *self._lines = lines
        self.query_one("#title", Static).update(f"{title} ({name})")
        self.query_one("#page", Static).update("\n".join(self._lines))

    def action_over(self, name: RangeName) -> None:
        self.range = name
        self.fill()
        self.query_one(VerticalScroll).scroll_home(animate=False)

    def action_jump(self, key: str) -> None:
        starts = SECTIONS[key]
        for at, line in enumerate(self._lines):
            if line.startswith(starts):
                scroll = self.query_one(VerticalScroll)
                self.call_after_refresh(scroll.scroll_to, y=at, animate=False)
                return

    def action_back(self) -> None:
        self.dismiss()
