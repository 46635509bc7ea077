"""A deck's questions before a class, on a projector: one over the whole screen, then its reveal.

Hands shown for each choice may be counted; the count is gone with the screen.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.timer import Timer
from textual.widgets import Input, Static

from coach.design.measures import MARGIN, MEASURE
from coach.screens.teaching.preview_deck import NONE, PreviewScreen
from coach.screens.teaching.showing.asking import prompt
from coach.screens.teaching.showing.hands import HOW, counted, read_hands, said_words, told
from coach.widgets.choices import Choices, keys_for
from coach.widgets.hints import Hint, Hints
from coach.widgets.paint import wrapped
from coach.widgets.results import GAP, ResultRows
from coach.widgets.scene import Scene, seen
from drills.basics.errors import InputError
from drills.questions.protocol import Ask

if TYPE_CHECKING:
    from collections.abc import Mapping

    from drills.questions.protocol import Kind

FEW_COLOURS = "Swatches need 24-bit colour. In a browser they have it: coach serve"
MOST_ROWS = 60
"""Rows of a swatch at most: as many as there are."""
WORDS = 40
"""Cells for the words beside the swatches of a reveal."""
Place = tuple[int, int]
"""A question, and a stage of it."""


class HandChoices(Choices, can_focus=False):
    """Choices that are clicked once for each hand, however fast."""

    def on_click(self, event: events.Click) -> None:
        # The second click of two is no double click here, but the next hand. What it does is
        # the base's own, which is called after this.
        event.chain = 1


class ShowDeckScreen(PreviewScreen, inherit_bindings=False):
    """The questions that ``PreviewScreen`` shows, large and without what gives them away."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        # What turns slides sends the page keys (common practice, no source).
        Binding("enter,space,right,pagedown", "go(1)", "Next"),
        Binding("left,pageup", "go(-1)", "The one before"),
        Binding("up", "read('up')", "Read back"),
        Binding("down", "read('down')", "Read on"),
        Binding("t", "type", "Type the hands"),
        Binding("backspace", "take_back", "Take one back"),
        Binding("s", "skip", "The next drill"),
        Binding("o", "others", "Other questions"),
        Binding("l", "every", "Every answer"),
    ]

    stage = 0
    """The stage that is shown; one past the last is the answer."""

    def compose(self) -> ComposeResult:
        yield Static("", id="title", classes="title", markup=False)
        with VerticalScroll(id="telling", can_focus=False):
            yield Static("", id="prompt", classes="words", markup=False)
            yield Scene()
            yield HandChoices()
            yield Static("", id="answer", classes="words", markup=False)
            yield ResultRows()
            yield Static("", id="because", classes="words", markup=False)
        yield Static("", id="hands", classes="words", markup=False)
        yield Input(id="counts", classes="-asked", placeholder=HOW)
        yield Hints()

    def on_mount(self) -> None:
        self.hands: dict[Place, list[int]] = {}
        self.order: list[int] = []
        """The choices that the hands went to, one after another, for taking one back."""
        self._look: Timer | None = None
        self.query_one(Scene).whole = True
        choices, rows = self.query_one(HandChoices), self.query_one(ResultRows)
        choices.most_rows = rows.most = MOST_ROWS
        rows.true_colour = self.app.app_state.depth.true_colour
        self.begin()

    def begin(self) -> None:
        """Draw the questions."""
        self._say("")
        self.query_one("#title", Static).update("Drawing the questions…")
        self._hint()
        self._draw()

    def kinds(self) -> Mapping[str, Kind]:
        """All that this terminal can show."""
        every = super().kinds()
        if self.app.app_state.depth.true_colour:
            return every
        return {name: kind for name, kind in every.items() if not kind.needs_colour}

    # What is shown

    @property
    def asked(self) -> Ask | None:
        """The stage that is shown; None at the answer, or before any question is there."""
        if not self.found or self.stage >= len(self.found[self.at].asks):
            return None
        return self.found[self.at].asks[self.stage]

    def _head(self) -> None:
        if self.found:
            one = self.found[self.at]
            more = "" if self.done else "…"
            # The colour family may be the very answer: told with it.
            about = "" if self.asked else f" · {one.about}"
            self.query_one("#title", Static).update(
                f"{self.at + 1} of {len(self.found)}{more} · {one.title}{about}"
            )
            self._hint()

    def _end(self) -> None:
        self.done = True
        if not self.found:
            self._say(NONE if self.app.app_state.depth.true_colour else FEW_COLOURS)
        self._head()

    def fill(self) -> None:
        """Show the stage at hand, or the answer."""
        one, asked = self.found[self.at], self.asked
        because = () if one.reveal is None else (*one.reveal.because, one.reveal.limits)
        words = {
            "prompt": prompt(asked) if asked else "",
            "answer": "" if asked else f"The answer: {one.answer}",
            "because": "" if asked else "\n".join(filter(None, because)),
        }
        for name, line in words.items():
            self.query_one(f"#{name}", Static).update(line)
            self.query_one(f"#{name}").display = bool(line)
        scene, choices = self.query_one(Scene), self.query_one(HandChoices)
        scene.swatches = () if asked is None else seen(asked)
        scene.display = bool(scene.swatches)
        choices.asked, choices.display = asked, bool(asked and asked.choices)
        self._look_once(asked)
        rows = self.query_one(ResultRows)
        # And the empty rows above the swatches and the words below them.
        spoken = "\n".join(filter(None, words.values())).split("\n")
        prose = max(1, min(MEASURE, self.size.width - 2 * MARGIN))
        rows.elsewhere = 2 + sum(len(wrapped(line, prose)) for line in spoken)
        rows.half_cells = self._half()
        rows.whole, rows.reveal = False, None if asked else one.reveal
        rows.display = rows.reveal is not None
        self.query_one("#telling", VerticalScroll).scroll_home(animate=False)
        self._end_typing()
        self._head()

    def _look_once(self, asked: Ask | None) -> None:
        if self._look is not None:
            self._look.stop()
        self._look = None
        if asked is not None and asked.look_s:
            self._look = self.set_timer(asked.look_s, self._hide_scene)

    def _hide_scene(self) -> None:
        self.query_one(Scene).swatches = ()

    def _half(self) -> int:
        """Cells of each swatch of a reveal: what short lines of words leave."""
        reveal = self.found[self.at].reveal
        if reveal is None:
            return 0
        blocks = 1 + bool(reveal.target) + any(row.beside for row in reveal.results)
        return max(0, self.size.width - 2 * MARGIN - WORDS - GAP) // blocks

    def on_resize(self) -> None:
        if self.found:
            self.fill()

    def tell_hands(self) -> None:
        """How many said what, and with the answer what that comes to."""
        lines, one = [], self.found[self.at]
        for stage, asked in enumerate(one.asks):
            counts = self.hands.get((self.at, stage))
            if not counts or not counted(asked):
                continue
            if self.asked is asked:
                lines.append(said_words(asked.choices, counts))
            elif self.asked is None and one.answers is not None:
                lines.append(told(asked.choices, counts, one.answers[stage][0]))
        self._say("\n".join(filter(None, lines)))

    def _say(self, words: str) -> None:
        said = self.query_one("#hands", Static)
        said.update(words)
        said.display = bool(words)

    def _hint(self) -> None:
        asked = self.asked
        more = asked is not None and self.stage + 1 < len(self.found[self.at].asks)
        on = "go on" if more else "the next" if asked is None else "the answer"
        hints = [Hint("Enter", on, "go(1)"), Hint("←", "back", "go(-1)")] if self.found else []
        if asked is not None and counted(asked):
            keys = keys_for(asked.choices)
            hints += [
                Hint(f"{keys[0]}–{keys[len(asked.choices) - 1]}", "a hand"),
                Hint("Backspace", "one less", "take_back"),
                Hint("t", "type the hands", "type"),
            ]
        elif asked is None and self.found:
            hints += [Hint("↑ ↓", "read on")]
            hints += [Hint("l", "every answer", "every")] * self.query_one(ResultRows).hiding
        hints += [Hint("s", "next drill", "skip")] * (len({one.kind for one in self.found}) > 1)
        last = (Hint("o", "other questions", "others"), Hint("Esc", "done", "back"))
        self.query_one(Hints).hints = (*hints, *last)

    def on_result_rows_hiding(self) -> None:
        self._hint()

    # What the teacher does

    def action_go(self, by: int) -> None:
        """From a stage to the next, to the answer, and on to the next question; or back."""
        if not self.found:
            return
        at, stage = self.at, self.stage + by
        if stage < 0:
            at -= 1
            stage = len(self.found[at].asks) if at >= 0 else 0
        elif stage > len(self.found[at].asks):
            at, stage = at + 1, 0
        if 0 <= at < len(self.found):
            self.to(at, stage)

    def to(self, at: int, stage: int = 0) -> None:
        """Show a question, from a stage on."""
        self.at, self.stage, self.order = at, stage, []
        self.fill()

    def action_skip(self) -> None:
        """On to the next drill's first question; from the last drill to the first."""
        if self.found:
            kind = self.found[self.at].kind
            later = [at for at, one in enumerate(self.found) if at > self.at and one.kind != kind]
            self.to(later[0] if later else 0)

    def action_others(self) -> None:
        """Draw other questions of the deck."""
        if self.done:
            self.seed += 1
            self.found, self.hands, self.done = [], {}, False
            self.at, self.stage = 0, 0
            self.begin()

    def action_every(self) -> None:
        """Show every answer of a reveal, or the best alone again."""
        rows = self.query_one(ResultRows)
        rows.whole = not rows.whole

    def on_key(self, event: events.Key) -> None:
        """A choice's key is a hand for it; of an order, the next place."""
        pressed, asked = (event.character or "").lower(), self.asked
        if asked is None or not pressed or self.query_one(Input).has_focus:
            return
        keys = keys_for(asked.choices)[: len(asked.choices)]
        if pressed in keys:
            event.stop()
            self.query_one(HandChoices).pick(keys.index(pressed))

    def on_choices_replied(self, message: Choices.Replied) -> None:
        asked = self.asked
        if asked is None or message.asked is not asked:
            return
        if not counted(asked):
            if len(asked.choices) == 1:
                self.action_go(1)
            return
        at = [choice.key for choice in asked.choices].index(message.reply[0])
        self._counts(asked)[at] += 1
        self.order.append(at)
        self.tell_hands()

    def _counts(self, asked: Ask) -> list[int]:
        return self.hands.setdefault((self.at, self.stage), [0] * len(asked.choices))

    def action_take_back(self) -> None:
        """Take the last hand back; of an order, what was placed last."""
        asked = self.asked
        if asked is None:
            return
        if asked.form == "arrange":
            self.query_one(HandChoices).action_back()
        elif self.order:
            self._counts(asked)[self.order.pop()] -= 1
            self.tell_hands()

    def action_type(self) -> None:
        """Type how many hands each choice has."""
        asked = self.asked
        if asked is not None and counted(asked):
            field = self.query_one(Input)
            field.value, field.display = "", True
            field.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        asked = self.asked
        if asked is None:
            return
        try:
            counts = read_hands(event.value, len(asked.choices))
        except InputError as error:
            self._say(str(error))
            return
        self.hands[self.at, self.stage], self.order = list(counts), []
        self._end_typing()

    def _end_typing(self) -> None:
        field = self.query_one(Input)
        field.display = False
        self.set_focus(None)
        self.tell_hands()

    def action_back(self) -> None:
        """Close the field, then the screen; where it is the only one, the app."""
        if self.query_one(Input).display:
            self._end_typing()
        elif len(self.app.screen_stack) > 1:
            self.dismiss()
        else:
            self.app.leave()
