"""What a question costs with 120 pencils, against one prediction of four moves in the same run.

``python -m tests.bench.bench_questions`` prints the table; ``measure`` gives the
numbers. Palette and pool are ready, as in a session; all that kinds remember is
empty at the start, so that the first question of every region is counted too.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from time import process_time

from drills.kinds import all_kinds, draw
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import Palette, prepare
from drills.layering.predict import predict
from drills.questions.protocol import CannotAskError, Kind
from tests.palettes import many_pencils

PENCILS = 120
SEEDS = 4
MEDIAN_MS, WORST_MS = 15.0, 50.0
"""What a question may take (issue: the daily session)."""


@dataclass(frozen=True)
class Cost:
    """Milliseconds of processor time for one kind.

    ``first`` is the worst of the first questions of the regions; ``worst``
    counts them too. ``offers`` is finding the regions, once for a set of pencils.
    """

    kind: str
    questions: int
    refused: int
    median: float
    worst: float
    first: float
    offers: float

    @property
    def within(self) -> bool:
        return self.median <= MEDIAN_MS and self.worst <= WORST_MS


def _milliseconds(work: Callable[[], object]) -> float:
    # Processor time: what else the machine is busy with is not the question's cost.
    start = process_time()
    work()
    return 1000 * (process_time() - start)


def floor_ms(palette: Palette, rounds: int = 200) -> float:
    """One predict of four moves: what even the cheapest question about layers needs."""
    first, second, *_ = palette.colour_indices.tolist()
    blend = Move("blend", palette.blender if palette.blender is not None else -1, LIGHT)
    moves = (
        Move("lay", first, MIDDLE),
        Move("lay", second, LIGHT),
        blend,
        Move("lay", first, FIRM),
    )
    return median(_milliseconds(lambda: predict(palette, moves)) for _ in range(rounds))


def _cost(kind: Kind, palette: Palette) -> Cost:
    times: list[float] = []
    firsts: list[float] = []
    refused = 0

    def make(region: str, step: float, seed: int) -> None:
        nonlocal refused
        try:
            draw(kind, palette, region, step, seed)
        except CannotAskError:
            refused += 1

    # Regions are found with the same pencils prepared anew: nothing must be remembered here.
    other = prepare(palette.set)
    assert len(other.pool)
    regions: list[str] = []
    offers = _milliseconds(lambda: regions.extend(kind.regions(other)))
    easiest, hardest = kind.steps
    for region in regions:
        for seed in range(SEEDS):
            for step in (easiest, math.sqrt(easiest * hardest), hardest):
                times.append(_milliseconds(lambda r=region, d=step, s=seed: make(r, d, s)))
        firsts.append(times[-3 * SEEDS])
    if not times:
        return Cost(kind.name, 0, 0, 0.0, 0.0, 0.0, offers)
    return Cost(kind.name, len(times), refused, median(times), max(times), max(firsts), offers)


def measure(pencils: int = PENCILS) -> tuple[float, tuple[Cost, ...]]:
    """The floor in milliseconds, and the cost of every kind, with so many pencils."""
    palette = prepare(many_pencils(pencils))
    assert len(palette.pool)
    return floor_ms(palette), tuple(_cost(kind, palette) for kind in all_kinds().values())


def main() -> None:
    """Print the table; exit status 1 when a kind takes longer than it may."""
    floor, costs = measure()
    print(f"{PENCILS} pencils; the floor, one predict of four moves: {floor:.2f} ms")
    print(
        f"{'kind':22}{'questions':>10}{'refused':>9}{'median ms':>11}{'× floor':>9}"
        f"{'worst ms':>10}{'× floor':>9}{'first':>8}{'regions':>9}"
    )
    for cost in costs:
        verdict = "" if cost.within else "  over"
        print(
            f"{cost.kind:22}{cost.questions:>10}{cost.refused:>9}{cost.median:>11.1f}"
            f"{cost.median / floor:>9.1f}{cost.worst:>10.1f}{cost.worst / floor:>9.1f}"
            f"{cost.first:>8.1f}{cost.offers:>9.0f}{verdict}"
        )
    over = [cost.kind for cost in costs if not cost.within]
    held = "held" if not over else f"not held by {', '.join(over)}"
    print(f"a question in ≤ {MEDIAN_MS:.0f} ms median and ≤ {WORST_MS:.0f} ms at worst: {held}")
    if over:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
