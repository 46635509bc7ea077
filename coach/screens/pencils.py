"""The pencils in use, each with its swatch and how it reads; changing them, or to another set."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from coach.screens.base import CoachScreen
from coach.screens.giving.give import GiveScreen
from coach.screens.tray.pencils_shown import LEGEND, LEGEND_GONE, PencilLine, pencil_lines
from coach.screens.tray.sets import SetsScreen, count_words, use_edited
from coach.widgets.hints import Hint, Hints
from coach.widgets.tray import Tray
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Callable

    from coach.host import HostApp
    from coach.session.on_paper import Given
    from drills.pencils.edit import Edited

FIRM = "laid firmly on white drawing paper"


class PencilsScreen(CoachScreen[None]):
    """Look through the set in use, change it, or take another."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("1", "take('demo')", "Demo"),
        Binding("2", "take('pocket')", "Pocket"),
        Binding("f", "file", "File"),
        Binding("s", "sets", "Sets"),
        Binding("n", "new", "New pencil"),
        Binding("e,enter", "details", "Details"),
        Binding("c", "colour", "Its colour"),
        Binding("u", "used_up", "Used up"),
        Binding("x", "take_out", "Take out"),
        Binding("less_than_sign,comma", "move(-1)", "Forward"),
        Binding("greater_than_sign,full_stop", "move(1)", "Backward"),
        Binding("h", "app.open('hand')", "Your hand"),
        Binding("b", "filled", "Filled sheets"),
        Binding("v", "order", "Your order, or by family"),
        Binding("slash", "find", "Find"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._drops: int | None = None
        """The place of the pencil that x, pressed again, takes out."""
        self.lines: tuple[PencilLine, ...] = ()

    def compose(self) -> ComposeResult:
        yield Static("", id="name", classes="title", markup=False)
        yield Tray()
        yield Input(placeholder="Words of its name, code or colour", id="find")
        yield Static("", id="marked", markup=False)
        yield Static(LEGEND, id="legend", markup=False)
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("↑↓←→", "look"),
            Hint("v", "order", "order"),
            Hint("/", "find", "find"),
            Hint("e", "details", "details"),
            Hint("c", "its colour", "colour"),
            Hint("n", "new", "new"),
            Hint("u", "used up", "used_up"),
            Hint("x", "take out", "take_out"),
            Hint("< >", "move"),
            Hint("s", "sets", "sets"),
            Hint("h", "your hand", "app.open('hand')"),
            Hint("b", "sheets", "filled"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self.fill()
        self.query_one(Tray).focus()

    def on_host_app_pencils_ready(self) -> None:
        self.fill()

    def on_host_app_pencils_failed(self, message: HostApp.PencilsFailed) -> None:
        self.query_one("#trouble", Static).update(message.why)

    def fill(self) -> None:
        app_state = self.app.app_state
        if app_state.ready_for is None:
            self.query_one("#name", Static).update(f"{app_state.pencils_name}: getting ready…")
            return
        palette = app_state.ready_for.palette
        count = count_words(palette.set)
        self.query_one("#name", Static).update(f"{app_state.pencils_name}: {count}")
        self.lines = pencil_lines(palette)
        gone = any(pencil.used_up for pencil in palette.set.pencils)
        self.query_one("#legend", Static).update(LEGEND_GONE if gone else LEGEND)
        pencils = [line.tray for line in self.lines]
        self.query_one(Tray).show(pencils, app_state.depth.true_colour)

    def on_tray_marked(self) -> None:
        """Say in words what the marked pencil is."""
        tray = self.query_one(Tray)
        words = "No pencil has these words."
        if tray.shown and tray.marked < len(self.lines):
            line = self.lines[tray.marked]
            words = f"{line.name}\n{line.reads}"
        self.query_one("#marked", Static).update(words if self.lines else "")

    def action_back(self) -> None:
        """What was looked for is let go first."""
        tray, find = self.query_one(Tray), self.query_one("#find", Input)
        if find.display:
            tray.find = find.value = ""
            find.display = False
            tray.focus()
        else:
            self.dismiss()

    # What is shown

    def action_order(self) -> None:
        """The learner's own order, or by family and value."""
        tray = self.query_one(Tray)
        tray.grouped = not tray.grouped

    def action_find(self) -> None:
        """Show only the pencils that have the words typed."""
        find = self.query_one("#find", Input)
        find.display = True
        find.focus()

    def on_input_changed(self, event: Input.Changed) -> None:
        self.query_one(Tray).find = event.value

    def on_input_submitted(self) -> None:
        self.query_one(Tray).focus()

    # Another set

    def action_take(self, which: str) -> None:
        from drills.pencils.sets import demo_set, pocket_set

        self.app.app_state.use(demo_set() if which == "demo" else pocket_set())
        self._changed(True)

    def action_file(self) -> None:
        from coach.screens.first_start.pencil_file import PencilFileScreen

        self.app.push_screen(PencilFileScreen(), self._changed)

    def action_sets(self) -> None:
        self.app.push_screen(SetsScreen(), self._changed)

    def action_filled(self) -> None:
        from coach.screens.tray.filled import FilledScreen

        self.app.push_screen(FilledScreen(), self._changed)

    def _changed(self, changed: bool | None) -> None:
        if changed:
            self.query_one("#trouble", Static).update(self.app.app_state.notice)
            self.app.make_ready()
            self.fill()

    # The set changed

    @property
    def _marked(self) -> int:
        return self.query_one(Tray).marked

    def _ready(self) -> bool:
        """Whether a pencil stands marked that can be changed."""
        return self.app.app_state.ready_for is not None and bool(self.query_one(Tray).shown)

    def _take(self, edited: Edited, marked: int | None = None) -> None:
        """Use the set as changed, with the patches of the hand that still hold."""
        state = self.app.app_state
        use_edited(state, state.pencil_set(), edited)
        if marked is not None:
            self.query_one(Tray).marked = marked
        self._changed(True)

    def _try(self, make: Callable[[], Edited], marked: int | None = None) -> None:
        try:
            self._take(make(), marked)
        except InputError as error:
            self.query_one("#trouble", Static).update(str(error))

    def action_details(self) -> None:
        from coach.screens.tray.details import PencilDetailsScreen
        from drills.pencils.edit import put_right

        if self._ready():
            pencils, at = self.app.app_state.pencil_set(), self._marked
            screen = PencilDetailsScreen(
                pencils.pencils[at],
                lambda pencil: self._take(put_right(pencils, at, pencil)),
                f"{pencils.pencils[at].name}: its details",
            )
            self.app.push_screen(screen)

    def action_colour(self) -> None:
        """The swatch of the marked pencil, as it comes out firm on white."""
        from drills.pencils.edit import put_right, with_colour

        if not self._ready():
            return
        pencils, at = self.app.app_state.pencil_set(), self._marked
        pencil = pencils.pencils[at]
        if pencil.is_blender:
            self.query_one("#trouble", Static).update("A blender has no colour.")
            return
        near = self.lines[at].lab

        def given(got: Given | None) -> None:
            if got is not None:
                self._try(lambda: put_right(pencils, at, with_colour(pencil, got.lab)))

        self.app.push_screen(GiveScreen(f"{pencil.name}, {FIRM}", near=near), given)

    def action_new(self) -> None:
        """A pencil more: its swatch first, then its name."""
        if self._ready():
            self.app.push_screen(GiveScreen(f"the new pencil, {FIRM}"), self._named)

    def _named(self, got: Given | None) -> None:
        from coach.screens.tray.details import PencilDetailsScreen
        from drills.pencils.edit import added
        from drills.pencils.pencil import Pencil

        if got is None:
            return
        pencils = self.app.app_state.pencil_set()
        screen = PencilDetailsScreen(
            Pencil("", lab=got.lab),
            lambda pencil: self._take(added(pencils, pencil), len(pencils)),
            "A new pencil",
        )
        self.app.push_screen(screen)

    def action_used_up(self) -> None:
        """Mark the pencil as used up, or as there again; it stays in the set."""
        from drills.pencils.edit import marked_used_up

        if self._ready():
            pencils, at = self.app.app_state.pencil_set(), self._marked
            now = not pencils.pencils[at].used_up
            self._try(lambda: marked_used_up(pencils, (at,), now))

    def action_take_out(self) -> None:
        """Take the marked pencil out, pressed twice."""
        from drills.pencils.edit import taken_out

        if not self._ready():
            return
        pencils, at = self.app.app_state.pencil_set(), self._marked
        if self._drops != at:
            self._drops = at
            self.query_one("#trouble", Static).update(
                f"Press x again to take {pencils.pencils[at].name} out of the set."
            )
            return
        self._drops = None
        self._try(lambda: taken_out(pencils, at))

    def action_move(self, by: int) -> None:
        from drills.pencils.edit import moved

        if self.query_one(Tray).grouped:
            self.query_one("#trouble", Static).update("v shows your own order; move them there.")
        elif self._ready():
            pencils, at = self.app.app_state.pencil_set(), self._marked
            to = min(len(pencils) - 1, max(0, at + by))
            if to != at:
                self._try(lambda: moved(pencils, at, to), to)

    def on_key(self, event: events.Key) -> None:
        if event.key != "x" and self._drops is not None:
            self._drops = None
            self.query_one("#trouble", Static).update("")
