"""A photo to look at: a crosshair on it, what its spots are, and one to keep, plan or give back."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Input, Static

from coach.screens.base import CoachScreen
from coach.session.on_paper import photo_sd
from coach.widgets.drawn.picture_view import PictureView
from coach.widgets.hints import Hint, Hints
from coach.widgets.scene import Scene
from drills.basics.errors import InputError, plain
from drills.questions.protocol import Swatch

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.pictures.picture import Picture
    from drills.pictures.spot import Correction, Spot

ASKED = (
    "Which photo? Type its path: JPEG, PNG, TIFF, WebP or HEIC. It stays on this machine, and "
    "nothing of it is kept but the colours you name."
)
NO_COLOUR = (
    "This terminal can't show 24-bit colour, so the photo isn't shown: no colour would be true. "
    "Spots can still be read in words; coach look does it by their places."
)
OPENING = "Opening…"
_CORNERS = 4


class LookScreen(CoachScreen["Spot | None"]):
    """A photo, opened at once where ``path`` is given.

    With ``picks`` it is asked for one spot: Enter dismisses it with that, Esc with None, and
    ``what`` says what it is for. Otherwise Enter keeps the spot's colour by a name.
    """

    app: HostApp

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        Binding("enter", "take", "Take or keep"),
        Binding("o", "open", "Another photo"),
        Binding("p", "plan", "Plan it"),
        Binding("w", "white(False)", "White paper here"),
        Binding("g", "white(True)", "Grey card here"),
        Binding("c", "corner", "A chart's corner here"),
        Binding("x", "as_it_is", "As it is"),
        Binding("k", "kept", "Colours kept"),
        Binding("t", "pencils", "Pencils for it"),
    ]

    def __init__(self, path: str = "", *, picks: bool = False, what: str = "") -> None:
        super().__init__()
        self.path = path
        self.picks = picks
        self.what = what
        self.spot: Spot | None = None
        self.light: Correction | None = None
        self._light_words = ""
        self._title = ""
        self._whites: tuple[tuple[float, float], ...] = ()
        self._corners: tuple[tuple[float, float], ...] = ()
        """Of a chart, as far as they are marked."""
        self._card = False
        self._names = False
        """Whether what is typed is the name to keep the spot's colour by."""

    def compose(self) -> ComposeResult:
        title = f"A photo: {self.what}" if self.what else "A photo"
        yield Static(title, id="title", classes="title", markup=False)
        yield Input(self.path, placeholder="the photo, for example ~/leaf.jpg")
        yield PictureView()
        with Horizontal(id="told"):
            yield Scene()
            yield Static(ASKED, id="words", classes="words", markup=False)
        take = "take this colour" if self.picks else "keep"
        others = (
            Hint("p", "plan", "plan"),
            Hint("t", "pencils for it", "pencils"),
            Hint("k", "kept", "kept"),
        )
        yield Hints(
            Hint("← → ↑ ↓", "move"),
            Hint("− +", "nearer"),
            Hint("[ ]", "spot size"),
            Hint("w", "white paper", "white(False)"),
            Hint("g", "grey card", "white(True)"),
            Hint("c", "chart's corner", "corner"),
            Hint("x", "as it is", "as_it_is"),
            Hint("Enter", take, "take"),
            *(() if self.picks else others),
            Hint("o", "photo", "open"),
            Hint("Esc", "back", "back"),
        )

    @property
    def _view(self) -> PictureView:
        return self.query_one(PictureView)

    def on_mount(self) -> None:
        self.query_one(Scene).display = False
        self._view.can_focus = False
        if self.path:
            self._begin(self.path)
        else:
            self.query_one(Input).focus()

    # The photo

    def on_input_submitted(self, event: Input.Submitted) -> None:
        if not event.value.strip():
            return
        if self._names:
            self._keep(event.value)
        else:
            self._begin(event.value.strip())

    def _begin(self, path: str) -> None:
        self._say(OPENING)
        self._load(path)

    @work(thread=True, exclusive=True)
    def _load(self, path: str) -> None:
        from coach.home import expanded
        from drills.pictures.opening import open_picture

        try:
            picture = open_picture(expanded(path))
        except InputError as error:
            self.app.call_from_thread(self._refused, str(error))
        else:
            self.app.call_from_thread(self._opened, picture)

    def _opened(self, picture: Picture) -> None:
        if not self.app.stands(self):
            return
        self.light, self._light_words, self._whites, self._corners = None, "", (), ()
        view = self._view
        field = self.query_one(Input)
        field.display = False
        name = picture.name.replace("\\", "/").rpartition("/")[2]
        title = f"{name}: {picture.width} by {picture.height} pixels"
        if self.what:
            title = f"{self.what[:1].upper()}{self.what[1:]}, from {title}"
        self._title = title
        view.can_focus = True
        view.shows = self.app.app_state.depth.true_colour
        view.show(picture)
        view.focus()
        self._read()

    def action_open(self) -> None:
        """Ask for another photo."""
        self._names = False
        self._ask("the photo, for example ~/leaf.jpg", self.path)
        self._say(ASKED)

    def _ask(self, what: str, value: str = "") -> None:
        field = self.query_one(Input)
        field.placeholder, field.value, field.display = what, value, True
        field.focus()

    # The spot

    def on_picture_view_moved(self) -> None:
        self._read()

    def _read(self, relit: bool = False) -> None:
        """Read the spot under the crosshair and say what it is, and once, where the light was
        just taken off, how well that is known."""
        from drills.colour.reading import read_colour
        from drills.colour.spaces import hex_of
        from drills.pictures.spot import DOUBT_WORDS, read_spot

        view = self._view
        if view.picture is None or view.view is None:
            return
        at = view.view
        spot = self.spot = read_spot(view.picture, at.x, at.y, view.radius, self.light)
        if view.shows:
            scene = self.query_one(Scene)
            scene.display = True
            scene.swatches = (Swatch(spot.lab, ""),)
        place = f"{hex_of(spot.lab)}   at {int(at.x)},{int(at.y)} within {view.radius:g} pixels"
        doubts = " ".join(f"Mind: {DOUBT_WORDS[one]}." for one in spot.warnings)
        light = self._light_words if relit else ""
        notes = (light, *view.picture.notes, "" if view.shows else NO_COLOUR)
        off = ", its light taken off" if self.light is not None else ""
        self.query_one("#title", Static).update(f"{self._title}{off}")
        rest = " ".join(filter(None, notes))
        lines = (place, doubts, read_colour(spot.lab).sentence(), rest)
        self._say("\n".join(filter(None, lines)))

    def action_white(self, card: bool) -> None:
        """The spot is bare white paper, or a grey card: take the light off by it."""
        at = self._view.view
        if at is None:
            return
        whites = (*(self._whites if card == self._card else ()), (at.x, at.y))
        self._relight(whites, card)

    def action_corner(self) -> None:
        """A corner of a chart is here; by the fourth one the chart takes the light off."""
        from drills.pictures.light import light_of

        view = self._view
        at, picture = view.view, view.picture
        if at is None or picture is None:
            return
        self._corners = (*self._corners, (at.x, at.y))
        if len(self._corners) < _CORNERS:
            view.relight(self.light, (*self._whites, *self._corners))
            self._say(
                f"{len(self._corners)} of the {_CORNERS} outer corners of the chart's 24 patches "
                "are marked. Go to the next one round it and press c; x lets it be."
            )
            return
        a, b, c, d = self._corners
        self._corners = ()
        try:
            self.light, self._light_words = light_of(picture, chart=(a, b, c, d))
        except InputError as error:
            view.relight(self.light, self._whites)
            self._say(str(error))
            return
        self._whites = ()
        view.relight(self.light, (a, b, c, d))
        self._read(relit=True)

    def action_as_it_is(self) -> None:
        """Show the photo as it came."""
        self._relight((), self._card)

    def _relight(self, whites: tuple[tuple[float, float], ...], card: bool) -> None:
        from drills.pictures.light import light_of

        view = self._view
        if view.picture is None:
            return
        try:
            light, words = light_of(view.picture, whites, card, radius=view.radius)
        except InputError as error:
            self._say(str(error))
            return
        self.light, self._light_words = light, words
        self._whites, self._card, self._corners = whites, card, ()
        view.relight(light, whites)
        self._read(relit=True)

    # What becomes of it

    def action_take(self) -> None:
        """Give the spot back, or ask for a name to keep it by."""
        if self.spot is None:
            return
        if self.picks:
            self.dismiss(self.spot)
            return
        self._names = True
        self._ask("a name for this colour")

    def _keep(self, name: str) -> None:
        from scores.learner.kept_colours import KeptColour, keep_colour
        from scores.record.record import NotSavedError

        assert self.spot is not None
        try:
            colour = KeptColour(
                name.strip(), self.spot.lab, "a photo", photo_sd(self.light, self.spot)
            )
            keep_colour(self.app.app_state.record, colour)
        except InputError as error:
            self._say(str(error))
            return
        except NotSavedError as error:
            self._say(f"The colour was not kept: {error}")
            return
        self._back_to_photo()
        self._say(f"Kept as “{plain(name.strip())}”. k shows the colours kept.")

    def _back_to_photo(self) -> None:
        self._names = False
        self.query_one(Input).display = False
        self._view.focus()

    def action_plan(self) -> None:
        """Plan for the spot's colour."""
        if self.spot is not None and not self.picks:
            self.app.plan_for(self.spot.lab, photo_sd(self.light, self.spot))

    def action_pencils(self) -> None:
        """Which pencils to take out for the photo."""
        from coach.screens.looking.photo_pencils import PhotoPencilsScreen

        picture = self._view.picture
        if picture is not None and not self.picks:
            self.app.push_screen(PhotoPencilsScreen(picture, self.light))

    def action_kept(self) -> None:
        """Show the colours kept."""
        from coach.screens.looking.kept import KeptScreen

        if not self.picks:
            self.app.push_screen(KeptScreen())

    def action_back(self) -> None:
        field = self.query_one(Input)
        if field.display and self._view.picture is not None:
            self._back_to_photo()
            self._read()
        else:
            self.dismiss(None)

    def _refused(self, words: str) -> None:
        if self.app.stands(self):
            self.query_one(Input).focus()
            self._say(words)

    def _say(self, words: str) -> None:
        self.query_one("#words", Static).update(words)
