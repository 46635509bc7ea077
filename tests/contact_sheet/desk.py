"""The teacher's own rooms, walked through from the class."""

from __future__ import annotations

from collections.abc import AsyncIterator
from dataclasses import replace
from functools import partial
from pathlib import Path

from textual.pilot import Pilot

from coach.screens.teaching.showing.deck import ShowDeckScreen
from decks.starters import starter
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
    async for seen in _shown(pilot):
        yield seen


async def _shown(pilot: Pilot[None]) -> AsyncIterator[Seen]:
    """A deck before a class: questions of each form, hands counted, answers."""
    press, see = partial(pressed, pilot), partial(Seen, pilot=pilot)
    drills = ("lighter-or-darker", "evenly-between", "value-order", "set-the-colour")
    deck = replace(starter("values"), kinds=drills, families=(), targets=(), steps=())
    screen = ShowDeckScreen(deck)
    await see("").app.push_screen(screen)
    await until(pilot, lambda: screen.done)
    yield see("show-question")
    await press("t", *"12 3")
    yield see("show-hands-typed")
    await press("enter", "enter")
    yield see("show-answer")
    for drill in drills[1:]:
        await press("s")
        yield see(f"show-{drill}")
        await press("enter")
        yield see(f"show-{drill}-answer")
    await press("escape")
