"""The lists as they stand where large things are wanted, walked through from today and back."""

from __future__ import annotations

from collections.abc import AsyncIterator
from functools import partial

from textual.pilot import Pilot

from tests.contact_sheet.pressing import Seen, pressed, settled


async def large_lists(pilot: Pilot[None]) -> AsyncIterator[Seen]:
    """Each question, one thing, pencils, settings, progress, a class and a deck."""
    press, see = partial(pressed, pilot), partial(Seen, pilot=pilot)
    await press("d")
    yield see("large-today-each-question")
    await press("d", "o", "down")
    yield see("large-one-thing")
    await press("escape", "w")
    yield see("large-pencils")
    await press("right", "down")
    yield see("large-pencils-later")
    await press("escape", "s", "down")
    yield see("large-settings")
    await press("escape", "g")
    await settled(pilot, "Progress from")
    yield see("large-progress")
    await press("2")
    yield see("large-progress-skills")
    await press("escape", "k")
    await settled(pilot, "students", gone="Reading the answers")
    await press("down")
    yield see("large-class")
    await press("w")
    yield see("large-deck")
    await press("escape", "escape")
