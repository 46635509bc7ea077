"""The sets of pencils there are: those kept, the two invented ones, or another from a file."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.host import HostApp
    from drills.pencils.pencil import PencilSet

MOST = 40
"""Sets listed: the latest."""


class SetsScreen(CoachScreen[bool]):
    """Dismissed with True once another set is in use, or the one in use has another name."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("r", "rename", "Rename"),
        Binding("f", "file", "From a file"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.sets: list[PencilSet] = []

    def compose(self) -> ComposeResult:
        yield Static("Sets of pencils", classes="title", markup=False)
        yield OptionList(markup=False, classes="as-long")
        yield Input(placeholder="its name", classes="-asked")
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("↑ ↓ Enter", "practise with it"),
            Hint("r", "rename the one in use", "rename"),
            Hint("f", "from a file", "file"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        from drills.pencils.sets import demo_set, pocket_set

        kept = kept_sets(self.app)
        known = {one.fingerprint for one in kept}
        invented = (demo_set(), pocket_set())
        self.sets = kept + [one for one in invented if one.fingerprint not in known]
        options = self.query_one(OptionList)
        in_use = self.app.app_state.pencil_set().fingerprint
        for place, one in enumerate(self.sets):
            mark = "  (in use)" if one.fingerprint == in_use else ""
            options.add_option(Option(f"{one.name}: {len(one)} pencils{mark}", id=str(place)))
        options.highlighted = 0
        options.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.app.app_state.use(self.sets[int(event.option_id or 0)])
        self.dismiss(True)

    def action_rename(self) -> None:
        field = self.query_one(Input)
        field.display = True
        field.value = self.app.app_state.pencils_name
        field.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        from dataclasses import replace

        from drills.basics.errors import plain

        name = plain(event.value.strip(), 60)
        if name:
            self.app.app_state.use(replace(self.app.app_state.pencil_set(), name=name))
            self.dismiss(True)

    def action_file(self) -> None:
        from coach.screens.first_start.pencil_file import PencilFileScreen

        self.app.push_screen(PencilFileScreen(), self._taken)

    def _taken(self, changed: bool | None) -> None:
        if changed:
            self.dismiss(True)

    def action_back(self) -> None:
        self.dismiss(False)


def kept_sets(app: HostApp) -> list[PencilSet]:
    """The sets the record keeps, the latest first; one that can't be read is left out."""
    from drills.pencils.file import parse_pencils
    from scores.record.queries import pencil_sets

    found = []
    for _, name, csv, _ in reversed(pencil_sets(app.app_state.record)[-MOST:]):
        try:
            found.append(parse_pencils(csv.encode(), name))
        except InputError:
            continue
    return found
