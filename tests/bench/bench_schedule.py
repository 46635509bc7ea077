"""The coach's schedule against plain ones, on learners whose true skill is known.

``python -m tests.bench.bench_schedule`` prints the table; ``measure`` gives the
runs. Thirty learners of each model (one in ten colour-deficient), three seeds each,
practise ten minutes a day for sixty days and then pause for thirty. A skill's truth
is its level: 0 where the true threshold is the kind's easiest step, 1 where it is
the hardest. "Mean" is over a learner's 96 skills, "worst" over the lowest tenth of
them. Differences are paired: the same learner with the same luck under both
schedules, seeds averaged, then the mean over learners with its 95 % interval.

The schedule's constants were set on the first model only. The other two were held
out: they were run when the constants had first been settled, and again after the
weight of the weakest skills had been raised on the first.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from multiprocessing import Pool
from statistics import fmean, stdev
from time import perf_counter
from typing import NamedTuple

from tests.bench.learners import MODELS
from tests.bench.practice import DAYS, LOOKED_AT, Run, run
from tests.bench.schedules import SCHEDULES, Coach

LEARNERS, SEEDS = 30, (1, 2, 3)
TUNED_ON = "consolidating"
T_95 = 2.045
"""Student's t for a 95 % interval with 29 degrees of freedom (thirty learners)."""
BY_NAME = {schedule.name: schedule for schedule in SCHEDULES}


class Lead(NamedTuple):
    """How far the coach is ahead of a plain schedule, in levels, with half its 95 % interval."""

    model: str
    against: str
    measure: str
    day: int
    ahead: float
    give: float


def _job(job: tuple[str, str, int, int]) -> Run:
    model, schedule, learner, seed = job
    return run(model, BY_NAME[schedule], learner, seed)


def measure(
    models: Sequence[str] = tuple(MODELS),
    learners: int = LEARNERS,
    seeds: Sequence[int] = SEEDS,
    processes: int | None = None,
) -> list[Run]:
    """Every learner of every model under every schedule."""
    jobs = [
        (model, schedule, learner, seed)
        for model in models
        for learner in range(learners)
        for seed in seeds
        for schedule in BY_NAME
    ]
    with Pool(processes or os.cpu_count()) as pool:
        return pool.map(_job, jobs, chunksize=5)


def leads(runs: Sequence[Run]) -> list[Lead]:
    """The coach against every other schedule, by model, measure and day looked at."""
    made = []
    by_key = {(r.model, r.schedule, r.learner, r.seed): r for r in runs}
    for model in dict.fromkeys(r.model for r in runs):
        ours = [r for r in runs if r.model == model and r.schedule == Coach.name]
        for against in BY_NAME:
            if against == Coach.name:
                continue
            for name, of in MEASURES.items():
                for place, day in enumerate(LOOKED_AT):
                    by_learner: dict[int, list[float]] = {}
                    for mine in ours:
                        theirs = by_key[model, against, mine.learner, mine.seed]
                        gap = of(mine)[place] - of(theirs)[place]
                        by_learner.setdefault(mine.learner, []).append(gap)
                    gaps = [fmean(values) for values in by_learner.values()]
                    give = T_95 * stdev(gaps) / len(gaps) ** 0.5
                    made.append(Lead(model, against, name, day, fmean(gaps), give))
    return made


MEASURES: dict[str, Callable[[Run], tuple[float, ...]]] = {
    "mean": lambda made: made.mean,
    "worst": lambda made: made.worst,
}


def _table(runs: Sequence[Run], model: str) -> None:
    days = "".join(f"{f'day {day}':>16}" for day in LOOKED_AT)
    print(f"\n{model}{' (tuned on)' if model == TUNED_ON else ' (held out)'}")
    print(f"  {'':10}{days}   {'minutes':>8}{'answers':>9}{'right':>7}{'weakest 3 found':>17}")
    for name in BY_NAME:
        mine = [r for r in runs if r.model == model and r.schedule == name]
        levels = "".join(
            f"{fmean(r.mean[i] for r in mine):9.3f} {fmean(r.worst[i] for r in mine):6.3f}"
            for i in range(len(LOOKED_AT))
        )
        never = sum(r.found > DAYS for r in mine)
        found = sorted(r.found for r in mine)[len(mine) // 2]
        print(
            f"  {name:10}{levels}   {fmean(r.minutes for r in mine):8.0f}"
            f"{fmean(r.answers for r in mine):9.0f}{fmean(r.right for r in mine):7.0%}"
            f"{f'day {found}':>10} (never {never / len(mine):.0%})"
        )


def _lead_table(found: Sequence[Lead], model: str) -> None:
    for measured in MEASURES:
        print(f"  coach ahead, {measured}, with its 95 % interval")
        for against in dict.fromkeys(lead.against for lead in found):
            row = [
                lead
                for lead in found
                if (lead.model, lead.against, lead.measure) == (model, against, measured)
            ]
            cells = "".join(f"{lead.ahead:+10.4f} ±{lead.give:.4f}" for lead in row)
            print(f"    {against:10}{cells}")


def main() -> None:
    """Print the tables; exit status 1 when a plain schedule is ahead on average anywhere."""
    start = perf_counter()
    runs = measure(learners=int(sys.argv[1]) if len(sys.argv) > 1 else LEARNERS)
    found = leads(runs)
    learners = len({r.learner for r in runs})
    print(f"{learners} learners × {len(SEEDS)} seeds a model, levels: mean and worst tenth")
    for model in dict.fromkeys(r.model for r in runs):
        _table(runs, model)
        _lead_table(found, model)
    behind = [lead for lead in found if lead.ahead <= 0]
    unsure = [lead for lead in found if 0 < lead.ahead <= lead.give]
    for name, rows in (("behind", behind), ("ahead, but within its interval", unsure)):
        for row in rows:
            print(f"{name}: {row.model}, {row.against}, {row.measure}, day {row.day}")
    print(f"{len(runs)} runs in {perf_counter() - start:.0f} s")
    if behind:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
