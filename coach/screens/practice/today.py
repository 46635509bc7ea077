"""Today: what is due and why, and one key to begin."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.design.measures import MARGIN, MEASURE
from coach.home import has_class
from coach.learners import chosen
from coach.screens.base import ReadingScreen
from coach.screens.practice.today_words import (
    figures,
    headline,
    item_lines,
    large_items,
    waits_for_screen,
)
from coach.teaching import REPLIES
from coach.widgets.hints import Hint, Hints
from scores.record.decks_added import DeckKept, decks_kept

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.session.today_plan import Today
    from coach.teaching.replies_kept import ReplyKept

_REST = 9
"""Rows that are not its figures or its notes."""
MEASURE_SCREEN = Hint("v", "measure this screen", "app.open('display')")
RESTING = "Rest your eyes when they tire. This is no test of colour vision."


class TodayScreen(ReadingScreen[None]):
    """The plan, in one sentence an item."""

    # ``app`` is narrowed so that the app's state is known.
    app: HostApp
    READ = "#plan"

    # Shown first: the rest of the sheet is read once it stands.
    CSS_PATH = None
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "begin", "Begin"),
        Binding("minus", "minutes(-1)", "Shorter"),
        Binding("plus,equals_sign", "minutes(1)", "Longer"),
        Binding("d", "details", "Each question"),
        Binding("o", "app.one", "One thing"),
        Binding("c", "app.open('plan')", "Plan a colour"),
        Binding("m", "app.on_paper", "One colour on paper"),
        Binding("p", "app.open('look')", "Look at a photo"),
        Binding("w", "app.open('pencils')", "Pencils"),
        Binding("g", "app.open('progress')", "Progress"),
        Binding("s", "app.open('settings')", "Settings"),
        Binding("l", "lessons", "Lessons"),
        Binding("u", "course", "The whole course"),
        Binding("r", "retest", "Re-test"),
        Binding("k", "app.open('classroom')", "Class"),
        Binding("h", "app.open('guide')", "Guide"),
        Binding("a", "add", "Work from a teacher"),
        Binding("t", "share", "Share with a teacher"),
        Binding("y", "reply", "What a teacher replied"),
        Binding("v", "app.open('display')", "Measure this screen"),
        Binding("q,escape", "app.quit", "Leave"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._wants_to_begin = False
        self._why_not = ""
        self._details = False
        self._today: Today | None = None
        self._made_ready: set[str] = set()

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
        kept = decks_kept(self.app.app_state.record)
        return (
            Hint("Enter", "begin", "begin"),
            Hint("−", "shorter", "minutes(-1)"),
            Hint("+", "longer", "minutes(1)"),
            Hint("d", "each question", "details"),
            Hint("o", "one thing", "app.one"),
            Hint("c", "plan", "app.open('plan')"),
            Hint("m", "on paper", "app.on_paper"),
            Hint("p", "photo", "app.open('look')"),
            Hint("w", "pencils", "app.open('pencils')"),
            Hint("g", "progress", "app.open('progress')"),
            Hint("s", "settings", "app.open('settings')"),
            Hint("h", "guide", "app.open('guide')"),
            Hint("a", "add work", "add"),
            *((Hint("t", "share", "share"),) if kept else ()),
            *((Hint("u", "course", "course"),) if any(map(_of_course, kept)) else ()),
            *((Hint("y", "reply", "reply"),) if self._replies() else ()),
            *((MEASURE_SCREEN,) if self._waiting() else ()),
            *((Hint("k", "class", "app.open('classroom')"),) if has_class() else ()),
            Hint("?", "help", "app.help"),
            Hint("q", "leave", "app.quit"),
        )

    def _replies(self) -> tuple[ReplyKept, ...]:
        """What teachers replied; the code that reads it is loaded only where there is some."""
        record = self.app.app_state.record
        if not record.setting(REPLIES):
            return ()
        from coach.teaching.replies_kept import replies_in

        return replies_in(record)

    def _waiting(self) -> bool:
        """Whether an assigned deck waits for this screen to be measured, and that is kept."""
        kept = not self.app.app_state.only_assigned
        return kept and self._today is not None and bool(waits_for_screen(self._today))

    def on_screen_resume(self) -> None:
        self.fill()
        if self._wants_to_begin and self.app.app_state.ready_for is not None:
            self.action_begin()

    def fill(self) -> None:
        """Put today's figures on the screen."""
        app_state = self.app.app_state
        self._today = plan = app_state.today()
        notes = [app_state.notice] if app_state.notice else []
        if self._replies():
            from coach.teaching.replies_kept import unread

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
        if due is not None and not (plan and plan.away):
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
        self._lay_figures()
        self.query_one(Hints).hints = self._hints()
        self._lay_items()
        self._make_ready_what_opened(plan)

    def _make_ready_what_opened(self, plan: Today) -> None:
        """Decks of a course that opened since the pencils were made ready; each tried once."""
        made = self.app.app_state.ready_for
        if made is None or not any(one.course for one in plan.standings):
            return
        from coach.session.assigned.course_work import just_opened

        opened = just_opened(plan.standings, {deck.fingerprint for deck in made.decks})
        if opened - self._made_ready:
            self._made_ready |= opened
            self.app.app_state.ready_for = None
            self.app.make_ready()

    def _lay_figures(self) -> None:
        """The day at a glance; where large things are wanted, set apart if there is room."""
        if self._today is None:
            return
        name, told = self.app.app_state.pencils_name, self.query_one("#figures", Static)
        key = "v" if self._waiting() else ""
        words = figures(self._today, name, key)
        if self.has_class("-large"):
            large = figures(self._today, name, key, large=True)
            notes = str(self.query_one("#trouble", Static).content).split("\n")
            wide = self.size.width - 2 * MARGIN
            rows = sum(1 + len(line) // wide for line in large.split("\n"))
            rows += sum(1 + len(line) // MEASURE for line in notes)
            apart = rows + _REST <= self.size.height
            words = large if apart else large.replace("\n\n", "\n")
        told.update(words)

    def _lay_items(self) -> None:
        large = self.has_class("-large")
        # Large, the questions take the room of what else is told of the day.
        alone = large and self._details and self._today is not None
        for part in ("#figures", "#trouble"):
            self.query_one(part).set_class(alone, "-left-out")
        self.query_one("#items", Static).update("")
        if self._today is not None and self._details:
            # Room is left for the scroll bar, or a line would run over by a letter.
            width = max(40, self.size.width - 6)
            told = large_items(self._today) if large else item_lines(self._today, width)
            self.query_one("#items", Static).update(told)

    def on_host_app_pencils_ready(self) -> None:
        self._why_not = ""
        self.fill()
        if self._wants_to_begin and self.app.screen is self:
            self.action_begin()

    def on_host_app_pencils_failed(self, message: HostApp.PencilsFailed) -> None:
        self._why_not = message.why
        self.fill()

    def on_resize(self) -> None:
        self._lay_figures()
        self._lay_items()

    def action_begin(self) -> None:
        if self.app.app_state.ready_for is None:
            self._wants_to_begin = True
            return
        self._wants_to_begin = False
        self.app.begin()

    def action_details(self) -> None:
        """Show every question and why it comes, or hide them again."""
        self._details = not self._details
        self._lay_items()

    def action_minutes(self, by: int) -> None:
        trouble = self.app.app_state.set_minutes(self.app.app_state.minutes + by)
        self.fill()
        if trouble:
            self.query_one("#trouble").remove_class("-left-out")
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

        if self._replies():
            self.app.push_screen(ReplyScreen())

    def action_lessons(self) -> None:
        """Read what teachers say again, the latest lesson first."""
        if self._today is None:
            return
        from coach.session.assigned.lessons import lessons_begun

        if found := lessons_begun(self._today.standings):
            from coach.screens.practice.lesson import LessonScreen

            self.app.push_screen(LessonScreen(found, "back to today"))

    def action_course(self) -> None:
        """Read each course deck by deck: what comes next, and why it is not open yet."""
        if self._today is None:
            return
        from coach.screens.words_page import PageScreen
        from coach.session.assigned.course_work import course_head, course_lines, courses

        if found := courses(self._today.standings):
            # A line for where a deck stands: it would not fit beside the title.
            parts = {course_head(one): "\n".join(course_lines(one, "\n  ")) for one in found}
            if len(found) == 1:
                self.app.push_screen(PageScreen(*parts.popitem()))
            else:
                told = "\n\n".join(f"{head}\n\n{lines}" for head, lines in parts.items())
                self.app.push_screen(PageScreen("Your courses", told))

    def action_retest(self) -> None:
        if self.app.app_state.retest_due() is not None:
            self.app.begin(retest=True)


def _of_course(kept: DeckKept) -> bool:
    """Whether it stands in a course; what reads that is loaded only where there is a deck."""
    from decks.record_form import courses_of

    return bool(courses_of(kept.content))
