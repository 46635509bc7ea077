"""The end of a session: what was practised, one thing for the drawing table, what comes next."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Static

from coach.design.measures import columns
from coach.screens.base import ReadingScreen
from coach.session.summary import returns_words
from coach.widgets.drawn.then_now import ThenNowPairs
from coach.widgets.hints import Hint, Hints

if TYPE_CHECKING:
    from collections.abc import Sequence

    from coach.host import HostApp
    from coach.session.session import Session
    from coach.session.summary import PractisedSkill, Summary
    from scores.progress.then_now import ThenNow

NOTHING = "Nothing was answered, and that is fine. All of it waits for another day."
MOST_PAIRS = 2
"""Drills whose threshold is drawn, then and now."""


class ClosingScreen(ReadingScreen[None]):
    """What the session came to, in a few sentences; each skill's return on asking."""

    app: HostApp
    READ = "#lines"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "today", "Today"),
        Binding("d", "details", "Each skill"),
        Binding("r", "save_again", "Save again"),
        Binding("q,escape", "app.quit", "Leave"),
    ]

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._details = False
        self._known = ""

    def compose(self) -> ComposeResult:
        yield Static("How it went", id="title", classes="title", markup=False)
        yield Static("", id="figures", classes="words", markup=False)
        with VerticalScroll(id="lines", can_focus=False):
            with Horizontal(id="sides"):
                with Vertical():
                    yield Static("", id="said", classes="prose", markup=False)
                with Vertical():
                    yield Static("", id="table", classes="prose", markup=False)
                    yield Static("", id="pairs-words", markup=False)
                    yield ThenNowPairs()
            yield Static("", id="skills", markup=False)
        yield Hints(
            Hint("Enter", "today", "today"),
            Hint("d", "each skill", "details"),
            Hint("?", "help", "app.help"),
            Hint("q", "leave", "app.quit"),
        )

    def on_mount(self) -> None:
        self.fill()
        # Working out what has changed takes a moment: the rest stands before.
        self.call_after_refresh(self._look_for_change)

    def fill(self) -> None:
        summary = self.session.summary()
        large = self.has_class("-large")
        told = f"{summary.right} of {summary.asked} right." if large else figures(summary)
        self.query_one("#title", Static).update(
            f"How it went: {told if summary.asked else NOTHING}"
        )
        left = f"{summary.unsaved} not saved yet; r tries again." if summary.unsaved else ""
        self.query_one("#figures", Static).update(left)
        self.query_one("#figures").display = bool(left)
        practised, taken = said(summary, self._known)
        self.query_one("#said", Static).update("\n\n".join(practised))
        table = self.query_one("#table", Static)
        table.update("\n\n".join(taken))
        table.display = bool(taken)
        skills = skill_lines(summary) if self._details else ""
        if large:
            from coach.design.large import fewer

            skills = fewer(skills)
        self.query_one("#skills", Static).update(skills)

    def _look_for_change(self) -> None:
        if self.session.summary().skills:
            self._known, drills = known_change(self.app)
            self.fill()
            self._draw(drills)

    def _draw(self, drills: Sequence[ThenNow]) -> None:
        """Of the drills practised, how far apart two colours had to be then, and today."""
        from coach.reports.seen.then_now import heading, seen

        practised = self.session.summary().drills
        shown = seen([one for one in drills if one.title in practised], MOST_PAIRS)
        if shown:
            depth = self.app.app_state.depth
            words = self.query_one("#pairs-words", Static)
            words.update(heading(drills))
            words.display = True
            self.query_one(ThenNowPairs).show(shown, depth.true_colour)

    def action_details(self) -> None:
        """Show when each skill comes back, or hide it again."""
        self._details = not self._details
        self.fill()

    def action_save_again(self) -> None:
        self.session.retry_save()
        self.fill()

    def action_today(self) -> None:
        self.app.show_today()


def known_change(app: HostApp) -> tuple[str, tuple[ThenNow, ...]]:
    """What is known to have changed of the eye, in a sentence and drill by drill; nothing
    while nothing is."""
    from coach.reports.progress_figures import known_change as known
    from coach.reports.progress_figures import known_offers
    from coach.reports.progress_words import change_words
    from drills.basics.days import practice_day
    from scores.record.failures import FAILURES

    state, eye = app.app_state, app.app_state.eye.model
    if eye is None:
        return "", ()
    try:
        offers = known_offers(state.record)
        change, drills = known(state.record, eye, offers, practice_day(state.clock()))
    except FAILURES:
        return "", ()
    return (change_words(change) if change is not None else ""), drills


def figures(summary: Summary) -> str:
    """The session in one line."""
    if not summary.asked:
        return NOTHING
    minutes = max(1, round(summary.seconds / 60))
    unit = "minute" if minutes == 1 else "minutes"
    helped = f"; {summary.helped} had help" if summary.helped else ""
    return f"{summary.asked} answered in {minutes} {unit}, {summary.right} right{helped}."


def said(summary: Summary, known: str = "") -> tuple[list[str], list[str]]:
    """What was practised and when it is due again; and, to stand beside or below it, what to
    take along and what is ``known`` to have changed."""
    if not summary.skills:
        return [], []
    practised = [f"Practised: {', '.join(summary.drills)}."]
    if next_times := returns_words(summary.skills):
        practised.append(f"Due again: {next_times}.")
    taken = []
    if summary.at_the_table:
        taken.append(f"For the drawing table: {_small(summary.at_the_table)}")
    if known:
        taken.append(known)
    return practised, taken


def _small(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def skill_lines(summary: Summary) -> str:
    """What was practised, in the order it comes back."""
    if not summary.skills:
        return ""
    rows = [(line.returns_words, line.words, _right(line)) for line in summary.skills]
    lines = columns(rows, "<<<")
    return "\n".join(["Due again", *(f"  {line}" for line in lines)])


def _right(line: PractisedSkill) -> str:
    if line.tries == 1:
        return "right" if line.right else "not right"
    return f"{line.right} of {line.tries} right"
