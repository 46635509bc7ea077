"""A plan, then up to two mendings, against the plan alone: hands and pencils of another make.

``python -m tests.bench mend``: the truth is ``tests.other_make`` (its own films, tooth and
hand, pressures off by 15 % a layer), which the coach knows only as a file of colours; targets
are what random layers come to. The colour got is given as it is, or read with an error of
standard deviation 1 in each of L*, a*, b*; the layers are known or not. Times are of one
mending with 36 pencils, of processor.
"""

from __future__ import annotations

import sys
from statistics import median
from time import process_time

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.planning.mending.mend import mend
from drills.planning.plan_limits import Limits
from drills.planning.planner import plan
from tests.bench.bench_planner import as_lab
from tests.bench.targets import within_reach
from tests.other_make import World, described, world
from tests.palettes import palette_of

WORLDS, TARGETS, TIMED = 25, 4, 30
RATIO_ALLOWED, WORSE_ALLOWED, MS_ALLOWED = 0.7, 0.05, 150.0
LIMITS = Limits(blender=False, burnish=False)
"""The other make knows layers only."""
CASES = {
    "layers known": (0.0, True),
    "layers known, colour read": (1.0, True),
    "layers not known, colour read": (1.0, False),
}


def mended(
    made: World, palette: Palette, target: FloatArray, seed: int, error: float, known: bool
) -> tuple[float, float]:
    """ΔE00 from the target: of the plan alone, and after up to two mendings."""
    rng = np.random.default_rng(seed)
    laid: list[Move] = list(plan(palette, as_lab(target), LIMITS).recipe)
    alone = lab = _laid(made, laid, seed)
    for _ in range(2):
        read = as_lab(lab + error * rng.standard_normal(3))
        found = mend(palette, as_lab(target), read, laid if known else None)
        if not found.moves:
            break
        laid += [one.move for one in found.moves]
        lab = _laid(made, laid, seed)
    return float(delta_e00(alone, target)), float(delta_e00(lab, target))


def _laid(made: World, moves: list[Move], seed: int) -> FloatArray:
    """The same seed, the same hand: layers that lie there stay as they came out."""
    return reflectance_to_lab(made.lay(moves, np.random.default_rng(seed)))


def main() -> int:
    """Print the table; 1 if a bound is broken."""
    print(f"{'ΔE00, median':32}{'alone':>8}{'mended':>8}{'ratio':>8}{'worse':>8}{'by 1':>8}")
    sound = True
    for name, (error, known) in CASES.items():
        pairs = []
        for seed in range(WORLDS):
            made = world(seed)
            palette = described(made, np.random.default_rng(seed + 900), 0.0, on_black=False)
            for at, target in enumerate(within_reach(palette, TARGETS, seed=seed)):
                pairs.append(mended(made, palette, target, 100 * seed + at, error, known))
        alone, after = np.array(pairs).T
        ratio = float(np.median(after) / np.median(alone))
        worse, by_one = float(np.mean(after > alone + 1e-9)), float(np.mean(after > alone + 1.0))
        print(
            f"{name:32}{np.median(alone):8.2f}{np.median(after):8.2f}{ratio:8.2f}"
            f"{worse:8.1%}{by_one:8.1%}"
        )
        sound &= ratio <= RATIO_ALLOWED and worse <= WORSE_ALLOWED
    demo = palette_of("demo")
    goals = within_reach(demo, TIMED, seed=2)
    times = []
    for target in goals:
        recipe = plan(demo, as_lab(target)).recipe
        began = process_time()
        mend(demo, as_lab(target), as_lab(target + np.array([6.0, 3.0, 3.0])), recipe)
        times.append((process_time() - began) * 1e3)
    print(
        f"one mending, 36 pencils: {median(times):.0f} ms of processor ({MS_ALLOWED:.0f} allowed)"
    )
    sound &= median(times) <= MS_ALLOWED
    print(f"allowed: ratio {RATIO_ALLOWED}, worse {WORSE_ALLOWED:.0%}")
    print("within every bound" if sound else "OVER A BOUND")
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main())
