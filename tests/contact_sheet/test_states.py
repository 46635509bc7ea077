"""Every screen and state: whole, apart, grey, readable, in its measure, with its keys.

The main ones are kept as they looked, as text with their grounds.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from coach.app import CoachApp
from tests.contact_sheet.laws import LAWS
from tests.contact_sheet.walk import furnish, walk
from tests.pilots import RGB, lines, runs

MAIN = (
    *("today", "question", "reveal", "plan", "plan-other-way", "mending", "closing", "class"),
    *("settings", "help", "welcome", "screen-check", "today-few-colours"),
)
"""What is kept as it looked: changed on purpose, it is kept anew by ``--snapshot-update``."""


def picture(app: CoachApp) -> str:
    """The screen as text, and below it what is bold and the cells of each ground."""
    cells = Counter[RGB]()
    bold = []
    for run in runs(app):
        cells[run.behind or (0, 0, 0)] += len(run.text)
        if run.style.bold and not run.blank:
            bold.append(f"{run.y}: {run.text.strip()}")
    grounds = [f"#{r:02x}{g:02x}{b:02x} {count}" for (r, g, b), count in sorted(cells.items())]
    text = [line.rstrip() for line in lines(app)]
    return "\n".join([*text, "bold " + " | ".join(bold), *grounds])


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])
async def test_every_state_keeps_the_laws_and_the_main_ones_look_as_before(
    tmp_path: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    furnish(tmp_path, weeks=1)
    broken = []
    names = []
    pictures = {}
    async for seen in walk(tmp_path, size, every_kind=False):
        names.append(seen.name)
        if seen.name in MAIN:
            pictures[seen.name] = picture(seen.app)
        for law in LAWS:
            broken += [f"{seen.name}: {law.__name__}: {what}" for what in law(seen.app)]
    assert len(names) >= 40
    assert not broken, "\n".join(broken)
    assert pictures.keys() == set(MAIN)
    assert pictures == snapshot
