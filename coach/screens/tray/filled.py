"""Filled sheets: those kept, each to be looked through again, and a photo of one to read."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from coach.screens.base import CoachScreen
from coach.screens.tray.sheet_read import SheetReadScreen, summed
from coach.widgets.hints import Hint, Hints
from coach.widgets.lines import Lines
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from coach.host import HostApp
    from coach.sheets.photos import Read
    from coach.sheets.said import SheetSaid
    from drills.basics.json_values import JSON

ABOUT = (
    "Print a sheet with: coach pencils sheet. Fill its boxes, photograph it, and read the photo"
    " here: o. It stays on this machine, and only colours are kept."
)
ASKED = "Which photo? Type its path; several photos of one sheet are parted by semicolons."
READING = "Reading…"


class FilledScreen(CoachScreen[bool]):
    """Dismissed with True once a sheet was kept."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back"),
        Binding("o", "read", "Read a photo"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.sheets: tuple[SheetSaid, ...] = ()
        self._kept = False

    def compose(self) -> ComposeResult:
        yield Static("Sheets filled by hand", classes="title", markup=False)
        yield Static(ABOUT, id="told", classes="words", markup=False)
        yield Lines(markup=False)
        yield Input(placeholder="the photo, for example ~/sheet.jpg", classes="-asked")
        yield Hints(
            Hint("↑ ↓ Enter", "look through it"),
            Hint("o", "read a photo", "read"),
            Hint("Esc", "back", "back"),
        )

    def on_mount(self) -> None:
        self._fill()

    def _fill(self) -> None:
        from coach.reports.figure_words import day_words
        from coach.sheets.said import sheets_kept
        from drills.basics.days import from_utc_text

        self.sheets = sheets_kept(self.app.app_state.record.settings())
        options = self.query_one(OptionList)
        options.clear_options()
        for one in self.sheets:
            day = day_words(from_utc_text(one.at).astimezone().date())
            options.add_option(Option(f"{day}: {summed(one)}"))
        options.display = bool(self.sheets)
        options.highlighted = 0 if self.sheets else None
        options.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        self.app.push_screen(SheetReadScreen((self.sheets[event.option_index],)))

    def action_read(self) -> None:
        field = self.query_one(Input)
        field.display = True
        field.focus()
        self._say(ASKED)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        paths = tuple(part.strip() for part in event.value.split(";") if part.strip())
        if paths:
            self._say(READING)
            self._open(paths, self.app.app_state.record.settings())

    @work(thread=True, exclusive=True)
    def _open(self, paths: tuple[str, ...], settings: Mapping[str, JSON]) -> None:
        from functools import partial

        from coach.home import expanded
        from coach.sheets.photos import read_sheets
        from coach.sheets.printed import printed_in
        from drills.pictures.opening import open_picture

        try:
            pictures = (open_picture(expanded(path)) for path in paths)
            found, unread = read_sheets(pictures, partial(printed_in, settings))
        except InputError as error:
            self.app.call_from_thread(self._refused, str(error))
        else:
            self.app.call_from_thread(self._opened, found, unread)

    def _opened(self, found: Read, unread: list[str]) -> None:
        from coach.sheets.photos import told

        if not self.app.stands(self):
            return
        if not found:
            self._refused(unread[0] if unread else "No sheet could be read.")
            return
        self._close()
        read = SheetReadScreen(told(found), tuple(unread), lambda: self._keep(found))
        self.app.push_screen(read, self._done)

    def _keep(self, found: Read) -> str:
        """Keep what was read; what was done, in words. Raises NotSavedError and InputError."""
        from datetime import UTC

        from coach.sheets.photos import keep

        state = self.app.app_state
        lines, pencils = keep(state.record, found, state.clock().astimezone(UTC))
        if pencils is not None:
            state.use(pencils)
        self._kept = True
        return " ".join(lines)

    def _done(self, said: str | None) -> None:
        self._fill()
        self._say(said or ABOUT)

    def _refused(self, words: str) -> None:
        if self.app.stands(self):
            self._say(words)
            self.query_one(Input).focus()

    def _close(self) -> None:
        self.query_one(Input).display = False
        self.query_one(OptionList).focus()
        self._say(ABOUT)

    def _say(self, words: str) -> None:
        self.query_one("#told", Static).update(words)

    def action_back(self) -> None:
        if self.query_one(Input).display:
            self._close()
        else:
            self.dismiss(self._kept)
