"""The teacher's own rooms, walked through from the class."""

from __future__ import annotations

from collections.abc import AsyncIterator
from functools import partial
from pathlib import Path

from textual.pilot import Pilot

from tests.contact_sheet.pressing import Seen, pressed, settled
from tests.pilots import until


async def desk(pilot: Pilot[None], home: Path) -> AsyncIterator[Seen]:
    """From the class's screen and back to it; ``home`` holds the photo."""
    press, see = partial(pressed, pilot), partial(Seen, pilot=pilot)
    app = see("").app
    await press("w")
    yield see("deck-making")
    await press("down", "down", "down", "down", "down", "down", "enter")
    yield see("deck-colours-none")
    await press("f", *str(home / "photo.png"), "enter")
    await until(pilot, lambda: getattr(app.screen, "spot", None) is not None)
    await press("enter")
    yield see("deck-photo-name")
    await press("enter")
    yield see("deck-photo-taken")
    await press("escape")
    await settled(pilot, "reach", gone="Trying it")
    yield see("deck-colours")
    await press("escape", "escape", "escape")
