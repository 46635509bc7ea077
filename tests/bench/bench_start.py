"""From ``coach`` to today's figures on screen, against an empty Textual app's first paint.

``python -m tests.bench.bench_start`` prints the table; ``measure`` gives the
numbers. Each run spawns a process in a pseudo-terminal and stops the clock when
the words looked for have been written to it: the app's own figures and the last
hint at its foot, or the empty app's one label. The programs take turns, so that
a busy machine is busy for all of them.
"""

from __future__ import annotations

import random
import shutil
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter

from coach.app_state import AppState, ready
from coach.clock import local_now
from coach.terminal import ColourDepth
from drills.pencils.sets import demo_set
from tests.bench.records import make_long_record
from tests.pseudo_terminal import COACH, Terminal, surroundings

ROUNDS = 11
YOUNG, TEN_YEARS = 60, 220_000
ALLOWED_RATIO = 1.3
"""Today's figures against an empty app."""
ALLOWED_MS = 50.0
"""What ten years of answers may add."""
EMPTY = (
    sys.executable,
    "-c",
    "from textual.app import App\n"
    "from textual.widgets import Static\n"
    "class Empty(App):\n"
    "    def compose(self):\n"
    "        yield Static('an empty app')\n"
    "Empty().run()\n",
)
LABEL = (b"an empty app",)
TODAY = (b"skills met", b"leave")
WELCOME = (b"Whose pencils", b"leave")


@dataclass(frozen=True)
class Figures:
    """Milliseconds from spawn to paint, one of each a round."""

    empty: tuple[float, ...]
    welcome: tuple[float, ...]
    young: tuple[float, ...]
    long: tuple[float, ...]
    attempts: int

    @property
    def ratio(self) -> float:
        """Today over the empty app: the median of the rounds' own ratios."""
        return median(mine / floor for mine, floor in zip(self.young, self.empty, strict=True))

    @property
    def added(self) -> float:
        """What the long record adds, ms: the median of the rounds' own differences."""
        return median(long - young for long, young in zip(self.long, self.young, strict=True))


def first_paint(command: Sequence[str], home: Path, words: Sequence[bytes]) -> float:
    """Milliseconds from spawn until all these words have been written."""
    start = perf_counter()
    with Terminal(command, surroundings(home)) as terminal:
        terminal.until_written(words)
        return 1000 * (perf_counter() - start)


def furnish(home: Path, attempts: int) -> None:
    """A home where the demo set is in use and so many answers are kept."""
    home.mkdir()
    record = make_long_record(home / "record.db", attempts)
    app_state = AppState(
        record, ColourDepth(True, ""), local_now, seeds=lambda: random.getrandbits(32)
    )
    app_state.use(demo_set())
    app_state.keep(ready(demo_set()))
    record.close()


def measure(attempts: int = TEN_YEARS, rounds: int = ROUNDS) -> Figures:
    """Furnish both homes, then start each program in turn, ``rounds`` times."""
    with tempfile.TemporaryDirectory() as made:
        young, long, none = (Path(made) / name for name in ("young", "long", "none"))
        furnish(young, YOUNG)
        furnish(long, attempts)
        turns = {
            "empty": (EMPTY, none, LABEL),
            "welcome": (COACH, none, WELCOME),
            "young": (COACH, young, TODAY),
            "long": (COACH, long, TODAY),
        }
        taken: dict[str, list[float]] = {name: [] for name in turns}
        # The first round only warms the disk's cache.
        for turn in range(rounds + 1):
            for name, (command, home, words) in turns.items():
                ms = first_paint(command, home, words)
                if turn:
                    taken[name].append(ms)
                if name == "welcome":
                    shutil.rmtree(home, ignore_errors=True)
    return Figures(**{name: tuple(times) for name, times in taken.items()}, attempts=attempts)


def main() -> None:
    """Print the table; exit status 1 when the start takes longer than it may."""
    figures = measure()
    print(f"from spawn to first paint, ms, {ROUNDS} rounds{'median':>16}{'least':>8}")
    for name, times in (
        ("an empty Textual app", figures.empty),
        ("the first start: welcome", figures.welcome),
        (f"today, {YOUNG:,} answers", figures.young),
        (f"today, {figures.attempts:,} answers", figures.long),
    ):
        print(f"  {name:<42}{median(times):>8.0f}{min(times):>8.0f}")
    print(f"today is ×{figures.ratio:.2f} the empty app (allowed ×{ALLOWED_RATIO:.1f})")
    print(f"ten years of answers add {figures.added:.0f} ms (allowed {ALLOWED_MS:.0f})")
    if figures.ratio > ALLOWED_RATIO or figures.added > ALLOWED_MS:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
