"""Progress: how the eye has changed, with what is more than noise told apart from what is not."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints

if TYPE_CHECKING:
    from coach.host import HostApp
    from scores.progress.answers import History
    from scores.progress.span import RangeName

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
    CSS = """
    ProgressScreen #title { height: 2; }
    ProgressScreen VerticalScroll { padding: 0 1; scrollbar-size-vertical: 1; }
    ProgressScreen #page { text-wrap: nowrap; width: auto; }
    """

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
        from coach.reports.progress_figures import figures
        from coach.reports.progress_words import page
        from scores.progress.answers import read_history
        from scores.record.failures import FAILURES, reason

        app_state = self.app.app_state
        try:
            self._history = self._history or read_history(app_state.record)
            made = figures(
                app_state.record,
                app_state.clock(),
                self.range,
                history=self._history,
                eye=app_state.eye.model,
            )
        except FAILURES as error:
            self.query_one("#page", Static).update(f"The record: {reason(error)}. coach doctor")
            return
        title, *self._lines = page(made)
        self.query_one("#title", Static).update(f"{title} ({self.range})")
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
