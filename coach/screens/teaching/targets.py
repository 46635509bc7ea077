"""The named colours of a deck: taken from a photo, by eye or written, and looked at."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.teaching.drafting import kept_target
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from coach.widgets.scene import Scene
from decks.deck import Deck, Target
from decks.fields import FaultError
from drills.basics.errors import InputError
from drills.questions.protocol import Swatch

if TYPE_CHECKING:
    from collections.abc import Callable

    from coach.host import HostApp
    from coach.screens.teaching.photo_spots import PhotoSpotsScreen
    from coach.session.on_paper import Given
    from coach.teaching.photo.reached import Reaches
    from scores.learner.kept_colours import KeptColour

ABOUT = "Colours to be asked about by name. f takes several from a photo, n one by eye or written."
TRYING = "Trying it with the pencils known…"
MOST = 60


class TargetsScreen(CoachScreen[Deck | None]):
    """Dismissed with the deck, its named colours changed."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        Binding("f", "photo", "From a photo"),
        Binding("n", "new", "New"),
        Binding("k", "kept", "One you kept"),
        Binding("d", "drop", "Take away"),
    ]

    def __init__(self, deck: Deck) -> None:
        super().__init__()
        self.deck = deck
        self._colour = ""
        """The colour that is being named."""
        self._reaches: Reaches | None = None
        self._told: dict[str, str] = {}
        """What is known of who can make a colour, by its name."""

    def compose(self) -> ComposeResult:
        yield Static("Named colours", classes="title", markup=False)
        yield Static(ABOUT, id="told", classes="words", markup=False)
        yield Lines(markup=False)
        yield Input(placeholder="its name, such as Wet slate")
        yield Scene()
        yield Static("", id="reached", classes="words", markup=False)
        yield Hints(
            Hint("↑ ↓", "look"),
            Hint("f", "from a photo", "photo"),
            Hint("n", "a new one", "new"),
            Hint("k", "one you kept", "kept"),
            Hint("d", "take away", "drop"),
            Hint("Esc", "done", "back"),
        )

    def on_mount(self) -> None:
        self.fill()
        self.query_one(OptionList).focus()

    def fill(self) -> None:
        options = self.query_one(OptionList)
        at = options.highlighted or 0
        options.clear_options()
        options.add_options(
            Option(f"{one.name}: {one.region}", id=str(i))
            for i, one in enumerate(self.deck.targets)
        )
        if self.deck.targets:
            options.highlighted = min(at, len(self.deck.targets) - 1)
        self.on_option_list_option_highlighted()

    def on_option_list_option_highlighted(self) -> None:
        """The marked colour, large."""
        at = self.query_one(OptionList).highlighted
        seen = () if at is None or at >= len(self.deck.targets) else (self.deck.targets[at],)
        if not self.app.app_state.depth.true_colour:
            seen = ()
        self.query_one(Scene).swatches = tuple(Swatch(one.lab, one.name) for one in seen)
        self._tell_reached()

    @property
    def _marked(self) -> Target | None:
        at = self.query_one(OptionList).highlighted
        return None if at is None or at >= len(self.deck.targets) else self.deck.targets[at]

    def _tell_reached(self) -> None:
        """Who can make the marked colour, worked out where it isn't known yet."""
        one, words = self._marked, ""
        if one is not None:
            words = self._told.get(f"{one.name} {one.colour}", "") or TRYING
            if words == TRYING:
                self._try(one)
        self.query_one("#reached", Static).update(words)

    @work(thread=True, exclusive=True)
    def _try(self, one: Target) -> None:
        from coach.teaching.photo.reached import reached_words

        if self._reaches is None:
            self._reaches = self._known()
        words = reached_words(one.name, self._reaches.of(one.lab))
        self.app.call_from_thread(self._tried, one, words)

    def _known(self) -> Reaches:
        """The pencils that students sent; else those in use here."""
        from coach.teaching.class_opened import class_book
        from coach.teaching.photo.reached import Reaches, class_or_own, of_class

        try:
            with class_book() as book:
                sent = of_class(book)
        except InputError:
            sent = []
        made = self.app.app_state.ready_for
        return Reaches(class_or_own(sent, None if made is None else made.palette.set))

    def _tried(self, one: Target, words: str) -> None:
        self._told[f"{one.name} {one.colour}"] = words
        if self.app.stands(self) and self._marked == one:
            self.query_one("#reached", Static).update(words)

    def action_photo(self) -> None:
        """Take colours from a photo, one after another."""
        from coach.screens.teaching.photo_spots import PhotoSpotsScreen

        if len(self.deck.targets) < MOST and not self._colour:
            room = PhotoSpotsScreen(self.deck)
            self.app.push_screen(room, lambda _: self._taken(room))

    def _taken(self, room: PhotoSpotsScreen) -> None:
        from coach.teaching.photo.colours import with_colours

        if not room.taken or room.picture is None:
            return
        try:
            self.deck = with_colours(self.deck, room.picture, room.taken)
        except InputError as error:
            self._say(str(error))
            return
        self.fill()
        self.query_one(OptionList).highlighted = len(self.deck.targets) - 1
        self._say("The photo is in the deck, small, as a lesson before these colours.")

    def action_new(self) -> None:
        from coach.screens.giving.give import GiveScreen

        if len(self.deck.targets) < MOST and not self._colour:
            self.app.push_screen(GiveScreen("what they shall match"), self._given)

    def action_kept(self) -> None:
        from coach.screens.looking.kept import KeptScreen

        if len(self.deck.targets) < MOST and not self._colour:
            self.app.push_screen(KeptScreen(picks=True), self._kept)

    def _kept(self, colour: KeptColour | None) -> None:
        if colour is not None:
            self._add(lambda: kept_target(colour.name, colour.lab))

    def _add(self, make: Callable[[], Target]) -> bool:
        """Add the colour made to the deck; False with why, where it can't be."""
        try:
            made = make()
            if any(one.name == made.name for one in self.deck.targets):
                raise FaultError("there is a colour of this name", "Give another.")
        except FaultError as error:
            self._say(f"{error.problem[:1].upper()}{error.problem[1:]}. {error.remedy}")
            return False
        self.deck = replace(self.deck, targets=(*self.deck.targets, made))
        self.fill()
        self.query_one(OptionList).highlighted = len(self.deck.targets) - 1
        return True

    def _given(self, given: Given | None) -> None:
        from drills.colour.spaces import hex_of, in_screen_gamut

        if given is None:
            return
        if not bool(in_screen_gamut(given.lab)):
            self._say("No screen shows this colour: take a duller one.")
            return
        self._colour = hex_of(given.lab)
        self.query_one(Scene).swatches = (
            (Swatch(given.lab, ""),) if self.app.app_state.depth.true_colour else ()
        )
        field = self.query_one(Input)
        field.display, field.value = True, ""
        field.focus()
        self._say("What is it called?")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        from decks.deck import TARGET
        from decks.targets import target_of

        def made() -> Target:
            name = str(TARGET.keys["name"].value.read(event.value))
            return target_of(name, self._colour)

        if self._add(made):
            self._end_naming()

    def _end_naming(self) -> None:
        self._colour = ""
        self.query_one(Input).display = False
        self.query_one(OptionList).focus()
        self._say(ABOUT)
        self.fill()

    def action_drop(self) -> None:
        at = self.query_one(OptionList).highlighted
        if at is not None and at < len(self.deck.targets):
            left = tuple(one for i, one in enumerate(self.deck.targets) if i != at)
            self.deck = replace(self.deck, targets=left)
            self.fill()

    def _say(self, words: str) -> None:
        self.query_one("#told", Static).update(words)

    def action_back(self) -> None:
        if self._colour:
            self._end_naming()
        else:
            self.dismiss(self.deck)
