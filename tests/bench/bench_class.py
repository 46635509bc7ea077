"""A class at scale: ``python -m tests.bench.bench_class [--quick]``.

300 students × 60 answers a day × 90 days: 1.6 million answers. The files are
written, merged and thrown away one student at a time; only merging is timed.
Merging again at a sixteenth and at a quarter of that shows that cost grows with
the answers and no faster. The yardstick of the same run is Python's own JSON
reader on the same files. Rates are told by the clock on the wall and, since this
machine may be busy with other things, by the processor's time as well; the bound
is on the latter. So are what screens and the report take, but their bounds are on
the clock on the wall. A file that comes again, and one that comes again with as
many new answers, are told beside.

Memory is the peak of a process of its own that merges 20 of the files into the
full class and then writes the report.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple, TypeVar

from coach.reports.classes.kinds import kind_scales
from coach.reports.classes.page import page, report_of
from scores.classes.class_lines import ClassView
from scores.classes.store import ClassBook
from scores.classes.views import overview, skill_page, student_page
from scores.exchange.results_read import load_results
from tests.bench.classes import KINDS, results_text, student_of

STUDENTS, A_DAY, DAYS = 300, 60, 90
NOW = datetime(2026, 6, 1, tzinfo=UTC)
LEAST_A_SECOND = 20_000
REPORT_S, SCREEN_S, MEMORY_MB = 3.0, 0.3, 400
LINEAR = 1.35
"""Most that an answer may cost at 16× over what it costs at 1×."""


T = TypeVar("T")


class Merged(NamedTuple):
    """Answers merged; seconds on the wall, of the processor, and of it for JSON alone."""

    answers: int
    wall: float
    busy: float
    alone: float


def merge(path: Path, folder: Path, days: int, students: int) -> Merged:
    """Make a class of so many students and days."""
    wall = busy = alone = 0.0
    book = ClassBook.open(path)
    for number in range(students):
        file = folder / f"{number}.json"
        file.write_text(results_text(number, days * A_DAY, A_DAY), encoding="utf-8")
        before = time.process_time()
        json.loads(file.read_bytes())
        start, began = time.perf_counter(), time.process_time()
        book.add(load_results(file, NOW), file.name)
        busy += time.process_time() - began
        wall += time.perf_counter() - start
        alone += began - before
        file.unlink()
    book.close()
    return Merged(students * days * A_DAY, wall, busy, alone)


def again(folder: Path) -> tuple[float, float]:
    """Answers a second of processor: of a file that came before, and of one that holds it."""
    book = ClassBook.open(folder / "again.db")
    file = folder / "again.json"
    rates = []
    for days in (DAYS // 2, DAYS // 2, DAYS):
        file.write_text(results_text(0, days * A_DAY, A_DAY), encoding="utf-8")
        began = time.process_time()
        book.add(load_results(file, NOW), file.name)
        rates.append(days * A_DAY / (time.process_time() - began))
    book.close()
    return rates[1], rates[2]


def screens(path: Path) -> dict[str, tuple[float, float]]:
    """Seconds on the wall and of the processor for each view, from opening the file on."""
    times = {}

    def took(what: str, work: Callable[[], T]) -> T:
        start, began = time.perf_counter(), time.process_time()
        made = work()
        times[what] = time.perf_counter() - start, time.process_time() - began
        return made

    def opened() -> tuple[ClassBook, ClassView]:
        book = ClassBook.open(path, create=False)
        return book, overview(book)

    def report() -> None:
        text = page(report_of(book, kind_scales()), NOW, {}, "bench")
        (path.parent / "report.html").write_text(text, encoding="utf-8")

    book, view = took("class screen, its figures", opened)
    took("one student's page", lambda: student_page(book, student_of(7)[0]))
    took("one skill's page", lambda: skill_page(view, (KINDS[0], "red")))
    took("report", report)
    book.close()
    return times


def peak(path: Path, folder: Path) -> int:
    """The most memory, in MB, of a process that merges 20 files and writes the report."""
    for number in range(20):
        text = results_text(number, DAYS * A_DAY, A_DAY)
        (folder / f"{number}.json").write_text(text, encoding="utf-8")
    program = (
        "import sys; from pathlib import Path; from tests.bench.bench_class import load\n"
        "load(Path(sys.argv[1]), Path(sys.argv[2]))"
    )
    told = subprocess.run(
        [sys.executable, "-c", program, str(path), str(folder)],
        check=True,
        capture_output=True,
        text=True,
    )
    return int(told.stdout.split()[-1])


def load(path: Path, folder: Path) -> None:
    """What ``peak`` measures."""
    book = ClassBook.open(path)
    for file in sorted(folder.glob("*.json")):
        book.add(load_results(file, NOW), file.name)
    text = page(report_of(book, kind_scales()), NOW, {}, "bench")
    (path.parent / "report.html").write_text(text, encoding="utf-8")
    book.close()
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)


def main() -> int:
    quick = "--quick" in sys.argv
    sizes = ((STUDENTS // 16, 1), (STUDENTS // 4, 4)) if quick else ((19, 1), (75, 4), (300, 16))
    costs: list[float] = []
    ok = True
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        print("  answers students  answers/s of processor  of wall  s on the wall  × JSON alone")
        for students, times in sizes:
            path = folder / f"class-{times}.db"
            made = merge(path, folder, DAYS, students)
            costs.append(made.busy / made.answers)
            ok &= made.answers / made.busy >= LEAST_A_SECOND
            print(
                f"{made.answers:9,} {students:8} {made.answers / made.busy:23,.0f}"
                f" {made.answers / made.wall:8,.0f} {made.wall:14.1f}"
                f" {made.busy / made.alone:13.1f}"
                f"   ({times}×, {path.stat().st_size / 1e6:.0f} MB)"
            )
        growth = costs[-1] / costs[0]
        print(f"an answer at {sizes[-1][1]}× costs {growth:.2f} of one at 1× (≤ {LINEAR})")
        same, longer = again(folder)
        print(f"a file again: {same:,.0f} answers/s of processor; twice as long: {longer:,.0f}")
        for what, (seconds, busy) in screens(path).items():
            limit = REPORT_S if what == "report" else SCREEN_S
            ok &= seconds <= limit
            print(
                f"{what:28} {1000 * seconds:7.0f} ms (≤ {1000 * limit:.0f}),"
                f" {1000 * busy:.0f} of processor"
            )
        size = (folder / "report.html").stat().st_size / 1e6
        memory = peak(path, folder)
        print(f"the report is {size:.1f} MB; memory at most {memory} MB (≤ {MEMORY_MB})")
    ok &= growth <= LINEAR and memory <= MEMORY_MB
    return int(not ok)


if __name__ == "__main__":
    sys.exit(main())
