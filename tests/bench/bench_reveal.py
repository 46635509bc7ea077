"""From the key that answers to the reveal on screen, against Textual's own way of as much.

``python -m tests.bench.bench_reveal`` prints the table; ``measure`` gives the
numbers. Both apps run without a terminal but draw and write every frame; the
clock runs from the key to the frame that holds the last hint. The floor is an
app of plain Statics that shows as many words and coloured cells on a key. Ours
also grades, predicts, explains and keeps the answer on the disk.
"""

from __future__ import annotations

import asyncio
import gc
import itertools
import tempfile
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter

from rich.text import Text
from textual import events
from textual.app import App, ComposeResult
from textual.containers import VerticalScroll
from textual.drivers import headless_driver
from textual.pilot import Pilot
from textual.widgets import Static

from coach.app import CoachApp
from coach.app_state import AppState, Ready, ready
from coach.clock import local_now
from coach.screens.practice.question import PracticeScreen
from coach.terminal import ColourDepth
from coach.widgets.choices import Choices, keys_for
from drills.pencils.sets import demo_set
from scores.record.record import Record

SIZE = (100, 30)
ANSWERS = 9
"""Of each kind; the first only warms what is cached."""
ALLOWED_MS = 16.0
"""Beyond Textual's own, median over kinds (issue: the daily session)."""


class Watch:
    """Notes when words are first written to the terminal."""

    def __init__(self) -> None:
        self._words = ""
        self._seen = asyncio.Event()
        self._at = 0.0

    def written(self, data: str) -> None:
        if self._words and self._words in data:
            self._words = ""
            self._at = perf_counter()
            self._seen.set()

    async def press(self, app: App[None], key: str, words: str) -> float:
        """Milliseconds from a key to these words."""
        self._words = words
        self._seen.clear()
        driver = app._driver
        assert driver is not None
        start = perf_counter()
        driver.send_message(events.Key(key, key if len(key) == 1 else None))
        await asyncio.wait_for(self._seen.wait(), 10)
        return 1000 * (self._at - start)


class WatchedDriver(headless_driver.HeadlessDriver):
    """No terminal, but every frame is drawn and handed to a watch."""

    watch = Watch()

    @property
    def is_headless(self) -> bool:
        return False

    def write(self, data: str) -> None:
        self.watch.written(data)


def fresh_watch() -> Watch:
    """A watch over what the next app writes."""
    # Textual's pilot takes this driver by its place and name.
    headless_driver.HeadlessDriver = WatchedDriver  # type: ignore[misc]
    WatchedDriver.watch = Watch()
    return WatchedDriver.watch


class Plain(App[None]):
    """As many words and colours as a reveal, from Statics."""

    CSS = "#telling { display: none; } #asking, #telling { height: 1fr; } Static { padding: 0 2; }"

    def compose(self) -> ComposeResult:
        yield Static("A title", id="title")
        yield Static("", id="why")
        with VerticalScroll(id="asking"):
            yield Static("A prompt of some words, as long as most are.")
        with VerticalScroll(id="telling"):
            yield Static("", id="verdict")
            yield Static("", id="results")
            yield Static("", id="because")
            yield Static("", id="limits")
        yield Static("1 choose", id="hints")

    def on_key(self, event: events.Key) -> None:
        telling = event.key == "1"
        self.query_one("#why", Static).update("blues: new to you here" if telling else "")
        if telling:
            rows = Text()
            for row in range(20):
                rows.append(" " * 7, f"on rgb({90 + row},120,90)")
                rows.append(" " * 7, f"on rgb(200,{90 + row},90)")
                rows.append("   words about a result, as many as stand in one line of a reveal\n")
            self.query_one("#verdict", Static).update("A verdict in a few words.")
            self.query_one("#results", Static).update(rows)
            self.query_one("#because", Static).update("A line of why, as long as most. " * 6)
            self.query_one("#limits", Static).update("What the model can't know. " * 5)
        self.query_one("#asking").display = not telling
        self.query_one("#telling").display = telling
        self.query_one("#hints", Static).update("Enter next" if telling else "1 choose")


