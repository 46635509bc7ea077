"""What came out, beside what was wanted: what to lay next from here, and how it comes out then."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.session.on_paper import Given, Laid, keep
from coach.widgets.hints import Hint, Hints
from coach.widgets.paint import wrapped
from coach.widgets.scene import Scene
from drills.questions.protocol import Swatch

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.planning.mending.mend import Mending

WORKING = "Looking for what can still be done…"
WIDE = 71
"""Cells that a move has beside its number, at 80."""
IN_WORDS = "It was said in words, and the range counts that doubt in."


class MendingScreen(CoachScreen[None]):
    """``laid`` came to ``got``; ``finished`` where the moves were laid to their end."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        Binding("left,up", "step(-1)", "One laid less"),
        Binding("right,down", "step(1)", "One laid more"),
        Binding("m", "look", "What came now"),
        Binding("k", "ask", "Ask a teacher"),
        Binding("pageup", "read(-1)", "Read back"),
        Binding("pagedown", "read(1)", "Read on"),
    ]

    def __init__(self, laid: Laid, got: Given, finished: bool) -> None:
        super().__init__()
        self.laid = laid
        self.got = got
        self.finished = finished
        self.found: Mending | None = None
        self.at = 0
        """How many of the mending's moves are laid by now."""
        self._kept = ""

    def compose(self) -> ComposeResult:
        yield Static("What came out", id="title", classes="title", markup=False)
        yield Static("", id="off", classes="words", markup=False)
        yield Scene()
        yield Static("", id="moves", classes="words", markup=False)
        with VerticalScroll(id="told", classes="scrolled", can_focus=False):
            yield Static(WORKING, id="words", classes="prose", markup=False)
        yield Hints()

    def on_mount(self) -> None:
        self._take()

    def _take(self) -> None:
        """Keep what came out, and look for what to do about it."""
        self._kept = keep(self.app.app_state, self.laid, self.got, self.finished)
        if "for your hand" in self._kept:
            self.app.make_ready()
        self.query_one("#words", Static).update(WORKING)
        self._mend()

    @work(thread=True, exclusive=True)
    def _mend(self) -> None:
        from drills.planning.mending.mend import mend

        ready = self.app.app_state.ready_for
        assert ready is not None
        laid = self.laid
        found = mend(
            ready.palette, laid.target, self.got.lab, laid.moves,
            target_sd=laid.target_sd, got_sd=self.got.sd,
        )  # fmt: skip
        self.app.call_from_thread(self._mended, found)

    def _mended(self, found: Mending) -> None:
        self.found = found
        self.at = len(found.moves)
        self.fill()

    def fill(self) -> None:
        found = self.found
        if found is None:
            return
        self.query_one("#off", Static).update(f"Beside the target it is {found.off}.")
        scene = self.query_one(Scene)
        if self.app.app_state.depth.true_colour:
            scene.swatches = (Swatch(found.target, "the target"), Swatch(found.got, "what came"))
        lines = [
            f"{('▸' if i == self.at else ' ') + f' {i}' if not at else '':5}{line}"
            for i, one in enumerate(found.moves, start=1)
            for at, line in enumerate(wrapped(f"{one.words}. {one.stop}", WIDE))
        ]
        self.query_one("#moves", Static).update("\n".join(lines))
        self.query_one("#moves").display = bool(lines)
        doubt = IN_WORDS if self.got.how == "in words" else ""
        off, likely = f"ΔE00 {found.delta_e00:.1f} now.", found.likely
        words = found.words
        if self.has_class("-large"):
            words = words.replace(likely.words(), likely.words(few=True))
        told = filter(None, (off, words, doubt, self._kept, self._landing()))
        self.query_one("#words", Static).update("\n".join(told))
        several = (Hint("← →", "how many laid"),) if len(found.moves) > 1 else ()
        mends = (*several, Hint("m", "what came now", "look"))
        self.query_one(Hints).hints = (
            *(mends if found.moves else ()),
            Hint("PgDn", "read on", "read(1)"),
            Hint("k", "ask a teacher", "ask"),
            Hint("Esc", "back", "back"),
        )

    def _landing(self) -> str:
        """Where matches on paper land, once this swatch counts as one."""
        from scores.progress.on_paper import results, words

        state = self.app.app_state
        few = self.has_class("-large")
        return words(results(state.record), state.day, few) if self.finished else ""

    def action_ask(self) -> None:
        """Ask a teacher, with what was wanted and what came."""
        from coach.screens.teaching.ask import AskScreen

        self.app.push_screen(AskScreen(self.laid.target, self.got.lab))

    def action_step(self, by: int) -> None:
        if self.found is not None and self.found.moves:
            self.at = min(len(self.found.moves), max(1, self.at + by))
            self.fill()

    def action_look(self) -> None:
        """The moves marked are laid: ask what they came to."""
        from coach.screens.giving.give import GiveScreen

        found = self.found
        if found is None or not found.moves:
            return
        last = found.moves[self.at - 1]
        screen = GiveScreen(
            "what is on your paper now",
            f"After {self.at} of {len(found.moves)} moves of mending.",
            beside=found.target,
            near=last.predicted_lab,
        )
        self.app.push_screen(screen, self._given)

    def _given(self, got: Given | None) -> None:
        found = self.found
        if got is None or found is None:
            return
        done = found.moves[: self.at]
        self.laid = replace(
            self.laid,
            moves=(*self.laid.moves, *(one.move for one in done)),
            predicted=done[-1].predicted_lab,
            likely=found.likely,
            mended=self.laid.mended + 1,
        )
        self.got, self.finished, self.found = got, True, None
        self._take()

    def action_read(self, by: int) -> None:
        told = self.query_one("#told", VerticalScroll)
        told.scroll_relative(y=by * max(1, told.size.height - 1), animate=False)

    def action_back(self) -> None:
        self.dismiss()
