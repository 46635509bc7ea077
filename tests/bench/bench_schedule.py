"""The day's arc against other schedules, on learners whose true skill is known.

``python -m tests.bench schedule`` runs a sample of the learners in some minutes on two cores;
``python -m tests.bench.bench_schedule full`` runs thirty learners of each group, with three
seeds each and one more schedule, in some hours. A number in the place of ``full`` is as many
learners.

A learner practises for sixty days and then pauses for thirty. A skill's truth is its level: 0
where the true threshold is the kind's easiest step, 1 where it is the hardest. "Mean" is over
all skills of the eye, "worst" over their lowest tenth, "match" over making a match in every
family. Differences are paired: the same learner with the same luck under both schedules, seeds
averaged, then the mean over learners with its 95 % interval (Student's t).

The schedule's constants were set on the "consolidating" learners, and on how making a match
hangs on seeing in general; all other groups are held out.
"""

from __future__ import annotations

import os

# Small matrices: threads of the linear algebra would only wait for each other.
os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import sys
from collections.abc import Callable, Sequence
from multiprocessing import Pool
from statistics import fmean, stdev
from time import perf_counter
from typing import NamedTuple

from tests.bench.schedule.habits import SKIPS_WEEKS, TEN_QUESTIONS, THREE_MINUTES, USUAL, Habit
from tests.bench.schedule.learners import MODELS
from tests.bench.schedule.making import WAYS, way_of
from tests.bench.schedule.plain import SCHEDULES, AtRandom, Coach
from tests.bench.schedule.practice import LOOKED_AT, Run, run
from tests.bench.schedule.sittings import EACH
from tests.bench.schedule.subject import offers

LEARNERS, FULL_LEARNERS, FULL_SEEDS = 8, 30, 3
TUNED_ON = "consolidating"
HELD_OUT = ("traces", "two rates")
BY_NAME = {schedule.name: schedule for schedule in SCHEDULES}
GROUPS: dict[str, Habit] = {
    **dict.fromkeys((TUNED_ON, *HELD_OUT), USUAL),
    **{habit.name: habit for habit in (TEN_QUESTIONS, THREE_MINUTES, SKIPS_WEEKS)},
}
"""The habit of each group. Those named by their habit learn in both held-out ways by turns."""
T_95 = {
    **{1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 6: 2.447, 7: 2.365, 8: 2.306},
    **{9: 2.262, 11: 2.201, 15: 2.131, 19: 2.093, 29: 2.045},
}
"""Student's t for a 95 % interval, by degrees of freedom (a table, from memory)."""
CRAFT_BAR, MEAN_BAR, END = (0.40, 0.60), -0.05, 1
"""Bars: the craft's share of time, the mean against the best, and the place in LOOKED_AT where
both are held."""
WHOLE_BAR, UNSEEN_BAR, TIME_BAR = 0.95, 7, 0.95


class Lead(NamedTuple):
    """How far the coach is ahead of another schedule, in levels, with half its 95 % interval."""

    group: str
    against: str
    measure: str
    day: int
    ahead: float
    give: float


MEASURES: dict[str, Callable[[Run], tuple[float, ...]]] = {
    "match": lambda made: made.match,
    "mean": lambda made: made.mean,
    "worst": lambda made: made.worst,
}


