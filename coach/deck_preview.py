"""A deck as its student would be asked it: the app itself, on a record thrown away after."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from coach.terminal import ColourDepth

if TYPE_CHECKING:
    from coach.app import CoachApp
    from decks.deck import Deck
    from drills.pencils.pencil import PencilSet

NOTICE = "A preview: the deck's questions, one of each, and nothing is kept."


def preview_app(deck: Deck, pencils: PencilSet, depth: ColourDepth, folder: Path) -> CoachApp:
    """The app with this deck alone, its record in ``folder``."""
    from coach.app import CoachApp
    from coach.app_state import AppState
    from decks.record_form import to_kept
    from scores.record.decks_added import put_deck
    from scores.record.record import Record

    record = Record.open(folder / "preview.db")
    app_state = AppState(record, depth, notice=NOTICE, only_assigned=True)
    put_deck(record, deck.fingerprint, deck.title, to_kept(deck), app_state.clock())
    app_state.use(pencils)
    return CoachApp(app_state)


def open_preview(deck: Deck, pencils: PencilSet, depth: ColourDepth) -> None:
    """Run the preview in this terminal."""
    with TemporaryDirectory(prefix="coach-preview-") as folder:
        app = preview_app(deck, pencils, depth, Path(folder))
        try:
            app.run()
        finally:
            app.app_state.record.close()
