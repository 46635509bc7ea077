"""Every question of a deck in colour, each with its answer; nothing is asked and nothing kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.screens.base import ReadingScreen
from coach.widgets.choices import Choices
from coach.widgets.hints import Hint, Hints
from coach.widgets.results import ResultRows
from coach.widgets.scene import Scene
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from coach.host import HostApp
    from coach.teaching.previewing import Previewed
    from decks.deck import Deck
    from drills.questions.protocol import Ask, Kind

WORKING = "Drawing the questions…"
NONE = "These pencils can't be asked for any of it. Choose other drills or colours."


class PreviewScreen(ReadingScreen[None]):
    """With the pencils in use, or the demo set before any are."""

    app: HostApp
    READ = "#telling"
    AUTO_FOCUS = ""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("enter,space,right", "go(1)", "Next"),
        Binding("left", "go(-1)", "The one before"),
        Binding("c", "show", "Show to a class"),
    ]

    def __init__(self, deck: Deck) -> None:
        super().__init__()
        self.deck = deck
        self.found: list[Previewed] = []
        self.at = 0
        self.answered = False
        """Whether the answer is shown, or what is asked."""
        self.done = False
        self.seed = 1

    def compose(self) -> ComposeResult:
        yield Static("", id="title", classes="title", markup=False)
        with VerticalScroll(id="telling", can_focus=False):
            yield Static(WORKING, id="prompt", markup=False)
            yield Scene()
            yield Choices()
            yield Static("", id="later", classes="words", markup=False)
            yield Static("", id="answer", markup=False)
            yield ResultRows()
            yield Static("", id="because", markup=False)
        yield Static("", id="missed", classes="words", markup=False)
        yield Hints(
            Hint("Enter", "its answer, then the next", "go(1)"),
            Hint("←", "back", "go(-1)"),
            Hint("↑ ↓", "read on"),
            Hint("c", "show to a class", "show"),
            Hint("Esc", "done", "back"),
        )

    def on_mount(self) -> None:
        self.query_one(Scene).display = False
        # It is looked at here, not answered: the keys are this screen's.
        self.query_one(Choices).can_focus = False
        self.query_one(ResultRows).true_colour = self.app.app_state.depth.true_colour
        self._draw()

    @work(thread=True, exclusive=True)
    def _draw(self) -> None:
        from textual.worker import get_current_worker

        from coach.teaching.previewing import previewed
        from drills.layering.palette import prepare
        from drills.pencils.pencil import PencilSet
        from drills.pencils.sets import demo_set

        worker, app_state = get_current_worker(), self.app.app_state
        made = app_state.ready_for
        try:
            if made is not None:
                palette = made.palette
            else:
                in_use = demo_set() if app_state.newcomer else app_state.prepared()
                palette = prepare(in_use) if isinstance(in_use, PencilSet) else in_use
            for one in previewed(self.deck, palette, self.kinds(), self.seed):
                if worker.is_cancelled:
                    return
                self.app.call_from_thread(self._came, one)
        except InputError as error:
            self.app.call_from_thread(self._say, str(error))
            return
        self.app.call_from_thread(self._end)

    def kinds(self) -> Mapping[str, Kind]:
        """The drills that are shown. Called in a thread."""
        from drills.kinds import all_kinds

        return all_kinds()

    def _came(self, one: Previewed) -> None:
        self.found.append(one)
        if len(self.found) == 1:
            self.fill()
        self._head()

    def _end(self) -> None:
        self.done = True
        if not self.found:
            self._say(NONE)
        else:
            from drills.kinds import all_kinds

            seen = {one.title for one in self.found}
            titles = (kind.title for name, kind in all_kinds().items() if name in self.deck.kinds)
            missed = ", ".join(title for title in titles if title not in seen)
            if missed:
                told = f"With these pencils and colours nothing is asked in: {missed}"
                self.query_one("#missed", Static).update(told)
        self._head()

    def _head(self) -> None:
        if self.found:
            one = self.found[self.at]
            more = "" if self.done else "…"
            self.query_one("#title", Static).update(
                f"{self.at + 1} of {len(self.found)}{more} · {one.title} · {one.about}"
            )

    def fill(self) -> None:
        """Show the question at hand, or its answer."""
        one, told = self.found[self.at], self.answered
        self._head()
        first, *later = one.asks
        scene, choices, rows = (
            self.query_one(Scene),
            self.query_one(Choices),
            self.query_one(ResultRows),
        )
        seen = first.scene if self.app.app_state.depth.true_colour else ()
        because = () if one.reveal is None else (*one.reveal.because, one.reveal.limits)
        words = {
            "prompt": "" if told else first.prompt,
            "later": "" if told else "\n".join(f"Then: {stage_words(asked)}" for asked in later),
            "answer": f"The answer: {one.answer}" if told else "",
            "because": "\n".join(filter(None, because)) if told else "",
        }
        for name, line in words.items():
            self.query_one(f"#{name}", Static).update(line)
            self.query_one(f"#{name}").display = bool(line)
        scene.swatches, scene.display = seen, bool(seen) and not told
        choices.asked, choices.display = first, bool(first.choices) and not told
        rows.reveal, rows.display = one.reveal, told and one.reveal is not None
        self.query_one("#telling", VerticalScroll).scroll_home(animate=False)

    def _say(self, words: str) -> None:
        self.query_one("#prompt", Static).update(words)

    def action_go(self, by: int) -> None:
        """From a question to its answer, and on to the next; or back."""
        place = 2 * self.at + self.answered + by
        if self.found and 0 <= place < 2 * len(self.found):
            self.at, self.answered = place // 2, bool(place % 2)
            self.fill()

    def action_show(self) -> None:
        """The same questions over the whole screen, for a class."""
        self.app.show_deck(self.deck)

    def action_back(self) -> None:
        self.dismiss()


def stage_words(asked: Ask) -> str:
    """A stage of a question in a line: what is asked, and the choices."""
    choices = " / ".join(choice.text for choice in asked.choices)
    return f"{asked.prompt} {choices}".strip()
