"""A course opened by its teacher: its decks in their order, and when each opens for a student."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static

from coach.reports.deck_words import level_line
from coach.screens.base import CoachScreen
from coach.session.assigned.course_work import as_sent, opening_words, place_words
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from coach.widgets.paint import shortened
from decks.deck import Deck
from drills.basics.counted import counted

if TYPE_CHECKING:
    from coach.host import HostApp
    from coach.session.assigned.deck_progress import DeckStanding
    from decks.courses.course import Course

ABOUT = (
    "A student gets these in their order. Enter opens one: changed and sent alone, it keeps its"
    " place in the course."
)


class CourseScreen(CoachScreen[Deck]):
    """Dismissed with the deck to go on with, or with None."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("p", "preview", "See the questions"),
    ]

    def __init__(self, course: Course) -> None:
        super().__init__()
        self.course = course
        self.decks = as_sent(course).decks

    def compose(self) -> ComposeResult:
        yield Static(self.course.title, classes="title", markup=False)
        yield Static(level_line(self.course), classes="words faint", markup=False)
        yield Lines(markup=False)
        yield Static(ABOUT, classes="words", markup=False)
        yield Hints(
            Hint("↑ ↓", "look"),
            Hint("Enter", "open the deck"),
            Hint("p", "see the questions", "preview"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.query_one(OptionList).focus()

    def on_resize(self) -> None:
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        room = max(20, self.size.width - 8)
        options.clear_options()
        options.add_options(
            "\n".join(shortened(line, room) for line in _lines(one)) for one in self.decks
        )
        options.highlighted = at

    @property
    def _deck(self) -> Deck:
        return self.decks[self.query_one(OptionList).highlighted or 0].deck

    def on_option_list_option_selected(self) -> None:
        self.dismiss(self._deck)

    def action_preview(self) -> None:
        """Show every question of the marked deck, in colour, with its answer."""
        from coach.screens.teaching.preview_deck import PreviewScreen

        self.app.push_screen(PreviewScreen(self._deck))

    def action_back(self) -> None:
        self.dismiss(None)


def _lines(one: DeckStanding) -> tuple[str, str]:
    deck = one.deck
    asks = f"{counted(deck.items_a_day, 'question')} a day for {counted(deck.days, 'day')}"
    return f"{place_words(one)}: {deck.title}, {asks}", f"  {opening_words(one)}"
