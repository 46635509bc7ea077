"""What is said after an answer: is it a plain sentence, does it fit, can it be read?

``python -m tests.bench.bench_words`` prints, for every kind over both built-in sets:
the share of verdicts that hold figures or symbols, the share of reveals that stand
whole on a screen of 80 × 24, and in how many the learner's own and the best row do;
then the least contrast of lettering in each room.
"""

from __future__ import annotations

import asyncio
import sys
import tempfile
from collections import defaultdict
from pathlib import Path

from coach.room import ROOMS
from drills.pencils.sets import demo_set, pocket_set
from tests.contrast import contrasts
from tests.reveals import SYMBOLS, Shown, all_shown

SEEDS = range(12)
LEAST_WHOLE = 0.9
LEAST_CONTRAST = 4.5
"""WCAG 2.2, success criterion 1.4.3."""


async def measured() -> list[Shown]:
    shown = []
    for pencils in (demo_set(), pocket_set()):
        with tempfile.TemporaryDirectory() as folder:
            shown += [one async for one in all_shown(Path(folder), pencils, SEEDS)]
    return shown


def main() -> None:
    """Print the tables; exit status 1 when a bar is missed."""
    of_kind = defaultdict(list)
    for one in asyncio.run(measured()):
        of_kind[one.answered.kind].append(one)
    print(f"{'':<26}{'reveals':>8}{'symbols':>9}{'whole':>8}{'marked':>8}{'most over':>11}")
    everything = [one for found in of_kind.values() for one in found]
    for name, found in [*of_kind.items(), ("all", everything)]:
        print(
            f"{name:<26}{len(found):>8}"
            f"{sum(bool(SYMBOLS.search(one.answered.grade.verdict)) for one in found):>9}"
            f"{sum(one.whole for one in found) / len(found):>8.2f}"
            f"{sum(one.marked_in_view for one in found) / len(found):>8.2f}"
            f"{max(one.lines_over for one in found):>11}"
        )
    least = {room.name: min(contrasts(room).values()) for room in ROOMS}
    for name, ratio in least.items():
        print(f"least contrast, {name}: {ratio:.2f}")
    ok = (
        not any(SYMBOLS.search(one.answered.grade.verdict) for one in everything)
        and sum(one.whole for one in everything) >= LEAST_WHOLE * len(everything)
        and all(one.marked_in_view for one in everything)
        and min(least.values()) >= LEAST_CONTRAST
    )
    if not ok:
        sys.exit(1)


if __name__ == "__main__":
    main()
