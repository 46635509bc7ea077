"""The sets of pencils there are: those kept, the two invented ones, or another from a file.

A change to a pencil makes another set; those that a set was before stand last, with their day.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.app_state import AppState
    from coach.host import HostApp
    from drills.pencils.edit import Edited
    from drills.pencils.pencil import Pencil, PencilSet

MOST = 40
"""Sets listed: the latest."""


class SetsScreen(CoachScreen[bool]):
    """Dismissed with True once another set is in use, or the one in use has another name."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("r", "rename", "Rename"),
        Binding("f", "file", "From a file"),
        Binding("j", "join", "Join"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.sets: list[tuple[PencilSet, str]] = []
        """Each with the day on which it was first used, where it is no more what it was."""

    def compose(self) -> ComposeResult:
        yield Static("Sets of pencils", classes="title", markup=False)
        yield Lines(markup=False, classes="as-long")
        yield Input(placeholder="its name", classes="-asked")
        yield Static("", id="trouble", classes="words", markup=False)
        yield Hints(
            Hint("↑ ↓ Enter", "practise with it"),
            Hint("r", "rename the one in use", "rename"),
            Hint("f", "from a file", "file"),
            Hint("j", "join to the one in use", "join"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        from drills.pencils.sets import demo_set, pocket_set

        in_use = self.app.app_state.pencil_set().fingerprint
        kept = kept_sets(self.app)
        known = {one.fingerprint for one, _ in kept}
        invented = [(one, "") for one in (demo_set(), pocket_set()) if one.fingerprint not in known]
        self.sets = told_apart(kept, in_use, invented)
        options = self.query_one(OptionList)
        for place, (one, day) in enumerate(self.sets):
            mark = "  (in use)" if one.fingerprint == in_use else ""
            name = f"{one.name}, as of {day}" if day else one.name
            options.add_option(Option(f"{name}: {count_words(one)}{mark}", id=str(place)))
        options.highlighted = 0
        options.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.app.app_state.use(self.sets[int(event.option_id or 0)][0])
        self.dismiss(True)

    def action_rename(self) -> None:
        field = self.query_one(Input)
        field.display = True
        field.value = self.app.app_state.pencils_name
        field.focus()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        from drills.basics.errors import plain

        name = plain(event.value.strip(), 60)
        if name:
            self.app.app_state.use(replace(self.app.app_state.pencil_set(), name=name))
            self.dismiss(True)

    def action_join(self) -> None:
        """Add the pencils of the marked set to those in use: several boxes, one set."""
        from drills.pencils.edit import joined

        options, state = self.query_one(OptionList), self.app.app_state
        box, now = self.sets[options.highlighted or 0][0], state.pencil_set()
        try:
            edited = joined(now, box)
        except InputError as error:
            self.query_one("#trouble", Static).update(str(error))
            return
        if len(edited.set) == len(now):
            self.query_one("#trouble", Static).update("Every pencil of it is in the set in use.")
            return
        use_edited(state, now, edited)
        self.dismiss(True)

    def action_file(self) -> None:
        from coach.screens.first_start.pencil_file import PencilFileScreen

        self.app.push_screen(PencilFileScreen(), self._taken)

    def _taken(self, changed: bool | None) -> None:
        if changed:
            self.dismiss(True)

    def action_back(self) -> None:
        self.dismiss(False)


def use_edited(state: AppState, before: PencilSet, edited: Edited) -> None:
    """Use a set as changed, with the patches of the hand that still hold."""
    from coach.learned import carry_patches
    from coach.sheets.joining import carry_swatches
    from scores.record.record import NotSavedError

    try:
        carry_patches(state.record, before, edited)
        carry_swatches(state.record, before, edited)
    except NotSavedError as error:
        state.say(f"The patches of your hand were not carried over: {error}.")
    state.use(edited.set)


def count_words(pencil_set: PencilSet) -> str:
    """ "36 pencils, 2 used up"."""
    used_up = sum(one.used_up for one in pencil_set.pencils)
    return f"{len(pencil_set)} pencils" + (f", {used_up} used up" if used_up else "")


def told_apart(
    kept: list[tuple[PencilSet, str]], in_use: str, invented: list[tuple[PencilSet, str]]
) -> list[tuple[PencilSet, str]]:
    """The set in use first, then the others, and last those that one of the same name was before,
    with their day."""
    seen: dict[str, list[tuple[Pencil, ...]]] = {}
    now: list[tuple[PencilSet, str]] = []
    before = []
    for one, day in sorted(kept, key=lambda pair: pair[0].fingerprint != in_use):
        pencils = tuple(replace(pencil, used_up=False) for pencil in one.pencils)
        versions = seen.setdefault(one.name, [])
        # One that only other pencils were used up of is no other set to choose.
        if not versions:
            now.append((one, ""))
        elif pencils not in versions:
            before.append((one, day))
        versions.append(pencils)
    return [*now, *invented, *before]


def kept_sets(app: HostApp) -> list[tuple[PencilSet, str]]:
    """The sets the record keeps and the day each was first used, the latest first; one that
    can't be read is left out."""
    from coach.reports.figure_words import day_words
    from drills.basics.days import from_utc_text
    from drills.pencils.file import parse_pencils
    from scores.record.queries import pencil_sets

    found = []
    for _, name, csv, added in reversed(pencil_sets(app.app_state.record)[-MOST:]):
        try:
            day = day_words(from_utc_text(added).astimezone().date())
            found.append((replace(parse_pencils(csv.encode(), name), name=name), day))
        except InputError:
            continue
    return found
