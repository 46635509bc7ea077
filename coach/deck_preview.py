"""A deck as its student would be asked it, or shown to a class: the app itself, on a record
thrown away after.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from coach.terminal import ColourDepth

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.screen import Screen

    from coach.app import CoachApp
    from coach.app_state import AppState
    from decks.deck import Deck
    from drills.pencils.pencil import PencilSet

NOTICE = "A preview: the deck's questions, one of each, and nothing is kept."


def preview_app(deck: Deck, pencils: PencilSet, depth: ColourDepth, folder: Path) -> CoachApp:
    """The app with this deck alone, its record in ``folder``."""
    from coach.app import CoachApp
    from decks.record_form import to_kept
    from scores.record.decks_added import put_deck

    app_state = _state(pencils, depth, folder)
    put_deck(app_state.record, deck.fingerprint, deck.title, to_kept(deck), app_state.clock())
    return CoachApp(app_state)


def show_app(deck: Deck, pencils: PencilSet, depth: ColourDepth, folder: Path) -> CoachApp:
    """The app with nothing but this deck's questions over the whole screen."""
    from coach.app import CoachApp
    from coach.screens.teaching.showing.deck import ShowDeckScreen

    class ShowApp(CoachApp):
        def first_screen(self) -> Screen[None]:
            return ShowDeckScreen(deck)

        def make_ready(self) -> None:
            """Nothing is practised here: the screen makes its questions itself."""

    return ShowApp(_state(pencils, depth, folder))


def _state(pencils: PencilSet, depth: ColourDepth, folder: Path) -> AppState:
    from coach.app_state import AppState
    from scores.record.record import Record

    record = Record.open(folder / "preview.db")
    app_state = AppState(record, depth, notice=NOTICE, only_assigned=True)
    app_state.use(pencils)
    _look_at_own_screen(app_state)
    return app_state


def _look_at_own_screen(app_state: AppState) -> None:
    """What is known of the teacher's screen counts for a preview too."""
    from coach.home import record_path
    from coach.this_screen.kept import SETTING
    from drills.basics.errors import InputError
    from scores.record.record import NotSavedError, Record

    if not record_path().exists():
        return
    with suppress(InputError, NotSavedError):
        own = Record.open(record_path())
        try:
            known = own.setting(SETTING)
        finally:
            own.close()
        if known is not None:
            app_state.record.set_setting(SETTING, known)
            app_state.see_by()


def open_preview(deck: Deck, pencils: PencilSet, depth: ColourDepth) -> None:
    """Run the preview in this terminal."""
    _run(preview_app, deck, pencils, depth)


def open_show(deck: Deck, pencils: PencilSet, depth: ColourDepth) -> None:
    """Show the deck's questions in this terminal."""
    _run(show_app, deck, pencils, depth)


def _run(
    made: Callable[[Deck, PencilSet, ColourDepth, Path], CoachApp],
    deck: Deck,
    pencils: PencilSet,
    depth: ColourDepth,
) -> None:
    with TemporaryDirectory(prefix="coach-preview-") as folder:
        app = made(deck, pencils, depth, Path(folder))
        try:
            app.run()
        finally:
            app.app_state.record.close()