def _job(job: tuple[str, str, int, int]) -> Run:
    group, schedule, number, seed = job
    model = group if group in MODELS else HELD_OUT[number // 4 % 2]
    # By fours: each way of making a match in each way of learning.
    learner = MODELS[model](number, seed)
    return run(group, learner, BY_NAME[schedule], seed, GROUPS[group])


def measure(
    groups: Sequence[str],
    learners: int,
    seeds: Sequence[int],
    schedules: Sequence[str],
    processes: int | None = None,
) -> list[Run]:
    """Every learner of every group under every schedule."""
    offers()  # once, before the processes part
    jobs = [
        (group, schedule, learner, seed)
        for group in groups
        for learner in range(learners)
        for seed in seeds
        for schedule in schedules
    ]
    with Pool(processes or min(2, os.cpu_count() or 1)) as pool:
        return pool.map(_job, jobs, chunksize=2)


def lead(ours: Sequence[Run], theirs: Sequence[Run], measured: str, place: int) -> Lead:
    """The coach against one other schedule, in the runs of one group."""
    of = MEASURES[measured]
    by_key = {(made.learner, made.seed): of(made)[place] for made in theirs}
    by_learner: dict[int, list[float]] = {}
    for made in ours:
        gap = of(made)[place] - by_key[made.learner, made.seed]
        by_learner.setdefault(made.learner, []).append(gap)
    gaps = [fmean(values) for values in by_learner.values()]
    freedom = len(gaps) - 1
    t = T_95[max(known for known in T_95 if known <= freedom)] if freedom else float("inf")
    give = t * stdev(gaps) / len(gaps) ** 0.5 if freedom else float("inf")
    first = theirs[0]
    return Lead(first.group, first.schedule, measured, LOOKED_AT[place], fmean(gaps), give)


def _levels(runs: Sequence[Run], group: str) -> None:
    days = "".join(f"{f'day {day}':>21}" for day in LOOKED_AT)
    print(f"\n{group}{' (tuned on)' if group == TUNED_ON else ' (held out)'}: match, mean, worst")
    print(f"  {'':10}{days}   {'minutes':>8}{'answers':>9}{'right':>7}")
    for name in dict.fromkeys(made.schedule for made in runs):
        mine = [made for made in runs if made.schedule == name]
        levels = "".join(
            f"{fmean(r.match[i] for r in mine):7.3f}{fmean(r.mean[i] for r in mine):7.3f}"
            f"{fmean(r.worst[i] for r in mine):7.3f}"
            for i in range(len(LOOKED_AT))
        )
        print(
            f"  {name:10}{levels}   {fmean(r.minutes for r in mine):8.0f}"
            f"{fmean(r.answers for r in mine):9.0f}{fmean(r.right for r in mine):7.0%}"
        )


def _sessions(ours: Sequence[Run]) -> list[str]:
    """Print what the coach's sittings were made of, and give the bars missed."""
    some = [made.sessions for made in ours]
    craft, whole = fmean(s.craft for s in some), fmean(s.whole for s in some)
    unseen, on_time = max(s.unseen for s in some), fmean(s.on_time for s in some)
    lacking = ", ".join(f"{kind} {fmean(s.lacking[kind] for s in some):.0%}" for kind in EACH)
    shares = [s.craft for s in some]
    print(
        f"  the coach's sittings: {craft:.0%} on the craft's own steps"
        f" ({min(shares):.0%} to {max(shares):.0%} by learner); each of five in"
        f" {whole:.0%} of ten minutes (lacking: {lacking}); no drill left out over {unseen}"
        f" days; within 10 % of their minutes {on_time:.0%}"
    )
    group = ours[0].group
    missed = []
    if not CRAFT_BAR[0] <= craft <= CRAFT_BAR[1]:
        missed.append(f"{group}: {craft:.0%} on the craft's own steps")
    if whole < WHOLE_BAR:
        missed.append(f"{group}: each of five in {whole:.0%} of ten minutes")
    if unseen > UNSEEN_BAR:
        missed.append(f"{group}: a drill left out for {unseen} days")
    if on_time < TIME_BAR and GROUPS[group].questions is None:
        missed.append(f"{group}: {on_time:.0%} of sittings within 10 % of their minutes")
    return missed


def _against(runs: Sequence[Run]) -> list[str]:
    """Print how far the coach is ahead, and give the bars missed."""
    missed = []
    ours = [made for made in runs if made.schedule == Coach.name]
    others = [name for name in dict.fromkeys(m.schedule for m in runs) if name != Coach.name]
    for measured in MEASURES:
        print(f"  coach ahead, {measured}, with its 95 % interval")
        for name in others:
            theirs = [made for made in runs if made.schedule == name]
            found = [lead(ours, theirs, measured, place) for place in range(len(LOOKED_AT))]
            print(f"    {name:10}" + "".join(f"{f.ahead:+12.4f} ±{f.give:.4f}" for f in found))
            end = found[END]
            told = f"{end.group}: {measured} on day {end.day} {end.ahead:+.3f} ±{end.give:.3f}"
            if measured == "match" and name != AtRandom.name and end.ahead <= end.give:
                missed.append(f"{told} against {name}")
            if measured == "mean" and end.ahead < MEAN_BAR:
                missed.append(f"{told} against {name}")
    return missed


def _by_way(runs: Sequence[Run]) -> None:
    """The match on day 60 by how making hangs on seeing, over all groups."""
    print("\nmatch on day 60 by how making hangs on seeing; all groups held out")
    held = [made for made in runs if made.group != TUNED_ON]
    names = list(dict.fromkeys(made.schedule for made in runs))
    print(f"  {'':20}" + "".join(f"{name:>11}" for name in names))
    for way in WAYS:
        mine = [made for made in held if way_of(made.learner) is way]
        cells = [[m.match[END] for m in mine if m.schedule == name] for name in names]
        if all(cells):
            print(f"  {way.name:20}" + "".join(f"{fmean(cell):11.3f}" for cell in cells))


def main() -> None:
    """Print the tables; exit status 1 where a bar is missed."""
    start, word = perf_counter(), sys.argv[1] if len(sys.argv) > 1 else ""
    full = word == "full"
    learners = FULL_LEARNERS if full else int(word or LEARNERS)
    groups = [name for name in GROUPS if full or name != TUNED_ON]
    groups = [name for name in groups if not sys.argv[2:] or name in sys.argv[2:]]
    schedules = [name for name in BY_NAME if full or name != AtRandom.name]
    seeds = range(1, FULL_SEEDS + 1) if full else (1,)
    runs = measure(groups, learners, tuple(seeds), schedules)
    print(f"{learners} learners × {len(seeds)} seeds a group, levels")
    missed = []
    for group in groups:
        mine = [made for made in runs if made.group == group]
        _levels(mine, group)
        missed += _sessions([made for made in mine if made.schedule == Coach.name])
        missed += _against(mine)
    _by_way(runs)
    print(f"\n{len(runs)} runs in {perf_counter() - start:.0f} s")
    if missed:
        print("missed:", *missed, sep="\n  ")
        raise SystemExit(1)


if __name__ == "__main__":
    main()
