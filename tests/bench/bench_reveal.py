"""From the key that answers to the reveal on screen, against Textual's own way of as much.

``python -m tests.bench.bench_reveal`` prints the table (of the kinds named, or of all);
``measure`` gives the numbers. Both apps run without a terminal but draw and write every
frame; the clock runs from the key to the frame in which verdict and hints both stand. The
floor is an app of plain Statics that shows as many words and coloured cells on a key. Ours
also grades, predicts, explains and keeps the answer on the disk. A key comes once the app
has looked ahead, as a learner's does; with ``--at-once`` it comes at once, as nobody's does.
Beside the time by the clock stands the time that the computer worked, which a busy machine
disturbs less.
"""

from __future__ import annotations

import os

# As the app does (``coach.running.entry``), before numpy is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import asyncio
import gc
import itertools
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter, thread_time

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
from drills.basics.days import practice_day
from drills.pencils.sets import demo_set
from scores.record.record import Record
from scores.today.examples import SHOWN

SIZE = (100, 30)
ANSWERS = 9
"""Of each kind; the first only warms what is cached."""
ALLOWED_MS = 5.0
"""Beyond Textual's own, median over kinds (issue: screens to look at)."""
AT_ONCE = "--at-once" in sys.argv


@dataclass(frozen=True)
class Taken:
    """Milliseconds from a key to what was waited for: by the clock, and worked by this thread."""

    clock: float
    worked: float


class Watch:
    """Notes when words are first written to the terminal."""

    def __init__(self) -> None:
        self._words: Callable[[], tuple[str, ...]] | None = None
        self._written = ""
        self._seen = asyncio.Event()
        self._at = (0.0, 0.0)

    def written(self, data: str) -> None:
        if self._words is None:
            return
        self._written += data
        words = self._words()
        if words and all(word in self._written for word in words):
            self._words = None
            self._at = (perf_counter(), thread_time())
            self._seen.set()

    async def press(self, app: App[None], key: str, words: Callable[[], tuple[str, ...]]) -> Taken:
        """From a key to all the words; while ``words`` gives none, they can't be known yet."""
        self._words, self._written = words, ""
        self._seen.clear()
        driver = app._driver
        assert driver is not None
        start, worked = perf_counter(), thread_time()
        driver.send_message(events.Key(key, key if len(key) == 1 else None))
        await asyncio.wait_for(self._seen.wait(), 10)
        return Taken(1000 * (self._at[0] - start), 1000 * (self._at[1] - worked))


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


async def floor() -> list[Taken]:
    """Textual's own."""
    taken = []
    watch, app = fresh_watch(), Plain()
    async with app.run_test(size=SIZE) as pilot:
        for _ in range(ANSWERS):
            await pilot.pause()
            taken.append(await watch.press(app, "1", lambda: ("A verdict", "next")))
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


def shown(app: CoachApp) -> tuple[str, ...]:
    """What stands on the screen once an answer is told; nothing before."""
    screen = app.screen
    assert isinstance(screen, PracticeScreen)
    if screen.outcome is None:
        return ()
    return (" ".join(screen.outcome.grade.verdict.split()[:2]), "next")


async def reveals(kind: str, made: Ready, folder: Path) -> list[Taken]:
    """Ours for one kind."""
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
    # No example comes before the question.
    record.set_setting(SHOWN, {kind: practice_day(local_now()).isoformat()})
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
            # Whoever answers has looked for a second or more: what the app does meanwhile is done.
            while app.screen.looking_ahead and not AT_ONCE:
                await pilot.pause(0.01)
            taken.append(await watch.press(app, key, lambda: shown(app)))
            await pilot.pause()
            await pilot.press("enter")
    record.close()
    return taken[1:]


@dataclass(frozen=True)
class Figures:
    """By kind: the floor measured just before, and ours."""

    floors: dict[str, list[Taken]]
    ours: dict[str, list[Taken]]

    def beyond(self, kind: str) -> Taken:
        """Ours beyond Textual's own, of medians."""
        ours, floors = middle(self.ours[kind]), middle(self.floors[kind])
        return Taken(ours.clock - floors.clock, ours.worked - floors.worked)

    @property
    def median_beyond(self) -> Taken:
        """The same, median over kinds."""
        return middle([self.beyond(kind) for kind in self.ours])


def middle(taken: Sequence[Taken]) -> Taken:
    """The median of each."""
    return Taken(median(t.clock for t in taken), median(t.worked for t in taken))


def measure(only: Sequence[str] = ()) -> Figures:
    """Measure the floor anew before each kind, so that a busy machine is busy for both."""
    made = ready(demo_set())
    # As the app does once the pencils are ready.
    gc.collect()
    gc.freeze()
    floors, ours = {}, {}
    with tempfile.TemporaryDirectory() as folder:
        for kind in only or made.kinds:
            floors[kind] = asyncio.run(floor())
            ours[kind] = asyncio.run(reveals(kind, made, Path(folder)))
    return Figures(floors, ours)


def main() -> None:
    """Print the table; exit status 1 when a reveal takes longer than it may."""
    figures = measure([name for name in sys.argv[1:] if name != "--at-once"])
    print("from the key to the reveal, ms, medians by the clock and (worked)")
    print(f"{'plain Statics':>45}{'ours':>16}{'beyond':>16}{'worst':>8}")
    for kind, taken in figures.ours.items():
        rows = middle(figures.floors[kind]), middle(taken), figures.beyond(kind)
        cells = "".join(f"{t.clock:8.1f} ({t.worked:5.1f})" for t in rows)
        print(f"  {kind:<27}{cells}{max(t.clock for t in taken):8.1f}")
    beyond = figures.median_beyond
    ratio = median(
        middle(figures.ours[k]).worked / middle(figures.floors[k]).worked for k in figures.ours
    )
    print(
        f"median over kinds: {beyond.clock:.1f} ({beyond.worked:.1f}) ms beyond,"
        f" ×{ratio:.2f} of the floor's work (allowed {ALLOWED_MS:.0f} ms)"
    )
    if beyond.clock > ALLOWED_MS:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
