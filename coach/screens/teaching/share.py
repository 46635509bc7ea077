"""Answers for a teacher: which deck, under what name, what is in the file; then it is written."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.output import free_name
from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from drills.basics.counted import counted
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from coach.host import HostApp
    from scores.exchange.results_written import Share
    from scores.record.decks_added import DeckKept

WITH_PENCILS = (
    "p puts the colours of your pencils in too: then your teacher can choose colours that you"
    " can reach. They stay out unless you do."
)
NAME_IT = "Which name will your teacher know you by? It need not be your own."


class ShareScreen(CoachScreen[None]):
    """Every deck added; Enter writes the marked one's results where the app was started."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("n", "name", "Another name"),
        Binding("p", "pencils", "Your pencils too"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.decks: tuple[DeckKept, ...] = ()
        self.name_now = ""
        self.pencils_too = False
        """Whether the colours of the pencils go in as well: only when asked for."""

    def compose(self) -> ComposeResult:
        yield Static("Share with your teacher", classes="title", markup=False)
        yield Lines(markup=False)
        yield Input()
        yield Static("", id="told", markup=False)
        yield Hints(
            Hint("↑ ↓", "which deck"),
            Hint("Enter", "write the file"),
            Hint("n", "another name", "name"),
            Hint("p", "your pencils too, or not", "pencils"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        from coach.teaching.sharing import known_name
        from scores.record.decks_added import decks_kept

        record = self.app.app_state.record
        self.decks, self.name_now = decks_kept(record), known_name(record)
        options = self.query_one(OptionList)
        for at, kept in enumerate(self.decks):
            options.add_option(Option(plain(kept.title), id=str(at)))
        if not self.decks:
            self._say("There is no deck to share yet. Add one with a on the first screen.")
            return
        options.highlighted = 0
        options.focus()
        if not self.name_now:
            self.action_name()

    def on_option_list_option_highlighted(self) -> None:
        if self.name_now:
            self._tell()

    def _tell(self) -> None:
        """The four lines on what would be in the file."""
        from coach.teaching.sharing import shown

        kept = self._marked()
        try:
            made = self._made(kept)
        except InputError as error:
            self._say(str(error))
        else:
            more = [] if self.pencils_too else ["", WITH_PENCILS]
            self._say("\n".join(["In the file:", "", *shown(made), *more]))

    def _made(self, kept: DeckKept) -> Share:
        from coach.teaching.sharing import made_of

        app_state = self.app.app_state
        return made_of(app_state.record, kept, self.name_now, app_state.clock(), self.pencils_too)

    def _marked(self) -> DeckKept:
        return self.decks[self.query_one(OptionList).highlighted or 0]

    def on_option_list_option_selected(self) -> None:
        """Write it, over nothing that is there."""
        from coach.output import write
        from coach.teaching.sharing import file_name

        if not self.name_now:
            self.action_name()
            return
        kept = self._marked()
        try:
            made = self._made(kept)
            path = free_name(Path.cwd(), file_name(self.name_now, kept.title))
            write(str(path), [made.text])
        except InputError as error:
            self._say(str(error))
        else:
            where = plain(str(path), 200)
            self._say(
                f"Written, {counted(made.answers, 'answer')}. Send your teacher this file:\n{where}"
            )

    def action_pencils(self) -> None:
        """Put the colours of the pencils in, or leave them out again."""
        self.pencils_too = not self.pencils_too
        if self.decks and self.name_now:
            self._tell()

    def action_name(self) -> None:
        if self.decks:
            field = self.query_one(Input)
            field.value = self.name_now
            field.display = True
            field.focus()
            self._say(NAME_IT)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        from coach.teaching.sharing import keep_name

        try:
            self.name_now = keep_name(self.app.app_state.record, event.value)
        except InputError as error:
            self._say(str(error))
            return
        event.input.display = False
        self.query_one(OptionList).focus()
        self._tell()

    def _say(self, words: str) -> None:
        self.query_one("#told", Static).update(words)

    def action_back(self) -> None:
        self.dismiss()
