"""Practice: one question, its reveal, the next; paused or stopped at any moment."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.timer import Timer
from textual.widgets import Static

from coach.design.measures import LARGE_ROWS, WIDE
from coach.screens.base import ReadingScreen
from coach.screens.practice.beforehand import BeforehandScreen
from coach.screens.practice.question_keys import PAUSED_HINTS, about, asking_hints, telling_hints
from coach.session.assigned.lessons import lessons_over
from coach.widgets.adjusting_swatch import AdjustingSwatch
from coach.widgets.choices import DOUBLE_S, Choices
from coach.widgets.hints import Hint, Hints
from coach.widgets.results import ResultRows, Told, screen_caution
from coach.widgets.scene import Scene
from coach.widgets.timebar import TimeBar

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.session.feed import Outcome
    from coach.session.session import Session
    from drills.questions.protocol import Answers, Ask, Question

PAUSED = "Paused. Rest your eyes; p goes on."
WAITING = "Getting your pencils ready…"


class PracticeScreen(ReadingScreen[None], BeforehandScreen):
    """Draws whatever a kind asks and reveals; knows no kind."""

    app: HostApp
    READ = "#telling"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "onward", "Next"),
        Binding("p", "pause", "Pause"),
        Binding("d", "done", "Done"),
        Binding("r", "save_again", "Save again"),
        Binding("l", "every", "Every answer"),
        Binding("escape", "stop", "Stop"),
    ]

    def __init__(self, retest: bool = False, drill: str = "") -> None:
        super().__init__()
        self.retest = retest
        self.drill = drill
        self.session: Session | None = None
        self.question: Question | None = None
        self.replies: Answers = ()
        self.outcome: Outcome | None = None
        self._why = ""
        self._look: Timer | None = None
        self._shown_at = 0.0

    def compose(self) -> ComposeResult:
        with Horizontal(id="top"):
            yield Static("", id="title", classes="title", markup=False)
            yield TimeBar()
        yield Static("", id="why", classes="words faint", markup=False)
        with VerticalScroll(id="asking", can_focus=False):
            yield Static(WAITING, id="prompt", classes="words", markup=False)
            yield Scene()
            yield Choices()
            yield AdjustingSwatch()
        # Scrolled by this screen's own keys: giving it the focus would hold up the reveal.
        with VerticalScroll(id="telling", can_focus=False):
            yield ResultRows()
        yield Hints()

    def on_mount(self) -> None:
        self.set_interval(1.0, self._tick)
        large = self.app.large
        self.query_one(Scene).set_class(large, "-large")
        self.query_one(Choices).large = large
        if large:
            rows = self.query_one(ResultRows)
            rows.least, rows.gap, rows.large = LARGE_ROWS, 0, True
        self.query_one(ResultRows).true_colour = self.app.app_state.depth.true_colour
        self.query_one(Choices).timer = self.app.app_state.timer
        self._hint(Hint("Esc", "stop", "stop"))
        if self.app.app_state.ready_for is not None:
            self._start()

    def on_screen_resume(self) -> None:
        if self.session is None:
            self.on_host_app_pencils_ready()
        elif self._away:
            self.session.resume()
        self._away = False

    def on_host_app_pencils_ready(self) -> None:
        ready = self.app.app_state.ready_for is not None
        if self.session is None and ready and self.app.screen is self:
            self._start()

    def on_host_app_pencils_failed(self, message: HostApp.PencilsFailed) -> None:
        self.query_one("#prompt", Static).update(message.why)

    def _start(self) -> None:
        app_state = self.app.app_state
        made = app_state.retest() if self.retest else None
        self.session = made or app_state.session(self.drill)
        self._next()

    # Asking

    def _next(self) -> None:
        """Draw the next question, or end where the time is up."""
        assert self.session is not None
        self.outcome, self.sure = None, False
        self.replies = ()
        self.question = self.session.next()
        if self.question is None:
            self._end()
            return
        self.replies = self.session.begun
        if self.show_beforehand(self._show_question):
            self._show_asking(True)
            self.query_one("#prompt", Static).update("")
        else:
            self._show_question()

    def _show_question(self) -> None:
        assert self.session is not None
        assert self.question is not None
        kind = self.session.kinds[self.question.kind]
        self.query_one("#title", Static).update(f"{kind.title} · question {self.session.number}")
        self._why = self.session.item.why if self.session.item else ""
        self._show_asking(True)
        self._ask()
        self._tick()

    def _ask(self) -> bool:
        """Show the next stage of the question; False when it is answered in full."""
        assert self.session is not None
        assert self.question is not None
        asked = self.session.kinds[self.question.kind].ask(self.question, self.replies)
        if asked is None:
            return False
        begun = self.replies and self.replies == self.session.begun
        prompt = asked.as_fact if begun else asked.prompt
        self.query_one("#prompt", Static).update(prompt)
        # Why it is asked names the colour family, which may be the very answer: told after.
        self.query_one("#why", Static).update(about(self.session, self.replies))
        self.show_swatches(asked)
        self._place_words(asked)
        if self._look is not None:
            self._look.stop()
        self._look = self.set_timer(asked.look_s, self._hide_scene) if asked.look_s else None
        choices = self.query_one(Choices)
        choices.asked = asked
        (self.setting if asked.form == "set" else choices).focus()
        self._hint(*asking_hints(asked, bool(lessons_over(self.session)), self.sure_hints()))
        self.look_ahead()
        return True

    def _place_words(self, asked: Ask | None = None) -> None:
        """Beside the swatches where there is room and they are few; else above and below."""
        asked = asked or self.query_one(Choices).asked
        few = asked is not None and asked.form == "choose" and 1 <= len(asked.scene) <= 2
        # No word of a choice is cut in a column of 48 cells, or of 36 (see the style sheet).
        room = 24 if self.app.large else 36
        choices = () if asked is None else asked.choices
        words = all(not one.swatch and len(one.text) <= room for one in choices)
        self.query_one(Scene).whole = beside = few and words and self.size.width >= WIDE
        self.query_one("#asking").set_class(beside, "-beside")

    def on_resize(self) -> None:
        self._place_words()

    def _hide_scene(self) -> None:
        self.query_one(Scene).swatches = ()

    async def on_choices_replied(self, message: Choices.Replied) -> None:
        if self.question is None or self.outcome is not None or self.session is None:
            return
        # A key pressed twice may answer what is no longer asked.
        if self.session.paused or message.asked is not self.query_one(Choices).asked:
            return
        if message.reply == ("undo",):
            self.replies = self.replies[:-1]
        else:
            self.replies = (*self.replies, message.reply)
        async with self.one_frame():
            if not self._ask():
                self._reveal()

    def action_take_back(self) -> None:
        self.query_one(Choices).action_back()

    def action_answer(self) -> None:
        self.query_one(Choices).answer()

    def action_done(self) -> None:
        asked = self.query_one(Choices).asked
        if asked is not None and asked.form == "build" and asked.may_end and not self.outcome:
            self.query_one(Choices).reply(("done",))

    # Telling

    def _reveal(self) -> None:
        assert self.session is not None
        assert self.question is not None
        self.tell(self.session.answered(self.question, self.replies, sure=self.sure))

    def tell(self, outcome: Outcome) -> None:
        """Show what came of an answer."""
        self.outcome = outcome
        reveal = outcome.reveal
        why = "; ".join(filter(None, (self._why, outcome.measure)))
        self.query_one("#why", Static).update(why)
        limits = " ".join(filter(None, (screen_caution(reveal), reveal.limits)))
        rows = self.query_one(ResultRows)
        rows.told = Told(
            verdict=outcome.grade.verdict,
            figures=outcome.grade.figures,
            because="\n".join(reveal.because),
            limits=limits,
        )
        rows.whole, rows.reveal = False, reveal
        self._show_trouble(outcome.trouble)
        self._show_asking(False)
        telling = self.query_one("#telling", VerticalScroll)
        telling.scroll_home(animate=False)
        self._shown_at = self.app.app_state.timer()
        self._hint_telling()
        self.look_ahead()

    def _hint_telling(self) -> None:
        hiding = self.query_one(ResultRows).hiding
        self._hint(*telling_hints(bool(self.session and self.session.unsaved), hiding))

    def on_result_rows_hiding(self) -> None:
        if self.outcome is not None and self.session is not None and not self.session.paused:
            self._hint_telling()

    def _show_trouble(self, trouble: str) -> None:
        rows = self.query_one(ResultRows)
        said = f"Not saved: {trouble}. Your answer is kept here; r tries again." if trouble else ""
        rows.told = replace(rows.told, trouble=said)

    def action_save_again(self) -> None:
        if self.session is not None and self.outcome is not None:
            self._show_trouble(self.session.retry_save())
            if not self.session.paused:
                self._hint_telling()

    def action_every(self) -> None:
        """Show every answer of a reveal, or the learner's and the best large again."""
        if self.outcome is not None:
            rows = self.query_one(ResultRows)
            rows.whole = not rows.whole

    def action_onward(self) -> None:
        if self.outcome is None or self.session is None or self.session.paused:
            return
        # An Enter pressed twice must not turn the page unread.
        if self.app.app_state.timer() - self._shown_at >= DOUBLE_S:
            self._next()

    # Time

    def _tick(self) -> None:
        if self.session is None:
            return
        bar = self.query_one(TimeBar)
        bar.total_s = self.session.minutes * 60.0
        bar.spent_s = self.session.elapsed
        bar.paused = self.session.paused

    def action_pause(self) -> None:
        if self.session is None:
            return
        if self.session.paused:
            self.session.resume()
            self._show_asking(self.outcome is None)
            if self.outcome is not None:
                self._hint_telling()
            elif self.question is not None:
                self._ask()
                if self._look is not None:
                    # A look that was broken off is over: no second one.
                    self._look.stop()
                    self._hide_scene()
        else:
            self.session.pause()
            # Nothing to study while the clock stands.
            self.query_one("#asking").display = True
            self.query_one("#telling").display = False
            self.query_one("#prompt", Static).update(PAUSED)
            self.query_one(Scene).display = False
            self.query_one(Choices).display = False
            self.setting.display = False
            self._hint(*PAUSED_HINTS)
        self._tick()

    def _show_asking(self, asking: bool) -> None:
        self.query_one("#asking").display = asking
        self.query_one("#telling").display = not asking
        if asking:
            self.query_one(Choices).display = True
        else:
            self.set_focus(None)

    def _hint(self, *hints: Hint) -> None:
        self.query_one(Hints).hints = hints

    # The end

    def action_stop(self) -> None:
        self._end()

    def _end(self) -> None:
        from coach.screens.practice.closing import ClosingScreen

        if self.session is None or not self.session.number:
            self.app.show_today()
        else:
            self.app.app_state.keep_eye()
            self.app.go(ClosingScreen(self.session))
