"""2,500 command lines at random: no traceback, nothing hung, nothing written over.

``python -m tests.bench fuzz`` prints the counts; ``python -m tests.bench.bench_fuzz COUNT
SEED`` runs others. Each runs in a home of its own that is thrown away.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from pathlib import Path
from time import perf_counter

from tests.fuzz.lines import Line
from tests.fuzz.runs import fuzz

COUNT = 2_500
SEED = 9


def tell(line: Line, wrong: str) -> None:
    print(f"in a home that is {line.home}: coach {' '.join(map(ascii, line.words))[:300]}")
    print(f"    {wrong[-1500:]}", flush=True)


def main(count: int = COUNT, seed: int = SEED) -> int:
    start = perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        found = fuzz(Path(folder), count, seed, tell)
    kinds = Counter(wrong.split(":")[0] for _, wrong in found.faults)
    print(
        f"{found.ran:,} command lines (seed {seed}), {found.as_processes} as processes of their"
        f" own, {perf_counter() - start:.0f} s"
    )
    print("statuses:", dict(sorted(found.statuses.items(), key=str)))
    print("commands:", dict(found.commands.most_common()))
    print("faults:", dict(kinds) or 0)
    return int(bool(found.faults))


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
