"""Asking for a colour: it is written, matched by eye, picked from a photo, or said."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.session.on_paper import Given, photo_sd
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.pictures.spot import Spot
    from drills.questions.adjusting import Matched
    from drills.questions.protocol import Lab

WRITTEN = "#rrggbb, lab(L a b), rgb(r g b) or Munsell such as 5R 4/10"
SAID = "a bit too light and too green"


class GiveScreen(CoachScreen[Given | None]):
    """Dismissed with the colour given, or None.

    ``what`` is what is asked for ("what is on your paper"), ``about`` a line of help; ``beside``
    is the colour that words are said beside, where there is one, and ``near`` one that it is
    likely to be near.
    """

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        Binding("1", "way('eye')", "By eye"),
        Binding("2", "way('written')", "Write it"),
        Binding("3", "way('photo')", "From a photo"),
        Binding("4", "way('said')", "Say it"),
    ]

    def __init__(
        self,
        what: str,
        about: str = "",
        beside: Lab | None = None,
        near: Lab | None = None,
        beside_what: str = "the target",
    ) -> None:
        super().__init__()
        self.what = what
        self.about = about
        self.beside = beside
        self.near = near
        self.beside_what = beside_what
        self.says = False
        """Whether what is typed is said beside another colour."""

    def compose(self) -> ComposeResult:
        yield Static(f"The colour of {self.what}", classes="title", markup=False)
        yield Static(self.about, classes="words", markup=False)
        options = [
            Option("1  Match it by eye: hold it against the screen and move a swatch", id="eye"),
            Option(f"2  Write it: {WRITTEN}", id="written"),
            Option("3  Pick it from a photo, with white paper in it", id="photo"),
        ]
        if self.beside is not None:
            words = f"4  Say it beside {self.beside_what}: “{SAID}”"
            options.append(Option(words, id="said"))
        yield Lines(*options, markup=False, classes="as-long")
        yield Input(classes="-asked")
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("1–4" if self.beside else "1–3", "how"),
            Hint("Enter", "take"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        options = self.query_one(OptionList)
        options.highlighted = 0
        options.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.action_way(event.option_id or "")

    def action_way(self, way: str) -> None:
        """Go on in one of the ways: "eye", "written", "photo" or "said"."""
        self.query_one("#trouble", Static).update("")
        field = self.query_one(Input)
        if way == "eye":
            from coach.screens.giving.by_eye import ByEyeScreen

            near = self.near or self.beside
            screen = ByEyeScreen(self.what, near, self.app.app_state.new_seed())
            self.app.push_screen(screen, self._seen)
        elif way == "photo":
            from coach.screens.look import LookScreen

            room = LookScreen(picks=True, what=self.what)
            self.app.push_screen(room, lambda spot: self._picked(spot, photo_sd(room.light, spot)))
        elif way == "written" or (way == "said" and self.beside is not None):
            self.says = way == "said"
            field.placeholder = SAID if self.says else WRITTEN
            field.display = True
            field.focus()

    def _picked(self, spot: Spot | None, sd: float) -> None:
        if spot is not None:
            self.dismiss(Given(spot.lab, sd, "photo"))

    def _seen(self, found: Matched | None) -> None:
        from drills.layering import constants as c

        if found is not None:
            self.dismiss(Given(found.lab, max(c.PATCH_SD, found.spread), "by eye"))

    def on_input_submitted(self, event: Input.Submitted) -> None:
        from drills.colour.parse import parse_colour
        from drills.colour.said import said_beside
        from drills.layering import constants as c

        if not event.value.strip():
            return
        try:
            if self.says and self.beside is not None:
                said = said_beside(event.value, self.beside)
                given = Given(said.lab, said.sd, "in words")
            else:
                given = Given(parse_colour(event.value), c.PATCH_SD, "typed")
        except InputError as error:
            self.query_one("#trouble", Static).update(str(error))
        else:
            self.dismiss(given)

    def action_back(self) -> None:
        field = self.query_one(Input)
        if field.display:
            field.display = False
            self.query_one("#trouble", Static).update("")
            self.query_one(OptionList).focus()
        else:
            self.dismiss(None)
