"""Today: what is due and why, and one key to begin."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.cells import set_cell_size
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.home import has_class
from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.session.today_plan import Today

RESTING = "Rest your eyes when they tire. This is no test of colour vision."


class TodayScreen(CoachScreen[None]):
    """The plan, in one sentence an item."""

    # ``app`` is narrowed so that the app's state is known.
    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "begin", "Begin"),
        Binding("minus", "minutes(-1)", "Shorter"),
        Binding("plus,equals_sign", "minutes(1)", "Longer"),
        Binding("c", "app.open('plan')", "Plan a colour"),
        Binding("w", "app.open('pencils')", "Pencils"),
        Binding("g", "app.open('progress')", "Progress"),
        Binding("s", "app.open('settings')", "Settings"),
        Binding("r", "retest", "Re-test"),
        Binding("k", "app.open('classroom')", "Class"),
        Binding("h", "app.open('guide')", "Guide"),
        Binding("up", "read('up')", "Read back"),
        Binding("down", "read('down')", "Read on"),
        Binding("pageup", "read('page_up')", "A page back"),
        Binding("pagedown", "read('page_down')", "A page on"),
        Binding("q,escape", "app.quit", "Leave"),
    ]
    CSS = """
    TodayScreen #plan { height: 1fr; padding: 0 2; }
    TodayScreen #figures { padding: 1 2; }
    TodayScreen #foot { padding: 1 2 0 2; dock: bottom; margin-bottom: 1; height: auto; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._wants_to_begin = False
        self._why_not = ""
        self._today: Today | None = None

    def compose(self) -> ComposeResult:
        now = self.app.app_state.clock()
        yield Static(f"{now:%A} {now.day} {now:%B}", classes="title", markup=False)
        yield Static("", id="figures", classes="words", markup=False)
        with VerticalScroll(id="plan", can_focus=False):
            yield Static("", id="items", markup=False)
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("Enter", "begin", "begin"),
            Hint("−", "shorter", "minutes(-1)"),
            Hint("+", "longer", "minutes(1)"),
            Hint("c", "plan", "app.open('plan')"),
            Hint("w", "pencils", "app.open('pencils')"),
            Hint("g", "progress", "app.open('progress')"),
            Hint("s", "settings", "app.open('settings')"),
            Hint("h", "guide", "app.open('guide')"),
            *((Hint("k", "class", "app.open('classroom')"),) if has_class() else ()),
            Hint("?", "help", "app.help"),
            Hint("q", "leave", "app.quit"),
        )

    def on_screen_resume(self) -> None:
        self.fill()

    def fill(self) -> None:
        """Put today's figures on the screen."""
        app_state = self.app.app_state
        self._today = plan = app_state.today()
        notes = [app_state.notice] if app_state.notice else []
        if not app_state.depth.true_colour:
            notes.append(
                f"This terminal shows {app_state.depth.words}: "
                f"drills that judge colour are left out. {app_state.depth.remedy}"
            )
        left = app_state.unfinished
        if left is not None:
            notes.append(
                "The last session ended because of a fault in the coach. Its answers are kept;"
                f" Enter goes on with its last {left:g} minutes."
            )
        due = app_state.retest_due()
        if due is not None:
            count = len(due.items)
            notes.append(
                f"r: the re-test, {count} questions, due every two weeks; answers aren't shown."
            )
        notes.append(RESTING)
        self.query_one("#trouble", Static).update("\n".join(notes))
        if plan is None:
            self.query_one("#figures", Static).update(
                self._why_not
                or f"{app_state.pencils_name}\nWorking out what your pencils can make…"
            )
            return
        self.query_one("#figures", Static).update(figures(plan, app_state.pencils_name))
        self._lay_items()

    def _lay_items(self) -> None:
        if self._today is not None:
            # Room is left for the scroll bar, or a line would run over by a letter.
            width = max(40, self.size.width - 6)
            self.query_one("#items", Static).update(item_lines(self._today, width))

    def on_host_app_pencils_ready(self) -> None:
        self._why_not = ""
        self.fill()
        if self._wants_to_begin:
            self.action_begin()

    def on_host_app_pencils_failed(self, message: HostApp.PencilsFailed) -> None:
        self._why_not = message.why
        self.fill()

    def on_resize(self) -> None:
        self._lay_items()

    def action_begin(self) -> None:
        if self.app.app_state.ready_for is None:
            self._wants_to_begin = True
            return
        self.app.begin()

    def action_read(self, way: str) -> None:
        """Scroll the plan."""
        getattr(self.query_one("#plan", VerticalScroll), f"scroll_{way}")(animate=False)

    def action_minutes(self, by: int) -> None:
        trouble = self.app.app_state.set_minutes(self.app.app_state.minutes + by)
        self.fill()
        if trouble:
            self.query_one("#trouble", Static).update(f"The minutes were not kept: {trouble}")

    def action_retest(self) -> None:
        if self.app.app_state.retest_due() is not None:
            self.app.begin(retest=True)


def figures(plan: Today, pencils: str) -> str:
    """The day's numbers in two lines."""
    skills = len(plan.offers.pairs)
    count = len(plan.plan)
    due = "nothing is due" if not plan.due else f"{plan.due} due"
    first = f"{pencils}: {plan.met} of {skills} skills met, {due}."
    lines = [first, *(f"“{one.deck.title}”: {one.words}." for one in plan.standings)]
    if not count:
        return "\n".join([*lines, "There is nothing to ask now."])
    return "\n".join([*lines, f"{plan.minutes:g} minutes, about {count} questions:"])


def item_lines(plan: Today, width: int) -> str:
    """One line an item: why it comes, and the drill it comes in."""
    title_width = max(len(facts.title) for facts in plan.offers.kinds.values())
    why_width = max(20, width - title_width - 3)
    # A skill asked several times is listed once, with what first called for it.
    firsts = {item.skill: item for item in reversed(plan.plan)}.values()
    lines = (
        f"{set_cell_size(plan.offers.kinds[item.kind].title, title_width)}   "
        f"{set_cell_size(item.why, why_width).rstrip()}"
        for item in firsts
    )
    # Not in the order they are asked: that would tell a question's family beforehand.
    return "\n".join(sorted(lines))
