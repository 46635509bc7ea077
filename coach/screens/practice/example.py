"""A question solved step by step, before the first of its kind: looked at, never answered."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.design.measures import LARGE_ROWS
from coach.screens.base import ReadingScreen
from coach.widgets.choices import DOUBLE_S, Choices
from coach.widgets.hints import Hint, Hints
from coach.widgets.results import ResultRows, Told, screen_caution
from coach.widgets.scene import Scene, seen

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.session.session import Session
    from drills.questions.worked import Worked

PAUSED = "Paused. p goes on."


class ShownChoices(Choices, can_focus=False):
    """Looked at, not answered: the keys are the screen's, and no order is laid out below."""

    @property
    def _tail(self) -> int:
        return 0

    def _order_words(self) -> str:
        return ""


class ExampleScreen(ReadingScreen[None]):
    """Over the practice screen; the session's time runs on while it is looked at."""

    app: HostApp
    READ = "#telling"
    AUTO_FOCUS = ""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space,right", "go(1)", "Next"),
        Binding("left", "go(-1)", "Back"),
        Binding("l", "every", "Every answer"),
        Binding("p", "pause", "Pause"),
        Binding("escape", "skip", "To the question"),
    ]

    def __init__(self, title: str, solved: Worked, session: Session) -> None:
        super().__init__()
        self._drill = title
        self._solved = solved
        self._session = session
        self._over = False
        self._shown_at = 0.0
        self.at = 0
        """The step that is shown; one past the last is the answer."""

    def compose(self) -> ComposeResult:
        yield Static("", id="title", classes="title", markup=False)
        yield Static("", id="say", classes="words", markup=False)
        with VerticalScroll(id="telling", can_focus=False):
            yield Static("", id="prompt", classes="words faint", markup=False)
            yield Scene()
            yield ShownChoices()
            yield ResultRows()
        yield Hints()

    def on_mount(self) -> None:
        choices, rows, large = self.query_one(Choices), self.query_one(ResultRows), self.app.large
        choices.large = large
        self.query_one(Scene).set_class(large, "-large")
        if large:
            rows.least, rows.gap = LARGE_ROWS, 0
        rows.true_colour = self.app.app_state.depth.true_colour
        self.fill()

    def on_screen_suspend(self) -> None:
        """The clock stands while help lies over this."""
        if not self._over:
            self._session.pause()

    def on_screen_resume(self) -> None:
        super().on_screen_resume()
        if not self._over:
            self._session.resume()

    @property
    def steps(self) -> int:
        """How many there are, the answer included."""
        return len(self._solved.steps) + 1

    def fill(self) -> None:
        """Show the step at hand, or that the clock stands."""
        paused, told = self._session.paused, self.at == self.steps - 1
        step = None if told or paused else self._solved.steps[self.at]
        self.query_one("#title", Static).update(
            f"An example: {self._drill.rstrip('?')} · {self.at + 1} of {self.steps}"
        )
        say = PAUSED if paused else "" if step is None else step.words
        asked = None if step is None else step.asked
        for name, words in (("say", say), ("prompt", asked.as_fact if asked else "")):
            self.query_one(f"#{name}", Static).update(words)
            self.query_one(f"#{name}").display = bool(words)
        scene, choices, rows = (
            self.query_one(Scene),
            self.query_one(Choices),
            self.query_one(ResultRows),
        )
        scene.swatches = () if asked is None else seen(asked)
        scene.display = bool(scene.swatches)
        choices.asked, choices.display = asked, bool(asked and asked.choices)
        rows.display = told and not paused
        if rows.display:
            self._tell(rows)
        self.query_one("#telling", VerticalScroll).scroll_home(animate=False)
        self._shown_at = self.app.app_state.timer()
        self._hint()

    def _tell(self, rows: ResultRows) -> None:
        reveal = self._solved.reveal
        limits = " ".join(filter(None, (screen_caution(reveal), reveal.limits)))
        rows.told = Told(
            verdict=f"The answer: {self._solved.answer}",
            because="\n".join(reveal.because),
            limits=limits,
        )
        rows.whole, rows.reveal = False, reveal

    def _hint(self) -> None:
        last = self.at == self.steps - 1
        skip = Hint("Esc", "skip it", "skip")
        if self._session.paused:
            self.query_one(Hints).hints = (Hint("p", "go on", "pause"), skip)
            return
        on = "now one for you" if last else "go on"
        every = (Hint("l", "every answer", "every"),) * (last and self.query_one(ResultRows).hiding)
        self.query_one(Hints).hints = (
            Hint("Enter", on, "go(1)"),
            *((Hint("←", "back", "go(-1)"),) if self.at else ()),
            *every,
            Hint("↑ ↓", "read on"),
            Hint("p", "pause", "pause"),
            *(() if last else (skip,)),
            Hint("?", "help", "app.help"),
        )

    def on_result_rows_hiding(self) -> None:
        self._hint()

    def action_go(self, by: int) -> None:
        """The next step, and after the answer the question; or a step back."""
        if self._session.paused:
            return
        # A key pressed twice must not turn a page unread.
        if by > 0 and self.app.app_state.timer() - self._shown_at < DOUBLE_S:
            return
        if self.at + by >= self.steps:
            self.action_skip()
        else:
            self.at = max(0, self.at + by)
            self.fill()

    def action_every(self) -> None:
        """Show every answer, or the best alone again."""
        rows = self.query_one(ResultRows)
        rows.whole = not rows.whole

    def action_pause(self) -> None:
        """Stop the clock, with nothing to look at; or go on."""
        if self._session.paused:
            self._session.resume()
        else:
            self._session.pause()
        self.fill()

    def action_skip(self) -> None:
        """On to the question."""
        self._over = True
        self._session.resume()
        self.dismiss()
