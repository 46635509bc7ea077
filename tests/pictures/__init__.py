"""The pictures of the app that README.md and DEVELOPERS.md show, made of the real app.

``python -m tests.pictures`` makes them again; a test holds that they are true.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from textual.pilot import Pilot
from textual.widgets import Input

from coach.app import CoachApp
from coach.app_state import AppState
from coach.terminal import ColourDepth
from drills.basics.json_values import JSON
from drills.kinds import all_kinds
from drills.pencils.sets import demo_set
from scores.record.record import Record
from tests.contact_sheet.pressing import settled
from tests.contact_sheet.walk import TARGET, app_of, at_home, furnish
from tests.pilots import until

FOLDER = Path(__file__).parent
SIZE, WIDE = (100, 30), (120, 40)
SHOWN = "mute-with-complement"
TRUE_COLOUR = ColourDepth(True, "24-bit colour, so swatches are shown as they are")
A_MORNING = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def still_desk(folder: Path, seed: int = 3) -> AppState:
    """A app's state on which no time passes and the dice always fall alike."""
    record = Record.open(folder / "record.db")
    seeds = itertools.count(seed).__next__
    return AppState(record, TRUE_COLOUR, lambda: A_MORNING, lambda: 0.0, seeds)


async def picture_of(keys: list[str]) -> str:
    """The screen after some keys, as SVG."""
    with TemporaryDirectory() as folder:
        app_state = still_desk(Path(folder))
        app_state.use(demo_set())
        # One kind alone, so that the pictures don't hang on what a plan would choose today.
        others: list[JSON] = [kind for kind in all_kinds() if kind != SHOWN]
        app_state.record.set_setting("kinds_off", others)
        app = CoachApp(app_state)
        async with app.run_test(size=SIZE) as pilot:
            for key in ["", *keys]:
                if key:
                    await pilot.press(key)
                await app.workers.wait_for_complete()
                await pilot.pause()
            svg = app.export_screenshot()
        app_state.record.close()
    return svg


async def of_a_learner(write: Callable[[str, str], None]) -> None:
    """Today, a plan and progress of someone who has practised for some weeks."""
    with TemporaryDirectory() as folder, at_home(Path(folder)):
        app = app_of(furnish(Path(folder)))
        async with app.run_test(size=SIZE) as pilot:
            await settled(pilot, "skills met")
            write("today.svg", app.export_screenshot())
            await pilot.press("g")
            await settled(pilot, "Progress from")
            write("progress.svg", app.export_screenshot())
            await pilot.press("escape", "c")
            field = app.screen.query_one(Input)
            # A blinking cursor would be there or not, by chance.
            field.cursor_blink = False
            field.value = TARGET
            await pilot.press("enter")
            await settled(pilot, "ΔE00", gone="Planning…")
            write("plan.svg", await unchanging(pilot))
            await pilot.resize_terminal(*WIDE)
            await until(pilot, lambda: app.screen.size.width == WIDE[0])
            write("plan-wide.svg", await unchanging(pilot))
        app.app_state.record.close()


async def unchanging(pilot: Pilot[None]) -> str:
    """The screen as SVG, once it stays as it is: bars come and go while a page finds its length."""
    seen: list[str] = []
    while len(seen) < 6 or len(set(seen[-6:])) > 1:
        await pilot.pause()
        seen.append(pilot.app.export_screenshot())
    return seen[-1]


async def make(write: Callable[[str, str], None]) -> None:
    """Hand each picture's file name and content to ``write``."""
    await of_a_learner(write)
    write("practice.svg", await picture_of(["enter", "escape"]))
    write("reveal.svg", await picture_of(["enter", "escape", "2"]))
