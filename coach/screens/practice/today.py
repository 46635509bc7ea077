"""Today: what is due and why, and one key to begin."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.cells import set_cell_size
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.design.measures import columns
from coach.home import has_class
from coach.learners import chosen
from coach.screens.base import CoachScreen
from coach.session.lessons import lessons_begun
from coach.teaching.replies_kept import replies_in, unread
from coach.widgets.hints import Hint, Hints
from drills.basics.days import date_text
from scores.record.decks_added import decks_kept
from scores.skill.skill_words import region_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from coach.host import HostApp
    from coach.session.deck_progress import DeckStanding
    from coach.session.today_plan import Today
    from scores.today.day_plan import Item

HUE_UNITS = ("wheel steps", "of the cast", "C*ab")
"""Units of the drills whose answer is a hue: their families aren't told beforehand."""
BAR = 10
"""Cells of a bar as long as the whole day."""
RESTING = "Rest your eyes when they tire. This is no test of colour vision."


class TodayScreen(CoachScreen[None]):
    """The plan, in one sentence an item."""

    # ``app`` is narrowed so that the app's state is known.
    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "begin", "Begin"),
        Binding("minus", "minutes(-1)", "Shorter"),
        Binding("plus,equals_sign", "minutes(1)", "Longer"),
        Binding("d", "details", "Each question"),
        Binding("o", "app.one", "One thing"),
        Binding("c", "app.open('plan')", "Plan a colour"),
        Binding("p", "app.open('look')", "Look at a photo"),
        Binding("w", "app.open('pencils')", "Pencils"),
        Binding("g", "app.open('progress')", "Progress"),
        Binding("s", "app.open('settings')", "Settings"),
        Binding("l", "lessons", "Lessons"),
        Binding("r", "retest", "Re-test"),
        Binding("k", "app.open('classroom')", "Class"),
        Binding("h", "app.open('guide')", "Guide"),
        Binding("a", "add", "Work from a teacher"),
        Binding("t", "share", "Share with a teacher"),
        Binding("y", "reply", "What a teacher replied"),
        Binding("up", "read('up')", "Read back"),
        Binding("down", "read('down')", "Read on"),
        Binding("pageup", "read('page_up')", "A page back"),
        Binding("pagedown", "read('page_down')", "A page on"),
        Binding("q,escape", "app.quit", "Leave"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._wants_to_begin = False
        self._why_not = ""
        self._details = False
        self._today: Today | None = None

    def compose(self) -> ComposeResult:
        now = self.app.app_state.clock()
        who = f" · {name}" if (name := chosen()) else ""
        yield Static("Today", id="title", classes="title", markup=False)
        day = f"{now:%A} {now.day} {now:%B}{who}"
        yield Static(day, id="day", classes="words faint", markup=False)
        yield Static("", id="why", classes="words apart", markup=False)
        yield Static("", id="figures", classes="words apart", markup=False)
        with VerticalScroll(id="plan", can_focus=False):
            yield Static("", id="items", markup=False)
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(*self._hints())

    def _hints(self) -> tuple[Hint, ...]:
        return (
            Hint("Enter", "begin", "begin"),
            Hint("−", "shorter", "minutes(-1)"),
            Hint("+", "longer", "minutes(1)"),
            Hint("d", "each question", "details"),
            Hint("o", "one thing", "app.one"),
            Hint("c", "plan", "app.open('plan')"),
            Hint("p", "photo", "app.open('look')"),
            Hint("w", "pencils", "app.open('pencils')"),
            Hint("g", "progress", "app.open('progress')"),
            Hint("s", "settings", "app.open('settings')"),
            Hint("h", "guide", "app.open('guide')"),
            Hint("a", "add work", "add"),
            *((Hint("t", "share", "share"),) if decks_kept(self.app.app_state.record) else ()),
            *((Hint("y", "reply", "reply"),) if replies_in(self.app.app_state.record) else ()),
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
        if (came := unread(app_state.record)) is not None:
            notes.insert(0, f"{came.reply.author} replied to you. y reads it.")
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
        head, why = headline(plan)
        self.query_one("#title", Static).update(head)
        self.query_one("#why", Static).update(why)
        self.query_one("#why").display = bool(why)
        self.query_one("#figures", Static).update(figures(plan, app_state.pencils_name))
        self._lay_items()

    def _lay_items(self) -> None:
        self.query_one("#items", Static).update("")
        if self._today is not None and self._details:
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

    def action_details(self) -> None:
        """Show every question and why it comes, or hide them again."""
        self._details = not self._details
        self._lay_items()

    def action_read(self, way: str) -> None:
        """Scroll the plan."""
        getattr(self.query_one("#plan", VerticalScroll), f"scroll_{way}")(animate=False)

    def action_minutes(self, by: int) -> None:
        trouble = self.app.app_state.set_minutes(self.app.app_state.minutes + by)
        self.fill()
        if trouble:
            self.query_one("#trouble", Static).update(f"The minutes were not kept: {trouble}")

    def action_add(self) -> None:
        """Take in what a teacher sent."""
        from coach.screens.teaching.add import AddScreen

        self.app.push_screen(AddScreen(), self._added)

    def _added(self, added: bool | None) -> None:
        if added:
            # What a deck asks is worked out for these pencils.
            self.app.app_state.ready_for = None
            self.app.make_ready()
            self.query_one(Hints).hints = self._hints()
            self.fill()

    def action_share(self) -> None:
        """Make a file of answers for a teacher."""
        from coach.screens.teaching.share import ShareScreen

        self.app.push_screen(ShareScreen())

    def action_reply(self) -> None:
        """Read what a teacher replied."""
        from coach.screens.teaching.read_reply import ReplyScreen

        if replies_in(self.app.app_state.record):
            self.app.push_screen(ReplyScreen())

    def action_lessons(self) -> None:
        """Read what teachers say again, the latest lesson first."""
        if self._today is not None and (found := lessons_begun(self._today.standings)):
            from coach.screens.practice.lesson import LessonScreen

            self.app.push_screen(LessonScreen(found, "back to today"))

    def action_retest(self) -> None:
        if self.app.app_state.retest_due() is not None:
            self.app.begin(retest=True)


def figures(plan: Today, pencils: str) -> str:
    """The day at a glance: where it begins from, and its parts with their minutes."""
    skills = len(plan.offers.pairs)
    due = "nothing is due" if not plan.due else f"{plan.due} due"
    first = f"{pencils}: {plan.met} of {skills} skills met, {due}."
    lines = [first, *map(assigned_line, plan.standings)]
    if not plan.plan:
        return "\n".join([*lines, "There is nothing to ask now."])
    lines.append(f"{plan.minutes:g} minutes, about {len(plan.plan)} questions:")
    return "\n".join([*lines, *part_lines(plan)])


def assigned_line(one: DeckStanding) -> str:
    """What a deck asks of the day, until when, and whether it has lessons to read."""
    until = f", until {one.deck.due:%A} {date_text(one.deck.due)}" if one.deck.due else ""
    read = " l: its lessons." if one.deck.steps else ""
    return f"Assigned{until}: “{one.deck.title}”: {one.words}.{read}"


FIRST = "Today: a first match"
SOON = 2
"""How many questions come before the first match of a first session."""
FIRST_WHY = "It comes within two minutes, easy to begin with, after two short questions."
WHY_NOW = {
    "weak": "you see less finely there than elsewhere",
    "due": "it is likely to slip by now",
    "unsure": "it is not yet known how fine you see there",
    "new": "it is new to you",
    "practice": "it does most for your matches now",
}
"""Why a focus was chosen, by what called for its first question."""


def headline(plan: Today) -> tuple[str, str]:
    """What today is for, and why; why is nothing where there is no focus."""
    items = [item for item in plan.plan if item.part == "focus" and not item.source]
    if not items:
        matches = [at for at, item in enumerate(plan.plan) if item.part == "match"]
        if plan.met or not matches:
            return "Today", ""
        return FIRST, FIRST_WHY if matches[0] == SOON else ""
    title = plan.offers.kinds[items[0].kind].title.rstrip("?")
    why = WHY_NOW[items[0].reason]
    return f"Today: {title}, {focus_regions(items, plan)}", f"{why[:1].upper()}{why[1:]}."


def part_lines(plan: Today) -> list[str]:
    """One line a part of the day: its name, its minutes, and what it holds."""
    rows = []
    total = sum(item.seconds for item in plan.plan)
    for part, words in _PARTS.items():
        items = [item for item in plan.plan if item.part == part and not item.source]
        if items:
            rows.append((words, _minutes(items), _bar(items, total), _about(part, items, plan)))
    assigned = [item for item in plan.plan if item.source]
    if assigned:
        rows.append(("assigned", _minutes(assigned), _bar(assigned, total), _count(assigned)))
    if plan.paper_due:
        rows.append(("on paper", "", "", "this week: plan a colour (c), lay it, look"))
    return [f"  {line}" for line in columns(rows, "<><<")]


_PARTS = {
    "warm-up": "warm-up",
    "focus": "focus",
    "mixed": "mixed",
    "match": "a match",
    "": "practice",
}


def _minutes(items: Sequence[Item]) -> str:
    return f"{max(1, round(sum(item.seconds for item in items) / 60))} min"


def _bar(items: Sequence[Item], total: float) -> str:
    """How much of the day's time this part takes, as a length."""
    return "━" * max(1, round(BAR * sum(item.seconds for item in items) / total))


def _count(items: Sequence[Item]) -> str:
    return "1 question" if len(items) == 1 else f"{len(items)} questions"


def _about(part: str, items: Sequence[Item], plan: Today) -> str:
    if part == "warm-up":
        return "sure things"
    titles = list(dict.fromkeys(plan.offers.kinds[item.kind].title.rstrip("?") for item in items))
    if part == "focus":
        return f"{titles[0]}: {focus_regions(items, plan)}"
    if part == "match":
        if len(items) < 4:
            return ", then ".join(titles)
        # Not which: that would give away its family.
        matches = sum(item.kind == items[-1].kind for item in items)
        colours = "one colour" if matches == 1 else f"{matches} colours"
        return f"{colours}, from the hue to the laid pencils"
    drills = "1 drill" if len(titles) == 1 else f"{len(titles)} drills"
    return f"{_count(items)} in {drills}"


def focus_regions(items: Sequence[Item], plan: Today) -> str:
    """What stands beside what: "blues beside violets and greens"; not where that is asked."""
    if plan.offers.kinds[items[0].kind].unit in HUE_UNITS:
        return "neighbours side by side"
    regions = [region_words(region) for region in dict.fromkeys(item.region for item in items)]
    return " beside ".join(regions[:2])


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
