"""The colours kept by a name: planned for, practised, put into a deck, or let go."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from coach.widgets.paint import beyond_screen, cell_style
from drills.basics.errors import plain

if TYPE_CHECKING:
    from coach.host import HostApp
    from scores.learner.kept_colours import KeptColour

NONE_YET = "No colour is kept yet. Enter keeps the spot under a photo's crosshair by a name."
_SWATCH = 8


class KeptScreen(CoachScreen["KeptColour | None"]):
    """Every colour kept, with its reading, and where it can go at one key.

    With ``picks``, Enter dismisses it with the marked one.
    """

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        Binding("m", "match", "Match it in drills"),
        Binding("o", "alone", "Practise it alone"),
        Binding("w", "deck", "Into a deck"),
        Binding("d", "forget", "Forget it"),
    ]

    def __init__(self, picks: bool = False) -> None:
        super().__init__()
        self.picks = picks
        self.colours: tuple[KeptColour, ...] = ()
        self._asked = ""
        """The name of the colour that a second d lets go."""

    def compose(self) -> ComposeResult:
        yield Static("Colours kept", classes="title", markup=False)
        yield Lines(markup=False)
        yield Static("", id="note", classes="words", markup=False)
        ways = (
            Hint("o", "practise it now", "alone"),
            Hint("m", "match it in days to come", "match"),
            Hint("w", "into a deck", "deck"),
            Hint("d", "forget", "forget"),
        )
        yield Hints(
            Hint("↑ ↓ Enter", "take it" if self.picks else "plan it"),
            *(() if self.picks else ways),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self._fill()

    def _fill(self) -> None:
        from scores.learner.kept_colours import kept_colours

        self.colours = kept_colours(self.app.app_state.record)
        options = self.query_one(OptionList)
        options.clear_options()
        options.add_options([Option(self._line(colour)) for colour in self.colours])
        self.query_one("#note", Static).update("" if self.colours else NONE_YET)
        options.display = bool(self.colours)
        if self.colours:
            options.highlighted = 0
        options.focus()

    def _line(self, colour: KeptColour) -> Text:
        from drills.colour.reading import read_colour

        line = Text()
        if self.app.app_state.depth.true_colour and not beyond_screen(colour.lab):
            line.append(" " * _SWATCH, cell_style(colour.lab))
            line.append("  ")
        line.append(f"{colour.name}: {read_colour(colour.lab).sentence()}")
        return line

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        colour = self.colours[event.option_index]
        if self.picks:
            self.dismiss(colour)
        else:
            self.app.plan_for(colour.lab, colour.sd)

    @property
    def _marked(self) -> KeptColour | None:
        """The marked colour, where there is one and it isn't only to be picked."""
        at = self.query_one(OptionList).highlighted
        return None if at is None or self.picks or not self.colours else self.colours[at]

    def action_alone(self) -> None:
        """Practise the marked colour now, and nothing else."""
        from drills.colour.spaces import hex_of

        colour, state = self._marked, self.app.app_state
        note = self.query_one("#note", Static)
        if colour is None:
            return
        if beyond_screen(colour.lab):
            note.update("No screen shows this colour, so it can't be asked about.")
        elif not state.depth.true_colour:
            note.update("This terminal can't show it truly, so it isn't asked about here.")
        elif state.ready_for is None:
            note.update("Your pencils are being made ready. Press o once more in a moment.")
        else:
            self.app.begin_one(f"colour:{hex_of(colour.lab)}")

    def action_deck(self) -> None:
        """Begin a deck with the marked colour among its named ones."""
        from dataclasses import replace

        from coach.teaching.drafting import EMPTY, kept_target
        from decks.fields import FaultError

        colour = self._marked
        if colour is None:
            return
        try:
            deck = replace(EMPTY, targets=(kept_target(colour.name, colour.lab),))
        except FaultError as error:
            self.query_one("#note", Static).update(f"{error.problem}. {error.remedy}".capitalize())
        else:
            self.app.write_deck(deck)

    def action_match(self) -> None:
        """Put the marked colour on the list of those that the day's match takes."""
        from drills.colour.spaces import hex_of
        from drills.questions.given_colour import region_of
        from scores.record.record import NotSavedError
        from scores.today.wishes import Wish, keep_one_more

        colour = self._marked
        if colour is None:
            return
        note = self.query_one("#note", Static)
        try:
            wish = Wish(colour.lab, hex_of(colour.lab), region_of(colour.lab))
            keep_one_more(self.app.app_state.record, wish)
        except (ValueError, NotSavedError) as error:
            note.update(f"Not put on your list: {error}.")
        else:
            note.update(f"Your matches will take “{plain(colour.name)}”.")

    def action_forget(self) -> None:
        """Let the marked colour go; asked for twice."""
        from scores.learner.kept_colours import forget_colour
        from scores.record.record import NotSavedError

        colour = self._marked
        if colour is None:
            return
        name = colour.name
        note = self.query_one("#note", Static)
        if self._asked != name:
            self._asked = name
            note.update(f"Press d again to forget “{name}”.")
            return
        try:
            forget_colour(self.app.app_state.record, name)
        except NotSavedError as error:
            note.update(f"It was not forgotten: {error}")
            return
        self._asked = ""
        self._fill()

    def action_back(self) -> None:
        self.dismiss(None)
