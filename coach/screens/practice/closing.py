"""The end of a session: what improved, what comes back and when."""

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
    from coach.session.session import Session
    from coach.session.summary import PractisedSkill, Summary


class ClosingScreen(CoachScreen[None]):
    """What the session came to."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "today", "Today"),
        Binding("r", "save_again", "Save again"),
        Binding("q,escape", "app.quit", "Leave"),
    ]
    CSS = """
    ClosingScreen #figures { padding: 1 2; }
    ClosingScreen #lines { height: 1fr; padding: 0 2; }
    """

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session

    def compose(self) -> ComposeResult:
        yield Static("How it went", classes="title", markup=False)
        yield Static("", id="figures", classes="words", markup=False)
        with VerticalScroll(id="lines"):
            yield Static("", id="skills", markup=False)
        yield Hints(
            Hint("Enter", "today", "today"),
            Hint("?", "help", "app.help"),
            Hint("q", "leave", "app.quit"),
        )

    def on_mount(self) -> None:
        self.fill()

    def fill(self) -> None:
        summary = self.session.summary()
        text = figures(summary)
        if summary.unsaved:
            text += f"\n{summary.unsaved} not saved yet; r tries again."
        self.query_one("#figures", Static).update(text)
        self.query_one("#skills", Static).update(skill_lines(summary))

    def action_save_again(self) -> None:
        self.session.retry_save()
        self.fill()

    def action_today(self) -> None:
        self.app.show_today()


def figures(summary: Summary) -> str:
    """The session in one line."""
    if not summary.asked:
        return "Nothing was answered, so nothing has changed."
    minutes = max(1, round(summary.seconds / 60))
    unit = "minute" if minutes == 1 else "minutes"
    return f"{summary.asked} answered in {minutes} {unit}, {summary.right} right."


def skill_lines(summary: Summary) -> str:
    """What was practised, in the order it comes back."""
    if not summary.skills:
        return ""
    lines = [f"  {_when(line)}  {line.words}, {_right(line)}" for line in summary.skills]
    return "\n".join(["Comes back", *lines])


def _right(line: PractisedSkill) -> str:
    if line.tries == 1:
        return "right" if line.right else "not right"
    return f"{line.right} of {line.tries} right"


def _when(line: PractisedSkill) -> str:
    return f"{line.returns_words:<14}"
