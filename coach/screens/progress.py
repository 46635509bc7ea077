"""Progress: how the eye has changed, with what is more than noise told apart from what is not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import DataTable, Static
from textual.worker import get_current_worker

from coach.screens.base import CoachScreen
from coach.widgets.drawn.then_now import ThenNowPairs
from coach.widgets.hints import Hint, Hints

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.reports.progress_figures import Figures
    from coach.reports.seen.curves import Curve
    from coach.reports.seen.drawn import Seen
    from scores.progress.answers import History
    from scores.progress.span import RangeName

POINT = "●"
"""How a curve marks its points."""
WORKING = "Going over the answers …"
"""What stands there until the figures are worked out."""
SECTIONS = {
    "2": "Each skill:",
    "3": "Families and skills:",
    "4": "Coming due",
    "5": "Minutes of answering",
}
"""Keys that jump to where these words begin a line; 1 goes to the curves."""


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
        Binding("f", "app.open('wheel')", "Families"),
        Binding("left", "turn(-1)", "Curve before"),
        Binding("right", "turn(1)", "Next curve"),
        Binding("t", "table", "Table"),
        *(Binding(key, f"jump('{key}')", show=False) for key in ("1", *SECTIONS)),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.range: RangeName = "3 months"
        self._history: History | None = None
        self._lines: list[str] = []
        self._curves: tuple[Curve, ...] = ()
        self._at = 0
        self._as_table = False

    def compose(self) -> ComposeResult:
        yield Static("Progress", id="title", classes="title", markup=False)
        with VerticalScroll(id="all"):
            yield Static("", id="head", markup=False)
            yield Static("", id="pairs-words", markup=False)
            yield ThenNowPairs(id="pairs")
            yield Static("", id="pairs-note", markup=False)
            yield Static("", id="paper-words", markup=False)
            yield ThenNowPairs(id="paper-pairs")
            with Vertical(id="curves"):
                yield Static("", id="curve-name", markup=False)
                yield DataTable(cursor_type="row", zebra_stripes=False)
                yield Static("", id="rule", markup=False)
            yield Static("", id="page", markup=False)
        yield Hints(*self._hints())

    def _hints(self) -> Iterator[Hint]:
        """The keys that do something, as far as there is something to show."""
        if self._curves:
            yield Hint("← →", "curves")
            yield Hint("t", "as a table", "table")
        yield Hint("w m y a", "2 weeks, 3 months, year, all")
        parts = ["1"] * bool(self._curves)
        for key, begins in SECTIONS.items():
            parts += [key] * any(line.startswith(begins) for line in self._lines)
        if len(parts) > 1:
            yield Hint(f"{parts[0]}–{parts[-1]}", "go to a part")
        yield Hint("f", "the wheel", "app.open('wheel')")
        yield Hint("o", "practise one thing", "app.one")
        yield Hint("Esc", "back", "back")

    def on_mount(self) -> None:
        self.query_one("#all").focus()
        self.fill()

    def fill(self) -> None:
        """Work the figures out, which takes a second after a year of answers, then show them."""
        if not self._lines:
            self.query_one("#head", Static).update(WORKING)
        self._work_out(self.range)

    @work(thread=True, exclusive=True)
    def _work_out(self, name: RangeName) -> None:
        from coach.reports.progress_figures import figures
        from coach.reports.seen.curves import curves
        from coach.reports.seen.then_now import seen
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
            said = f"The record: {reason(error)}. coach doctor"
            if not worker.is_cancelled:
                self.app.call_from_thread(self._head_alone, said)
            return
        self._history = history
        drawn = curves(made), seen(made.course.then_now)
        if not worker.is_cancelled:
            self.app.call_from_thread(self._show, name, made, *drawn)

    def _head_alone(self, words: str) -> None:
        if self.is_attached:
            self.query_one("#head", Static).update(words)

    def _show(
        self, name: RangeName, made: Figures, drawn: tuple[Curve, ...], pairs: Sequence[Seen]
    ) -> None:
        from coach.design.large import spaced_rows
        from coach.reports.progress_words import head, paper_lines, rest, sure_lines, title

        # Meanwhile another range may have been asked for, or another screen.
        if name != self.range or not self.is_attached:
            return
        few = self.has_class("-large")
        self._lines = [*paper_lines(made, few), *sure_lines(made), *rest(made)]
        if few:
            self._lines = list(spaced_rows(self._lines))
        self.query_one("#title", Static).update(f"{title(made)} ({name})")
        self.query_one("#head", Static).update("\n".join([*head(made, few), ""]))
        self.query_one("#page", Static).update("\n".join(self._lines))
        self._show_pairs(made, pairs)
        here = self._curves[self._at].title if self._curves else ""
        self._curves = drawn
        titles = [curve.title for curve in drawn]
        self._at = titles.index(here) if here in titles else 0
        self.query_one(Hints).hints = tuple(self._hints())
        self.call_later(self._show_curve)

    def _show_pairs(self, made: Figures, pairs: Sequence[Seen]) -> None:
        from coach.reports.seen import paper
        from coach.reports.seen.then_now import WHOLE, heading

        of = made.course.then_now
        words = self.query_one("#pairs-words", Static)
        words.update(heading(of) if pairs else "")
        words.display = bool(pairs)
        true_colour = self.app.app_state.depth.true_colour
        self.query_one("#pairs", ThenNowPairs).show(pairs, true_colour)
        note = self.query_one("#pairs-note", Static)
        note.update(WHOLE)
        note.display = bool(pairs)
        change, said = made.paper_change, self.query_one("#paper-words", Static)
        said.update(paper.words(change) if change else "")
        said.display = change is not None
        laid = [paper.seen(change)] if change else []
        self.query_one("#paper-pairs", ThenNowPairs).show(laid, true_colour)

    async def _show_curve(self) -> None:
        """The curve at ``_at``, drawn or as a table; nothing where nothing was measured."""
        from coach.reports.progress_words import RULE
        from coach.widgets.drawn.curve import CurvePlot

        box = self.query_one("#curves")
        box.display = bool(self._curves)
        if not self._curves:
            return
        curve = self._curves[self._at]
        place = f"{self._at + 1} of {len(self._curves)}"
        self.query_one("#curve-name", Static).update(
            f"{curve.title}  ← {place} →\n{POINT} {curve.says}"
        )
        self.query_one("#rule", Static).update(RULE)
        if not box.query(CurvePlot):
            # Not before: the plot brings numpy, which the first screens do without.
            await box.mount(CurvePlot(), after=0)
        plot, rows = box.query_one(CurvePlot), box.query_one(DataTable)
        plot.display, rows.display = not self._as_table, self._as_table
        plot.show(curve)
        rows.clear(columns=True)
        rows.add_columns("Day", curve.unit, curve.band)
        rows.add_rows(list(curve.rows()))

    async def action_turn(self, by: int) -> None:
        if self._curves:
            self._at = (self._at + by) % len(self._curves)
            await self._show_curve()

    async def action_table(self) -> None:
        """The curve as a table, or drawn again."""
        if self._curves:
            self._as_table = not self._as_table
            await self._show_curve()

    def action_over(self, name: RangeName) -> None:
        self.range = name
        self.fill()
        self.query_one("#all").scroll_home(animate=False)

    def action_jump(self, key: str) -> None:
        scroll = self.query_one("#all")
        if key == "1":
            self.query_one("#curves").scroll_visible(top=True, animate=False)
            return
        top = self.query_one("#page").virtual_region.y
        for at, line in enumerate(self._lines):
            if line.startswith(SECTIONS[key]):
                self.call_after_refresh(scroll.scroll_to, y=top + at, animate=False)
                return

    def action_back(self) -> None:
        self.dismiss()