async def floor() -> list[float]:
    """Textual's own, ms."""
    taken = []
    watch, app = fresh_watch(), Plain()
    async with app.run_test(size=SIZE) as pilot:
        for _ in range(ANSWERS):
            await pilot.pause()
            taken.append(await watch.press(app, "1", "next"))
            await pilot.press("2")
    return taken[1:]


async def to_last_key(pilot: Pilot[None], screen: PracticeScreen) -> str:
    """Answer all but the last key; that key."""
    assert screen.session is not None
    assert screen.question is not None
    kind = screen.session.kinds[screen.question.kind]
    while True:
        choices = screen.query_one(Choices)
        asked = choices.asked
        assert asked is not None
        if asked.form == "arrange":
            for key in keys_for(asked.choices):
                await pilot.press(key)
            return "enter"
        if asked.form == "build" and len(screen.replies) >= 2:
            return "d"
        if asked.form == "set":
            return "enter"
        key = keys_for(asked.choices)[len(screen.replies) % len(asked.choices)]
        reply = (asked.choices[len(screen.replies) % len(asked.choices)].key,)
        if asked.form == "choose" and not kind.ask(screen.question, (*screen.replies, reply)):
            return key
        await pilot.press(key)
        await pilot.pause()


async def reveals(kind: str, made: Ready, folder: Path) -> list[float]:
    """Ours for one kind, ms."""
    taken = []
    # Each look at this clock is a second later: no answer is too quick to count.
    timer = itertools.count().__next__
    record = Record.open(folder / f"{kind}.db")
    app_state = AppState(
        record, ColourDepth(True, ""), local_now, timer, itertools.count(1).__next__
    )
    app_state.use(made.palette.set)
    app_state.keep(made)
    record.set_setting("minutes", 60)
    record.set_setting("kinds_off", [name for name in made.kinds if name != kind])
    watch, app = fresh_watch(), CoachApp(app_state)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        await app.workers.wait_for_complete()
        await pilot.press("enter")
        for _ in range(ANSWERS):
            await pilot.pause()
            assert isinstance(app.screen, PracticeScreen)
            key = await to_last_key(pilot, app.screen)
            await pilot.pause()
            taken.append(await watch.press(app, key, "next"))
            await pilot.pause()
            await pilot.press("enter")
    record.close()
    return taken[1:]


@dataclass(frozen=True)
class Figures:
    """Milliseconds, medians, by kind: the floor measured just before, and ours."""

    floors: dict[str, float]
    ours: dict[str, float]

    def beyond(self, kind: str) -> float:
        return self.ours[kind] - self.floors[kind]

    @property
    def median_beyond(self) -> float:
        """Ours beyond Textual's own, median over kinds."""
        return median(self.beyond(kind) for kind in self.ours)


def measure() -> Figures:
    """Measure the floor anew before each kind, so that a busy machine is busy for both."""
    made = ready(demo_set())
    # As the app does once the pencils are ready.
    gc.collect()
    gc.freeze()
    floors, ours = {}, {}
    with tempfile.TemporaryDirectory() as folder:
        for kind in made.kinds:
            floors[kind] = median(asyncio.run(floor()))
            ours[kind] = median(asyncio.run(reveals(kind, made, Path(folder))))
    return Figures(floors, ours)


def main() -> None:
    """Print the table; exit status 1 when a reveal takes longer than it may."""
    figures = measure()
    print(f"from the key to the reveal, ms, medians{'plain Statics':>16}{'ours':>8}{'beyond':>8}")
    for kind, taken in figures.ours.items():
        print(f"  {kind:<37}{figures.floors[kind]:>16.1f}{taken:>8.1f}{figures.beyond(kind):>8.1f}")
    print(f"median over kinds: {figures.median_beyond:.1f} ms (allowed {ALLOWED_MS:.0f})")
    if figures.median_beyond > ALLOWED_MS:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
