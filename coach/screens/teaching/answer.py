"""A teacher's reply: to a question that came or to a student, with a note and next work."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from coach.output import free_name
from coach.screens.base import CoachScreen
from coach.screens.teaching.add import files_about
from coach.widgets.hints import Hint, Hints
from coach.widgets.scene import Scene
from drills.basics.errors import InputError, plain
from drills.questions.protocol import Swatch

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.teaching.reply import Reply

ABOUT = (
    "A question's file is answered with a plan from the student's own pencils. A student's name"
    " alone takes a note, work, or both."
)
WORKING = "Looking for a plan with the student's pencils…"


class AnswerScreen(CoachScreen[None]):
    """``student`` is the one marked in the class, or empty."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def __init__(self, student: str = "") -> None:
        super().__init__()
        self.student = student

    def compose(self) -> ComposeResult:
        asked = files_about((Path.cwd(), Path.home() / "Downloads"), (".question.json",))
        yield Static("Reply to a student", classes="title", markup=False)
        yield Static("To: a question's file, or a student", classes="words", markup=False)
        yield Input(str(asked[0]) if asked else self.student, id="to")
        yield Static("Your note", classes="words", markup=False)
        yield Input(id="note")
        yield Static("Next work: a deck's file (may be left out)", classes="words", markup=False)
        yield Input(id="deck")
        yield Static("From: your name", classes="words", markup=False)
        yield Input("Your teacher", id="author")
        yield Scene()
        with VerticalScroll(can_focus=False):
            yield Static(ABOUT, id="told", markup=False)
        yield Hints(
            Hint("Enter", "on, then write the file"),
            Hint("Tab", "from field to field"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.query_one("#to", Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        if event.input.id == "to":
            self._look(event.value.strip())
        if event.input.id != "author":
            self.focus_next()
            return
        to, note, deck, author = (
            self.query_one(f"#{one}", Input).value.strip()
            for one in ("to", "note", "deck", "author")
        )
        self._say(WORKING)
        self._reply(to, note, deck, author)

    def _look(self, to: str) -> None:
        """Show the question, where it is one."""
        from coach.teaching.question import load_question, question_lines

        if not to.endswith(".json"):
            return
        try:
            asked = load_question(to)
        except InputError as error:
            self._say(str(error))
            return
        photo = ["There is a photo in it: coach class question FILE --photo OUT"]
        lines = [" ".join(texts) for _, texts in question_lines(asked)]
        self._say("\n".join([*lines, *(photo if asked.photo else [])]))
        told = ((asked.wanted, "wanted"), (asked.got, "came"))
        self._show(tuple(Swatch(lab, label) for lab, label in told if lab is not None))

    def _show(self, swatches: tuple[Swatch, ...]) -> None:
        scene = self.query_one(Scene)
        scene.swatches = swatches if self.app.app_state.depth.true_colour else ()
        scene.display = bool(scene.swatches)

    @work(thread=True, exclusive=True)
    def _reply(self, to: str, note: str, deck: str, author: str) -> None:
        from coach.teaching.reply import reply_text
        from coach.teaching.replying import reply_for

        try:
            made = reply_for(to, author, note, deck or None)
            text = reply_text(made)
        except InputError as error:
            self.app.call_from_thread(self._say, str(error))
        else:
            self.app.call_from_thread(self._write, made, text)

    def _write(self, reply: Reply, text: str) -> None:
        from coach.output import write
        from coach.screens.teaching.read_reply import swatches_of
        from coach.teaching.replies_kept import reply_words
        from coach.teaching.sharing import file_name

        if not self.app.stands(self):
            return
        try:
            path = free_name(Path.cwd(), file_name(reply.name, "reply", "reply.json"))
            write(str(path), [text])
        except InputError as error:
            self._say(str(error))
            return
        where = f"Written for {reply.name}. Send them this file: {plain(str(path), 200)}"
        self._say("\n".join([where, "", *reply_words(reply)]))
        self._show(swatches_of(reply))

    def _say(self, words: str) -> None:
        if self.app.stands(self):
            self.query_one("#told", Static).update(words)

    def action_back(self) -> None:
        self.dismiss()
