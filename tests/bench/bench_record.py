"""What ten years of answers cost at the start, against a young record in the same run,
and what saving one costs beyond the disk's own fsync.

``python -m tests.bench.bench_record`` prints the table; ``measure`` gives the numbers.
"""

from __future__ import annotations

import os
import random
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

from scores.record.mending.compare import look_over
from scores.record.record import Record
from scores.today.day_plan import plan_session
from scores.today.offers import KindFacts, Offers
from tests.answers import answer
from tests.bench.records import FAMILIES, FIRST_DAY, KINDS, make_long_record

YOUNG = 60
"""Answers in the young record: a first day."""
ROUNDS = 25
ALLOWED_MS = 50.0
"""What the long record may add to the start."""
BEYOND_MS = 3.0
"""What a save may take beyond one fsync of a like entry in a file of its own."""
ENTRY_BYTES = 1300


@dataclass(frozen=True)
class Figures:
    """Milliseconds (medians) but for ``attempts``, ``bytes`` and ``make_s`` (seconds).

    ``open_*`` is opening and reading all that the first screen shows;
    ``plan_*`` the same and today's plan; ``save_*`` one answer kept; ``fsync`` an entry
    written to a file and brought to the disk; ``look_s`` (seconds, of processor) the long
    record looked over in the background.
    """

    attempts: int
    bytes: int
    make_s: float
    open_young: float
    open_long: float
    plan_young: float
    plan_long: float
    save_young: float
    save_long: float
    fsync: float
    look_s: float

    @property
    def beyond(self) -> float:
        """What a save takes beyond the disk's own fsync."""
        return max(self.save_young, self.save_long) - self.fsync

    @property
    def added(self) -> float:
        """What the long record adds to the start."""
        return self.plan_long - self.plan_young


def _offers() -> Offers:
    kinds = {
        name: KindFacts(name, 1, name, seconds, unit, steps, chance, True)
        for name, (steps, chance, seconds, unit) in KINDS.items()
    }
    return Offers(kinds, tuple((kind, family) for kind in kinds for family in FAMILIES))


def _open(path: Path) -> Record:
    record = Record.open(path)
    record.skills()
    record.kind_times()
    record.settings()
    record.active_pencils()
    return record


def _plan(path: Path, days: int) -> Record:
    record = _open(path)
    now = FIRST_DAY + timedelta(days=days)
    plan_session(record.skills(), _offers(), record.kind_times(), now, 10, random.Random(1))
    return record


def _times(work: Callable[[], Record]) -> float:
    taken = []
    for _ in range(ROUNDS):
        start = perf_counter()
        record = work()
        taken.append(1000 * (perf_counter() - start))
        record.close()
    return median(taken)


def _saves(path: Path) -> float:
    record, taken = Record.open(path), []
    for number in range(ROUNDS):
        made = answer(number, session=f"bench {path.name}", kind="order-of-layers", days=9000)
        start = perf_counter()
        record.save(made)
        taken.append(1000 * (perf_counter() - start))
    record.close()
    return median(taken)


def _fsync(folder: Path) -> float:
    taken = []
    with (folder / "floor").open("ab", buffering=0) as file:
        for _ in range(ROUNDS):
            start = perf_counter()
            file.write(b"x" * ENTRY_BYTES)
            os.fsync(file.fileno())
            taken.append(1000 * (perf_counter() - start))
    return median(taken)


def _looked_over(path: Path) -> float:
    record = Record.open(path)
    start = process_time()
    for _ in look_over(record):
        pass
    taken = process_time() - start
    assert record.said() == ""
    record.close()
    return taken


def measure(attempts: int = 220_000, folder: Path | None = None) -> Figures:
    """Make both records (in ``folder``, else somewhere that is deleted again) and measure them."""
    with tempfile.TemporaryDirectory() as made:
        home = folder or Path(made)
        young, long = home / "young.db", home / "long.db"
        make_long_record(young, YOUNG).close()
        start = perf_counter()
        make_long_record(long, attempts).close()
        make_s = perf_counter() - start
        days = attempts // YOUNG
        return Figures(
            attempts=attempts,
            bytes=long.stat().st_size,
            make_s=make_s,
            open_young=_times(lambda: _open(young)),
            open_long=_times(lambda: _open(long)),
            plan_young=_times(lambda: _plan(young, 1)),
            plan_long=_times(lambda: _plan(long, days)),
            save_young=_saves(young),
            save_long=_saves(long),
            fsync=_fsync(home),
            look_s=_looked_over(long),
        )


def main() -> None:
    """Print the table; exit status 1 when the start takes longer than it may."""
    figures = measure()
    size = figures.bytes / 1e6
    print(f"{figures.attempts} attempts, {size:.0f} MB, made in {figures.make_s:.0f} s")
    print(f"{'':24}{'young':>10}{'long':>10}   ms, medians of {ROUNDS}")
    for name in ("open", "plan", "save"):
        young, long = getattr(figures, f"{name}_young"), getattr(figures, f"{name}_long")
        print(f"{name:24}{young:10.1f}{long:10.1f}   ×{long / young:.2f}")
    print(f"added to the start: {figures.added:.1f} ms (allowed {ALLOWED_MS:.0f})")
    print(f"a save beyond one fsync of {figures.fsync:.1f} ms: {figures.beyond:.1f} ms")
    print(f"looked over in the background: {figures.look_s:.1f} s of processor")
    if figures.added > ALLOWED_MS or figures.beyond > BEYOND_MS:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
