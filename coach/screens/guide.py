"""The guide: a word of the craft at a time, with swatches that show it."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.guide import ENTRIES, GuideEntry, shown
from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from coach.widgets.scene import Scene

if TYPE_CHECKING:
    from coach.host import HostApp

LAYERED = "Computed for invented pencils: on paper yours will differ."


class GuideScreen(CoachScreen[None]):
    """Words down the side; what the marked one means beside them."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("right,n", "turn(1)", "Next word"),
        Binding("left,p", "turn(-1)", "Word before"),
        Binding("enter", "practise", "Practise this"),
        Binding("o", "app.one", "One thing"),
    ]

    def compose(self) -> ComposeResult:
        yield Static("The guide", id="title", classes="title", markup=False)
        with Horizontal():
            yield Lines(
                *(Option(entry.word, id=str(i)) for i, entry in enumerate(ENTRIES)), markup=False
            )
            with VerticalScroll(can_focus=False):
                yield Scene()
                yield Static("", id="says", classes="prose", markup=False)
                yield Static("", id="trouble", classes="prose apart", markup=False)
        yield Hints(
            Hint("← →", "before, next"),
            Hint("Enter", "practise this", "practise"),
            Hint("o", "practise one thing", "app.one"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        words = self.query_one(OptionList)
        words.highlighted = 0
        words.focus()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        self.show_entry(ENTRIES[int(event.option_id or 0)])

    def on_option_list_option_selected(self) -> None:
        # The list takes Enter, and a click, for itself.
        self.action_practise()

    @property
    def entry(self) -> GuideEntry:
        """The word marked."""
        return ENTRIES[self.query_one(OptionList).highlighted or 0]

    def action_turn(self, by: int) -> None:
        """The next word or the one before; from the last to the first."""
        words = self.query_one(OptionList)
        words.highlighted = ((words.highlighted or 0) + by) % len(ENTRIES)

    def action_practise(self) -> None:
        """Practise the drill that asks for the word marked, and nothing else."""
        state, drill = self.app.app_state, self.entry.practise
        offers = None if state.newcomer else state.offers_kept()
        if offers is not None and any(kind == drill for kind, _ in offers.pairs):
            self.app.begin_one(drill)
            return
        self._say(
            "Choose your pencils first." if state.newcomer else "Your pencils can't ask for it."
        )

    def _say(self, trouble: str) -> None:
        words = self.query_one("#trouble", Static)
        words.update(trouble)
        words.display = bool(trouble)

    def show_entry(self, entry: GuideEntry) -> None:
        place = f"{ENTRIES.index(entry) + 1} of {len(ENTRIES)}"
        title = f"The guide · {entry.chapter}: {entry.word} ({place})"
        self.query_one("#title", Static).update(title)
        self._say("")
        scene = self.query_one(Scene)
        scene.swatches = shown(entry) if self.app.app_state.depth.true_colour else ()
        scene.display = bool(scene.swatches)
        self.query_one("#says", Static).update(entry_words(entry, bool(scene.swatches)))

    def action_back(self) -> None:
        self.dismiss()


def entry_words(entry: GuideEntry, seen: bool) -> str:
    """What a word means; what to see in the swatches where there are any."""
    lines = [" ".join(entry.says)]
    if seen:
        lines.append(f"To see: {entry.look}")
        if entry.layered:
            lines.append(LAYERED)
    if entry.source:
        lines.append(f"Source: {entry.source}.")
    return "\n\n".join(lines)
