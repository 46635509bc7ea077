"""What a filled sheet said, box by box: those dropped first, then every colour read."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.design.measures import MEASURE
from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.paint import beyond_screen, cell_style, wrapped
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Callable

    from coach.host import HostApp
    from coach.sheets.said import SheetSaid, SlotSaid

CHIP = 6


class SheetReadScreen(CoachScreen["str | None"]):
    """``sheets`` as read, ``unread`` a sentence on each page that wasn't; ``keep``, where they are
    not kept yet, keeps them and says what was done. Dismissed with that, or None."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("k", "keep", "Keep it"),
    ]

    def __init__(
        self,
        sheets: tuple[SheetSaid, ...],
        unread: tuple[str, ...] = (),
        keep: Callable[[], str] | None = None,
    ) -> None:
        super().__init__()
        self.sheets = sheets
        self.unread = unread
        self.keep = keep

    def compose(self) -> ComposeResult:
        heading = "; ".join(summed(one) for one in self.sheets)
        yield Static(heading, classes="title", markup=False)
        yield Static(self._about(), id="told", classes="words", markup=False)
        with VerticalScroll(classes="scrolled"):
            yield Static(self._rows(), id="rows", classes="prose", markup=False)
        keeps = () if self.keep is None else (Hint("k", "keep it", "keep"),)
        yield Hints(Hint("↑ ↓", "read on"), *keeps, Hint("Esc", "back", "back"))

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def _about(self) -> str:
        from coach.sheets.photos import DOUBT

        if self.keep is None:
            return DOUBT
        return " ".join(
            (*(f"Not read: {one}" for one in self.unread), "Nothing is kept yet.", DOUBT)
        )

    def _rows(self) -> Text:
        out = Text()
        for sheet in self.sheets:
            dropped = [slot for slot in sheet.slots if slot.dropped]
            sound = [slot for slot in sheet.slots if not slot.dropped]
            if dropped:
                out += Text("Dropped boxes first: photograph these again\n\n", style="bold")
                out += self._slots(dropped)
            if sound:
                out += Text("Every box read\n\n", style="bold")
                out += self._slots(sound)
            if sheet.empty:
                out += Text(f"{sheet.empty} left empty.\n\n")
        return out

    def _slots(self, slots: list[SlotSaid]) -> Text:
        from coach.sheets.review import box_words

        out = Text()
        for slot in slots:
            chip = Text()
            for box in slot.boxes:
                if box.lab is not None and self._shows(box.lab):
                    chip.append(" " * CHIP, cell_style(box.lab))
            words = f"{slot.name}: " + "; ".join(
                box_words(box, alone=len(slot.boxes) == 1) for box in slot.boxes
            )
            if chip:
                out += chip + Text("\n")
            out += Text("\n".join(wrapped(words, MEASURE)) + "\n\n")
        return out

    def _shows(self, lab: tuple[float, float, float]) -> bool:
        return self.app.app_state.depth.true_colour and not beyond_screen(lab)

    def action_keep(self) -> None:
        from scores.record.record import NotSavedError

        if self.keep is None:
            return
        try:
            said = self.keep()
        except (InputError, NotSavedError) as error:
            self.query_one("#told", Static).update(f"Not kept: {error}")
        else:
            self.dismiss(said)

    def action_back(self) -> None:
        self.dismiss(None)


def summed(sheet: SheetSaid) -> str:
    """ "Sheet ABC234, Pocket: 30 boxes read, 2 dropped"."""
    of = f", {sheet.of}" if sheet.of else ""
    kind = ", patches" if sheet.kind == "patches" else ""
    read = sheet.boxes - sheet.dropped
    return f"Sheet {sheet.sheet}{of}{kind}: {read} boxes read, {sheet.dropped} dropped"
