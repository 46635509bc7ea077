"""A deck made by choosing and looking: a line a thing, every question to be seen, then a file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from rich.cells import set_cell_size
from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.output import free_name
from coach.screens.base import CoachScreen
from coach.teaching.drafting import (
    EMPTY,
    LINES,
    DraftLine,
    fault,
    standing_in,
    turned,
    typed,
    written,
)
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from coach.widgets.paint import shortened
from drills.basics.counted import counted
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from coach.host import HostApp
    from decks.deck import Deck

ABOUT = "Enter changes the marked line. p shows every question; w writes the file to send."
OPEN, SHEET = "open", "sheet"
LABEL = 20


class WriteDeckScreen(CoachScreen[None]):
    """A deck from nothing, from ``begun``, or one opened from its file."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        Binding("minus,left", "turn(-1)", "Less"),
        Binding("plus,equals_sign,right", "turn(1)", "More"),
        Binding("p", "preview", "See the questions"),
        Binding("c", "show", "Show to a class"),
        Binding("w", "write", "Write the file"),
        Binding("o", "open_file", "Open a deck or course"),
        Binding("s", "sheet", "A day on paper"),
    ]

    def __init__(self, begun: Deck = EMPTY) -> None:
        super().__init__()
        self.deck: Deck = begun
        self.titles: dict[str, str] = {}
        self._typing = ""
        """The key that is being typed into; OPEN for a file's path, SHEET for a day."""
        self._left_unsaved = False
        self._saved: Deck = EMPTY

    def compose(self) -> ComposeResult:
        yield Static("Make a deck", classes="title", markup=False)
        yield Lines(markup=False)
        yield Input()
        yield Static(ABOUT, id="told", classes="words", markup=False)
        yield Hints(
            Hint("Enter", "change"),
            Hint("− +", "less, more", "turn(1)"),
            Hint("p", "see the questions", "preview"),
            Hint("c", "show to a class", "show"),
            Hint("w", "write the file", "write"),
            Hint("o", "open a deck or course", "open_file"),
            Hint("s", "a day on paper", "sheet"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        from drills.kinds import all_kinds

        self.titles = {name: kind.title for name, kind in all_kinds().items()}
        self.fill()
        self.query_one(OptionList).focus()

    def on_resize(self) -> None:
        self.fill()

    def fill(self) -> None:
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        room = max(20, self.size.width - LABEL - 8)
        options.clear_options()
        options.add_options(
            Option(
                set_cell_size(line.words, LABEL)
                + shortened(standing_in(self.deck, line.key, self.titles).replace("\n", " "), room),
                id=line.key,
            )
            for line in LINES
        )
        options.highlighted = at

    def take(self, deck: Deck) -> None:
        """Go on with the deck as changed."""
        self.deck, self._left_unsaved = deck, False
        self.fill()
        self._say(fault(deck, self.titles) or ABOUT)

    @property
    def _line(self) -> DraftLine:
        return LINES[self.query_one(OptionList).highlighted or 0]

    def on_option_list_option_selected(self) -> None:
        line = self._line
        if line.by == "typing":
            self._type(line.key, typed(self.deck, line.key), line.hint)
        elif line.by == "choosing":
            self._choose(line)
        elif line.by == "looking":
            from coach.screens.teaching.targets import TargetsScreen

            self.app.push_screen(TargetsScreen(self.deck), self._changed)
        else:
            self._say("− and + change it.")

    def _choose(self, line: DraftLine) -> None:
        from coach.screens.teaching.choose_several import ChooseScreen
        from decks.vocabulary import region_names
        from drills.kinds import all_kinds

        if line.key == "kinds":
            titled = sorted(all_kinds().items(), key=lambda one: one[1].title)
            offered = {name: kind.title for name, kind in titled}
            more = {
                name: f"{kind.trains[:1].upper()}{kind.trains[1:]}."
                for name, kind in all_kinds().items()
            }
            about = "What the student does. Enter puts the mark on or takes it off."
        else:
            offered, more = {name: name for name in region_names()}, {}
            about = "Where the questions lie; none marked is all that the pencils can make."
        screen = ChooseScreen(line.words, about, offered, getattr(self.deck, line.key), more)
        self.app.push_screen(screen, lambda names: self._chosen(line.key, names))

    def _chosen(self, key: str, names: tuple[str, ...] | None) -> None:
        from coach.teaching.drafting import chosen

        if names is not None:
            self.take(chosen(self.deck, key, names))

    def _changed(self, deck: Deck | None) -> None:
        if deck is not None:
            self.take(deck)

    def _type(self, key: str, text: str, hint: str) -> None:
        self._typing = key
        field = self.query_one(Input)
        field.value, field.placeholder, field.display = text, hint, True
        field.focus()
        does = {OPEN: "opens it", SHEET: "writes its pages"}.get(key, "keeps it")
        self._say(f"{hint[:1].upper()}{hint[1:]}. Enter {does}.")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        typing, text = self._typing, event.value.strip()
        try:
            if typing == OPEN:
                self._open(text)
            elif typing == SHEET:
                self._write_sheet(day_of(text, self.deck))
            else:
                found = written(self.deck, typing, event.value)
                self._end_typing()
                self.take(found)
        except InputError as error:
            self._say(str(error))

    def _open(self, path: str) -> None:
        """Go on with a deck's file, or with one of a course's decks. Raises InputError."""
        from coach.home import expanded
        from decks.courses.course_file import CheckedCourse, load_work

        found = load_work(expanded(path))
        if isinstance(found, CheckedCourse):
            from coach.screens.teaching.course_decks import CourseScreen

            screen = CourseScreen(found.sound())
            self._end_typing()
            self._say(ABOUT)
            self.app.push_screen(screen, self._opened)
        else:
            deck = found.sound()
            self._end_typing()
            self._opened(deck)

    def _opened(self, deck: Deck | None) -> None:
        if deck is not None:
            self._saved = deck
            self.take(deck)

    def _end_typing(self) -> None:
        self._typing = ""
        self.query_one(Input).display = False
        self.query_one(OptionList).focus()

    def action_turn(self, by: int) -> None:
        if self._line.by == "turning":
            self.take(turned(self.deck, self._line.key, by))

    def action_open_file(self) -> None:
        self._type(OPEN, "", "a deck's or course's file, for example ~/greens.deck.toml")

    def action_sheet(self) -> None:
        """Ask which day of it goes on paper."""
        if trouble := fault(self.deck, self.titles):
            self._say(trouble)
            return
        self._type(SHEET, "1", f"which day to put on paper, 1 to {self.deck.days}")

    def _write_sheet(self, day: int) -> None:
        self._end_typing()
        self._say("Making the pages…")
        self._make_sheet(self.deck, day)

    @work(thread=True, exclusive=True)
    def _make_sheet(self, deck: Deck, day: int) -> None:
        from coach.teaching.paper.sheet import PaperDeck
        from coach.teaching.paper.writing import asked_of, write_day
        from coach.teaching.sharing import file_word
        from drills.kinds import all_kinds
        from drills.layering.palette import prepare
        from drills.pencils.sets import demo_set

        made = self.app.app_state.ready_for
        try:
            own = prepare(demo_set()) if made is None else made.palette
            sheet = asked_of(PaperDeck(deck, own, all_kinds()).sheet(day))
            paths = write_day(Path.cwd(), sheet, file_word(deck.title))
        except InputError as error:
            self.app.call_from_thread(self._say, str(error))
            return
        told = [
            f"Sheet {sheet.name}, {counted(len(sheet.questions), 'question')}, and its answers."
            " Open them in a browser and print them:",
            *(plain(str(path), 200) for path in paths),
        ]
        if deck != self._saved:
            told.append("Write the deck too (w): what comes back is graded by its file.")
        self.app.call_from_thread(self._say, "\n".join(told))

    def action_preview(self) -> None:
        """Show every question of it, in colour, with its answer."""
        from coach.screens.teaching.preview_deck import PreviewScreen

        if self._has_questions():
            self.app.push_screen(PreviewScreen(self.deck))

    def action_show(self) -> None:
        """Show its questions to a class, over the whole screen."""
        if self._has_questions():
            self.app.show_deck(self.deck)

    def _has_questions(self) -> bool:
        if not self.deck.kinds:
            self._say("Choose drills first; then there are questions to see.")
        return bool(self.deck.kinds)

    def action_write(self) -> None:
        """Write the file to send, over nothing that is there."""
        from coach.output import write
        from coach.teaching.sharing import file_word
        from decks.pack import pack

        if trouble := fault(self.deck, self.titles):
            self._say(trouble)
            return
        try:
            path = free_name(Path.cwd(), f"{file_word(self.deck.title)}.deck.toml")
            write(str(path), [pack(self.deck)])
        except InputError as error:
            self._say(str(error))
            return
        self._saved = self.deck
        self._say(f"Written. Send your students this file:\n{plain(str(path), 200)}")

    def _say(self, words: str) -> None:
        self.query_one("#told", Static).update(words)

    def action_back(self) -> None:
        """Close the field, then leave; what was not written is asked about once."""
        if self._typing:
            self._end_typing()
            self._say(ABOUT)
        elif self.deck in (EMPTY, self._saved) or self._left_unsaved:
            self.dismiss()
        else:
            self._left_unsaved = True
            self._say("It is not written yet. w writes it; Esc again leaves without.")


def day_of(text: str, deck: Deck) -> int:
    """A day of the deck, as typed. Raises InputError."""
    if text.isascii() and text.isdigit() and 1 <= int(text[:4]) <= deck.days:
        return int(text[:4])
    raise InputError("the day", f"the deck has {counted(deck.days, 'day')}", "Write its number.")
