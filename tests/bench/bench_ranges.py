"""Predictions against pencils of another make than the model (``tests.other_make``).

``python -m tests.bench ranges`` prints three tables. How often the stated range of nine in
ten holds, for random layers and for plans; what a swatch on black paper brings, measured and
from a photo (1 in each of L*, a*, b*); and what the range of a recipe costs beside its
prediction.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from time import process_time

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import predict
from drills.planning.plan_limits import Limits
from drills.planning.planner import plan
from drills.planning.pressure_spread import likely_miss
from tests.other_make import World, described, misses, patches, world
from tests.palettes import palette_of

WORLDS = 60
RECIPES, PLANS = 12, 3
PRESSES = (0.3, 0.6, 1.0)
HOLDS = (0.85, 0.95)
MEDIAN_WORSE, TAIL_WORSE = 0.02, 0.1
"""ΔE00 that ``on_black`` may seem worse by at the median and at 95 %, for chance."""
MS_ALLOWED = 20.0


def _miss_of(
    made: World, palette: Palette, moves: list[Move], target: FloatArray, rng: np.random.Generator
) -> tuple[float, float, float, float]:
    """Low, expected, high, and what one hand really makes of it."""
    said = likely_miss(palette, moves, target, 0)
    true = reflectance_to_lab(made.lay(moves, rng))
    return said.low, said.expected, said.high, float(delta_e00(true, target))


def coverage() -> dict[str, FloatArray]:
    """Rows (n, 4) of low, expected, high and true miss, by what was laid."""
    rows: dict[str, list[tuple[float, float, float, float]]] = {}
    limits = Limits(blender=False, burnish=False)  # the other make knows neither
    for seed in range(WORLDS):
        made, rng = world(seed), np.random.default_rng(seed + 1000)
        palette = described(made, rng, 0.5, on_black=False)
        n = len(palette)
        for turn in range(RECIPES):
            count = 1 + turn % 4
            moves = [
                Move("lay", int(rng.integers(n)), float(rng.choice(PRESSES))) for _ in range(count)
            ]
            target = np.array(predict(palette, moves)) + (turn % 2) * rng.standard_normal(3)
            row = _miss_of(made, palette, moves, target, rng)
            rows.setdefault(f"{count} random layer{'s' * (count > 1)}", []).append(row)
        for _ in range(PLANS):
            at = palette.pool.lab[rng.integers(len(palette.pool))]
            L, a, b = (at + 2.0 * rng.standard_normal(3)).tolist()
            answer = plan(palette, (L, a, b), limits)
            if answer.moves:
                target = np.array(answer.target)
                row = _miss_of(made, palette, list(answer.recipe), target, rng)
                rows.setdefault("plans", []).append(row)
    return {name: np.array(some) for name, some in sorted(rows.items())}


def black_paper(noise: float) -> dict[str, tuple[FloatArray, FloatArray]]:
    """ΔE00 from the truth without and with ``on_black``, by recipe."""
    parts = [[misses(world(s), s, noise, known) for s in range(WORLDS)] for known in (False, True)]
    return {
        name: (
            np.concatenate([one[name] for one in parts[0]]),
            np.concatenate([one[name] for one in parts[1]]),
        )
        for name in parts[0][0]
    }


def _least_ms(work: Callable[[], object], runs: int = 25) -> float:
    used = []
    for _ in range(runs):
        began = process_time()
        work()
        used.append((process_time() - began) * 1e3)
    return min(used)


def main() -> int:
    """Print the tables; 1 if a bound is broken."""
    sound = True
    print(f"{WORLDS} worlds of 24 pencils, out of {len(patches())} measured spectra\n")
    print(f"{'':20}{'n':>6}{'in range':>10}{'below':>8}{'above':>8}{'expected':>10}{'true':>7}")
    found = coverage()
    random = np.concatenate([some for name, some in found.items() if name != "plans"])
    for name, rows in {**found, "all random layers": random}.items():
        low, expected, high, true = rows.T
        holds = float(np.mean((low <= true) & (true <= high)))
        if name in ("all random layers", "plans"):
            sound &= HOLDS[0] <= holds <= HOLDS[1]
        print(
            f"{name:20}{len(rows):6}{holds:10.1%}{np.mean(true < low):8.1%}"
            f"{np.mean(true > high):8.1%}{expected.mean():10.2f}{true.mean():7.2f}"
        )
    print(f"(allowed, of plans and of all random layers: {HOLDS[0]:.0%} to {HOLDS[1]:.0%})\n")
    for noise, how in ((0.0, "measured"), (1.0, "from a photo")):
        print(f"{'on_black, ' + how:26}{'median':>8}{'with':>7}{'ratio':>7}", end="")
        print(f"{'95 %':>8}{'with':>7}{'ratio':>7}")
        for name, (without, known) in black_paper(noise).items():
            (m0, t0), (m1, t1) = (np.percentile(one, [50, 95]) for one in (without, known))
            sound &= bool(m1 <= m0 + MEDIAN_WORSE and t1 <= t0 + TAIL_WORSE)
            print(f"{name:26}{m0:8.2f}{m1:7.2f}{m1 / m0:7.2f}{t0:8.2f}{t1:7.2f}{t1 / t0:7.2f}")
        print()
    demo = palette_of("demo")
    moves = [Move("lay", 3, 0.6), Move("lay", 15, 0.6), Move("lay", 20, 0.3)]
    moves += [Move("blend", -1, 0.3), Move("lay", 8, 1.0)]
    target = np.array(predict(demo, moves))
    one, many = (
        _least_ms(work)
        for work in (
            lambda: predict(demo, moves),
            lambda: likely_miss(demo, moves, target, 0),
        )
    )
    sound &= many <= MS_ALLOWED
    print(f"the range of five moves of four pencils: {many:.1f} ms of processor, allowed ", end="")
    print(f"{MS_ALLOWED:.0f}; ×{many / one:.0f} of its prediction ({one:.2f} ms)")
    print("within every bound" if sound else "OVER A BOUND")
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main())
