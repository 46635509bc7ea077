"""The model of the learner, its claims and its forgetting, against learners who are known.

``python -m tests.bench skill`` prints every bar with its figure;
``python -m tests.bench.bench_skill N`` takes N learners a row instead of NORMAL. The
learners are of another make than the model (``eyes``). Bars are of 100 learners: with N
of them a figure is uncertain by its binomial interval, which is printed beside it.
"""

from __future__ import annotations

import json
import math
import os
import random
import sys
from collections.abc import Callable, Iterator, Sequence
from multiprocessing import Pool
from statistics import fmean, median
from time import perf_counter
from typing import NamedTuple

import numpy as np

from scores.skill.model.blob import as_bytes, from_bytes
from scores.skill.model.estimates import figures_on
from scores.skill.model.figures import figures_from_json
from scores.skill.model.learner import ModelAnswer, answered, answered_all, begin
from tests.bench.eyes import FIRST, Plan, whole_layout
from tests.bench.skill_runs import LEVELS, changer, constant, forgetter, improver

NORMAL = 12
"""Some twenty minutes on two cores, most of them for the claims."""
FORGETTERS = 30
YEARS, A_DAY = 10, 36


class Bar(NamedTuple):
    """A figure against what is allowed; ``holds`` is None where it is only reported."""

    what: str
    figure: str
    bar: str
    holds: bool | None


def _share(told: Sequence[bool]) -> str:
    """So many of so many, with the 90 % interval of the share (Wilson 1927)."""
    n, p, z = len(told), fmean(told), 1.645
    middle = (p + z * z / (2 * n)) / (1 + z * z / n)
    half = z * math.sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n)
    return f"{sum(told)} of {n} ({max(middle - half, 0):.0%}-{middle + half:.0%})"


def _improver(seed: int) -> tuple[float, float, float, int, float]:
    return improver(seed)


def model_bars(pool: Pool, count: int) -> Iterator[Bar]:  # type: ignore[valid-type]
    runs = pool.map(_improver, range(count), chunksize=1)
    width, cover = median(r[0] for r in runs), fmean(r[1] for r in runs)
    each = f"{min(r[0] for r in runs):.2f}-{max(r[0] for r in runs):.2f}"
    yield Bar("median skill's 90 % interval, ×", f"{width:.2f} ({each})", "≤ 2.7", width <= 2.7)
    least = min(r[1] for r in runs)
    figure = f"{cover:.3f} (least {least:.2f})"
    yield Bar("of them hold the truth", figure, "0.85-0.95", 0.85 <= cover <= 0.95)
    spread = math.sqrt(fmean(r[2] ** 2 for r in runs))
    yield Bar("mean error of a learner's skills, log10", f"{spread:.3f} rms", "", None)
    right = fmean(r[4] for r in runs)
    answers = fmean(r[3] for r in runs)
    yield Bar("right, of answers", f"{right:.3f} of {answers:.0f}", "", None)


def _constant(job: tuple[float, float, int]) -> tuple[float, float, str]:
    return *job[:2], constant(*job)


def _changer(job: tuple[float, float, int]) -> tuple[bool, bool, bool]:
    return changer(*job)


def claim_bars(pool: Pool, count: int) -> Iterator[Bar]:  # type: ignore[valid-type]
    jobs = [(lv, tied, s) for s in range(count) for lv in LEVELS for tied in (0.0, 0.8, 0.95)]
    runs = pool.map(_constant, jobs, chunksize=2)
    for tied, name in ((0.0, "independent"), (0.8, "AR 0.8"), (0.95, "AR 0.95")):
        told = [bool(way) for _, t, way in runs if t == tied]
        holds = None if tied > 0.9 else fmean(told) <= 0.05
        bar = "reported" if tied > 0.9 else "≤ 5 %"
        yield Bar(f"constant, days {name}: ever told", _share(told), bar, holds)
    for level in LEVELS:
        told = [bool(way) for lv, t, way in runs if lv == level and t < 0.9]
        yield Bar(f"  of these at level {level}, AR ≤ 0.8", _share(told), "", None)
    rows = (
        (0.58, 0.0, ((0, 0.55), (1, 0.90))),
        (0.71, 0.0, ((1, 0.60),)),
        (0.58, 0.8, ((1, 0.45),)),
    )
    for ratio, tied, wanted in rows:
        many = pool.map(_changer, [(ratio, tied, s) for s in range(2 * count)], chunksize=2)
        for by, least in wanted:
            told = [run[by] for run in many]
            name = f"×{ratio}, days AR {tied}: told by day {(56, 84)[by]}"
            yield Bar(name, _share(told), f"≥ {least:.0%}", fmean(told) >= least)
        wrong = [run[2] for run in many]
        yield Bar("  told coarser", _share(wrong), "", None)


def _forgetter(job: tuple[float, int]) -> tuple[float, ...]:
    return forgetter(*job)


def _ranks(values: Sequence[float]) -> np.ndarray:
    """Ranks, ties sharing their mean."""
    at = np.asarray(values, dtype=np.float64)
    return np.array([(at < v).sum() + 0.5 * ((at == v).sum() - 1) for v in at])


