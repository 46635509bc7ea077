"""Asking a teacher about a colour: a note, a photo if there is one; then a file is written."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from coach.output import free_name
from coach.screens.base import CoachScreen
from coach.screens.teaching.share import NAME_IT
from coach.widgets.hints import Hint, Hints
from coach.widgets.scene import Scene
from drills.basics.errors import InputError, plain
from drills.questions.protocol import Swatch

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.questions.protocol import Lab

ABOUT = (
    "In the file: these colours, your note, your pencils, the photo made small, the patches of your"
    " hand if you say so, your name for your teacher and a random number. Nothing is sent: you hand"
    " it on."
)

OPENING = "Making the photo small…"


class AskScreen(CoachScreen[None]):
    """About ``wanted``, and ``got`` where something else came."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def __init__(self, wanted: Lab, got: Lab | None = None) -> None:
        super().__init__()
        self.wanted = wanted
        self.got = got
        self.patches = 0
        """How many there are of the student's hand with the pencils in use."""

    def compose(self) -> ComposeResult:
        from coach.teaching.asking import patches_at_hand
        from coach.teaching.sharing import known_name

        with suppress(InputError):
            self.patches = len(patches_at_hand(self.app.app_state.record))
        yield Static("Ask your teacher", classes="title", markup=False)
        yield Scene()
        yield Input(placeholder="what you want to ask", id="note")
        yield Input(placeholder="a photo of it, a file (may be left out)", id="photo")
        if self.patches:
            some = f"y puts in the patches of your hand, {self.patches} of them"
            yield Input(placeholder=some, id="hand")
        name = known_name(self.app.app_state.record)
        yield Input(name, placeholder=NAME_IT, id="name")
        yield Static(ABOUT, id="told", markup=False)
        yield Hints(
            Hint("Enter", "on, then write the file"),
            Hint("Tab", "from field to field"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        told = ((self.wanted, "wanted"), (self.got, "came"))
        if self.app.app_state.depth.true_colour:
            self.query_one(Scene).swatches = tuple(
                Swatch(lab, label) for lab, label in told if lab is not None
            )
        self.query_one("#note", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        if event.input.id != "name":
            self.focus_next()
            return
        photo = self.query_one("#photo", Input).value.strip()
        if photo:
            self._say(OPENING)
            self._make_small(photo)
        else:
            self._write("")

    @work(thread=True, exclusive=True)
    def _make_small(self, photo: str) -> None:
        """Open the photo where a big one keeps nobody waiting."""
        from coach.home import expanded
        from coach.teaching.question import small_photo

        try:
            small = small_photo(str(expanded(photo)))
        except InputError as error:
            self.app.call_from_thread(self._say, str(error))
        else:
            self.app.call_from_thread(self._write, small)

    def _write(self, photo: str) -> None:
        from coach.output import write
        from coach.teaching.asking import asked_by, question_file
        from coach.teaching.question import question_text
        from coach.teaching.sharing import keep_name

        if not self.app.stands(self):
            return
        record = self.app.app_state.record
        note, name = (self.query_one(f"#{one}", Input).value.strip() for one in ("note", "name"))
        said = self.query_one("#hand", Input).value if self.patches else ""
        hand = said.strip().lower() in ("y", "yes")
        try:
            name = keep_name(record, name)
            text = question_text(asked_by(record, self.wanted, self.got, note, photo, hand))
            path = free_name(Path.cwd(), question_file(name))
            write(str(path), [text])
        except InputError as error:
            self._say(str(error))
        else:
            self._say(f"Written. Send your teacher this file:\n{plain(str(path), 200)}")

    def _say(self, words: str) -> None:
        if self.app.stands(self):
            self.query_one("#told", Static).update(words)

    def action_back(self) -> None:
        self.dismiss()
