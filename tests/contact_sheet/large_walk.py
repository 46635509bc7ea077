"""A walk through every state of a learner who wants large things."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import Path

from tests.contact_sheet.pressing import Seen
from tests.contact_sheet.walk import Size, app_of, at_home, learner_walk, own_copy, running


async def large_walk(home: Path, size: Size) -> AsyncIterator[Seen]:
    """Every state of a learner of some weeks; ``home`` as ``tests.contact_sheet.walk`` wants it."""
    own = own_copy(home, size, "large-")
    with at_home(own):
        app = app_of(own / "record.db")
        app.app_state.record.set_setting("large", True)
        async with running(app, size) as pilot:
            async for seen in learner_walk(pilot, home, every_kind=False):
                yield seen