def forgetting_bars(pool: Pool, count: int) -> Iterator[Bar]:  # type: ignore[valid-type]
    rng = random.Random(4)
    lives = [10 ** rng.uniform(1.0, 2.8) for _ in range(FORGETTERS)]
    never = [(math.inf, 900 + seed) for seed in range(max(4, count // 3))]
    runs = pool.map(_forgetter, [*zip(lives, range(FORGETTERS), strict=True), *never], chunksize=1)
    learners, still = runs[:FORGETTERS], runs[FORGETTERS:]
    rho = float(
        np.corrcoef(_ranks([-r[0] for r in learners]), _ranks([r[1] for r in learners]))[0, 1]
    )
    yield Bar(f"forgetting of {FORGETTERS} learners, Spearman", f"{rho:.2f}", "≥ 0.7", rho >= 0.7)
    planned, asked = median(r[3] for r in still), median(r[4] for r in still)
    yield Bar("cannot forget: rest planned on day 120", f"{planned:.0f} d", "≥ 45", planned >= 45)
    yield Bar("  rest when asked, days 100-120", f"{asked:.0f} d", "≥ 45", asked >= 45)
    quick = [r for r in learners if r[0] < 30]
    yield Bar("half-life < 30 d: rest planned", f"{median(r[3] for r in quick):.0f} d", "", None)


def _ms(work: Callable[[], object], times: int = 9) -> float:
    taken = []
    for _ in range(times):
        start = perf_counter()
        work()
        taken.append(1000 * (perf_counter() - start))
    return median(taken)


def speed_bars() -> Iterator[Bar]:
    """Ten years of answers cost no more to open than one day's: the state is of one size."""
    layout, rng = whole_layout(), random.Random(1)
    plan = Plan(layout, 1)
    known = begin(layout)
    rows = []
    for day in range(40):
        for _ in range(A_DAY):
            place = plan.next()
            kind = layout.kinds[int(layout.kind[place])]
            step = kind.scale.step(kind.scale.at_level(rng.uniform(0.1, 0.7)))
            right = rng.random() < 0.8
            rows.append(ModelAnswer(layout.skills[place], step, right, FIRST + day))
    known = answered_all(known, rows)
    last = FIRST + 39
    one = _ms(lambda: answered(known, rows[-1]), 200)
    yield Bar("an answer, ms", f"{one:.2f}", "≤ 1", one <= 1.0)
    first = _ms(lambda: answered(known, rows[-1]._replace(day=last + 1)))
    yield Bar("the first answer of a day, ms", f"{first:.1f}", "", None)
    many = _ms(lambda: answered_all(known, rows[-A_DAY:]), 5) / A_DAY
    made = YEARS * 365 * A_DAY
    yield Bar(f"{made} answers made again, s", f"{made * many / 1000:.0f}", "background", None)
    data = as_bytes(known)
    kept = _ms(lambda: as_bytes(known))
    yield Bar("state written, ms", f"{kept:.1f} ({len(data) / 1000:.0f} kB)", "", None)
    opened = _ms(lambda: from_bytes(data))
    yield Bar("kept state opened, ms", f"{opened:.1f}", "≤ 100", opened <= 100.0)
    told = _ms(lambda: figures_on(known, last + 1))
    yield Bar("every figure worked out, ms", f"{told:.1f}", "", None)
    text = json.dumps(figures_on(known, last).as_json())
    read = _ms(lambda: figures_from_json(json.loads(text)))
    yield Bar(
        "kept figures read (first screen), ms", f"{read:.2f} ({len(text) / 1000:.0f} kB)", "", None
    )


def main() -> None:
    """Print the table; exit status 1 when a bar is missed."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else NORMAL
    start, missed = perf_counter(), []
    print(f"{count} learners a row; 90 % intervals of shares in brackets")
    with Pool(os.cpu_count()) as pool:
        parts = (
            ("speed", speed_bars()),
            ("model", model_bars(pool, count)),
            ("forgetting", forgetting_bars(pool, count)),
            ("claims", claim_bars(pool, count)),
        )
        for part, bars in parts:
            print(f"\n{part}")
            for bar in bars:
                mark = "" if bar.holds is None else "holds" if bar.holds else "MISSED"
                print(f"  {bar.what:44}{bar.figure:>26}  {bar.bar:>10}  {mark}", flush=True)
                if bar.holds is False:
                    missed.append(bar.what)
    print(f"\n{perf_counter() - start:.0f} s")
    if missed:
        print("missed:", "; ".join(missed))
        raise SystemExit(1)


if __name__ == "__main__":
    if "OPENBLAS_NUM_THREADS" not in os.environ:
        # The threads of the linear algebra library only get in each other's way.
        os.environ["OPENBLAS_NUM_THREADS"] = "1"
        os.execv(sys.executable, [sys.executable, "-m", "tests.bench.bench_skill", *sys.argv[1:]])
    main()
