"""Results that came back: a folder or a file is named, and what each brought is told."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.host import HostApp

ABOUT = (
    "Put the files that students sent into one folder and name it here. The same file twice, or"
    " an older one later, changes nothing."
)


class CollectScreen(CoachScreen[bool]):
    """Dismissed with whether any answers came in."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "Back")]

    def __init__(self) -> None:
        super().__init__()
        self.any = False

    def compose(self) -> ComposeResult:
        yield Static("Add results to the class", classes="title", markup=False)
        yield Static(ABOUT, classes="words", markup=False)
        yield Input(placeholder="the folder or file, for example ~/Downloads/sent")
        with VerticalScroll(can_focus=False):
            yield Static("", id="told", markup=False)
        yield Hints(Hint("Enter", "add them"), Hint("Esc", "to the class", "back"))

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        from coach.home import class_path
        from coach.teaching.merging import in_sum, merge, results_in
        from scores.classes.store import ClassBook

        told = self.query_one("#told", Static)
        if not (name := event.value.strip()):
            return
        try:
            files = results_in(name)
            book = ClassBook.open(class_path())
            try:
                merged = list(merge(book, files, self.app.app_state.clock()))
            finally:
                book.close()
        except InputError as error:
            told.update(str(error))
            return
        self.any |= any(one.new for one in merged)
        told.update("\n".join([in_sum(merged), "", *(one.words for one in merged)]))

    def action_back(self) -> None:
        self.dismiss(self.any)
