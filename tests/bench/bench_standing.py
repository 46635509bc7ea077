"""Are those named weak weak? ``python -m tests.bench standing [--quick]``.

Classes of 24 made up with a known truth (``tests.bench.class_truths``), 8 questions a
day, after one week and after three, and classes of equals. A student is named weak as
the screens name one. Every bound is on rates over all classes; nothing is timed.
"""

from __future__ import annotations

import random
import sys
from typing import NamedTuple

import numpy as np

from scores.classes.confusions import confusions
from scores.classes.standing.drawn import Drawn, drawn
from scores.classes.standing.fit import integrate
from scores.classes.standings import DIFFER, ON_TRACK, WEAK
from tests.bench.class_truths import MadeClass, made_class

CLASSES, QUICK = 150, 30
PRECISION, ONE_WEEK, THREE_WEEKS, EQUALS = 0.80, 0.30, 0.60, 0.95
CONFUSED = 0.95


class Named(NamedTuple):
    """Students named, how many of them truly weak, truly weak in all; said on track, of them
    weak; not known; what the names' own probabilities add up to."""

    named: int
    right: int
    weak: int
    on_track: int
    wrongly: int
    unknown: int
    said: float


def named(made: MadeClass, told: Drawn) -> Named:
    """One class's count."""
    third = len(made.true) // 3
    weak = np.zeros(len(made.true), dtype=bool)
    weak[np.argsort(made.true)[:third]] = True
    names = (told.weak >= WEAK) & (told.differ >= DIFFER)
    well = (told.on_track >= ON_TRACK) & ~names
    return Named(
        int(names.sum()),
        int((names & weak).sum()),
        third,
        int(well.sum()),
        int((well & weak).sum()),
        int((~well & ~names).sum()),
        float(told.weak[names].sum()),
    )


def run(classes: int, weeks: int, first: int, equal: bool = False) -> list[Named]:
    """So many classes."""
    found = []
    for seed in range(first, first + classes):
        made = made_class(seed, weeks=weeks, equal=equal)
        found.append(named(made, drawn(made.cells, integrate(made.cells))))
    return found


def confused_by_accident(classes: int) -> float:
    """The share of classes without any true confusion in which none is told.

    Students differ in how often they err, and families in how hard they are.
    """
    quiet = 0
    for seed in range(classes):
        rng = random.Random(f"accidents {seed}")
        hard = [rng.uniform(0.08, 0.28) for _ in range(12)]
        counts: dict[tuple[int, int], list[int]] = {}
        for student in range(24):
            times = rng.uniform(0.5, 1.8)
            for _ in range(60):
                truth = rng.randrange(12)
                said = truth
                if rng.random() < hard[truth] * times:
                    said = (truth + rng.choice((-1, 1, -1, 1, -1, 1, 2, -2, 3, -3))) % 12
                counts.setdefault((truth, said), []).append(student)
        rows = [(t, s, len(who), len(set(who))) for (t, s), who in counts.items()]
        quiet += not confusions(rows)
    return quiet / classes


def main() -> int:
    classes = QUICK if "--quick" in sys.argv else CLASSES
    ok = True
    for weeks, least in ((1, ONE_WEEK), (3, THREE_WEEKS)):
        total = Named(*(sum(some) for some in zip(*run(classes, weeks, 5_000), strict=True)))
        precision, share = total.right / total.named, total.right / total.weak
        ok &= precision >= PRECISION and share >= least
        print(
            f"{weeks} week{'s' * (weeks > 1)}, {classes} classes: of {total.named} named weak"
            f" {precision:.1%} are (≥ {PRECISION:.0%}; said {total.said / total.named:.1%});"
            f" {share:.1%} of the weakest third named (≥ {least:.0%});"
            f" on track {total.on_track}, of them weak {total.wrongly / total.on_track:.1%};"
            f" not known yet {total.unknown}"
        )
    equals = [one for weeks in (1, 3) for one in run(classes, weeks, 9_000, equal=True)]
    silent = sum(one.named == 0 for one in equals) / len(equals)
    quiet = confused_by_accident(4 * classes)
    ok &= silent >= EQUALS and quiet >= CONFUSED
    print(f"classes of equals with nobody named: {silent:.1%} (≥ {EQUALS:.0%})")
    print(f"classes without a confusion in which none is told: {quiet:.1%} (≥ {CONFUSED:.0%})")
    return int(not ok)


if __name__ == "__main__":
    sys.exit(main())
