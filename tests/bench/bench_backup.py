"""What the day's backup costs an answer that is saved meanwhile, on a record of many years.

``python -m tests.bench backup`` prints the table. The floor is the same answers saved
with no backup under way, in the same run.
"""

from __future__ import annotations

import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from threading import Event, Thread
from time import perf_counter

from coach.app import COPYING_RESTS_S
from scores.record.record import Record
from scores.upkeep.backups import back_up
from tests.answers import START, answer
from tests.bench.records import make_long_record

ANSWERS = 60_000
"""Near three years of daily practice."""
PAUSE_S = 0.05
ALLOWED = 3.0
"""How many times its floor an answer's median save may take while the backup is made."""


@dataclass(frozen=True)
class Figures:
    """Saves in milliseconds, alone and while the backup was made; the backup in seconds."""

    bytes: int
    alone: tuple[float, ...]
    meanwhile: tuple[float, ...]
    backup_s: float

    @property
    def ratio(self) -> float:
        return median(self.meanwhile) / median(self.alone)


def measure(folder: Path, answers: int = ANSWERS) -> Figures:
    """Make a long record in ``folder``, then save answers with and without a backup under way."""
    path = folder / "record.db"
    record = make_long_record(path, answers)
    numbers = iter(range(1_000_000))

    def saved() -> float:
        time.sleep(PAUSE_S)
        made = answer(next(numbers), session="bench", days=9000)
        start = perf_counter()
        record.save(made)
        return (perf_counter() - start) * 1000

    saved()
    alone = tuple(saved() for _ in range(60))
    over = Event()
    took = 0.0

    def work() -> None:
        nonlocal took
        start = perf_counter()

        def go_on() -> bool:
            time.sleep(COPYING_RESTS_S)
            return True

        made = back_up(path, START.date(), go_on)
        took = perf_counter() - start
        over.set()
        assert made is not None

    thread = Thread(target=work)
    thread.start()
    meanwhile = []
    while not over.is_set():
        meanwhile.append(saved())
    thread.join()
    size = path.stat().st_size
    record.close()
    _same(path, folder / "backups" / f"record-{START.date()}.db", answers)
    return Figures(size, alone, tuple(meanwhile), took)


def _same(path: Path, copy: Path, answers: int) -> None:
    first, second = Record.open(path), Record.open(copy)
    try:
        assert second.count() >= answers
        assert first.count() > second.count()
    finally:
        first.close()
        second.close()


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        found = measure(Path(folder))
    print(f"A record of {found.bytes / 1e6:.0f} MB; its backup took {found.backup_s:.1f} s")
    print(f"{'save, ms':24}{'median':>8}{'95th':>8}{'worst':>8}{'saves':>8}")
    for name, times in (("alone", found.alone), ("while it is made", found.meanwhile)):
        ranked = sorted(times)
        late = ranked[int(0.95 * (len(ranked) - 1))]
        print(f"{name:24}{median(ranked):8.1f}{late:8.1f}{ranked[-1]:8.1f}{len(ranked):8}")
    print(f"ratio of the medians {found.ratio:.2f} (bound {ALLOWED:g})")
    return int(found.ratio > ALLOWED)


if __name__ == "__main__":
    sys.exit(main())
