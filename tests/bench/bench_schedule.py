"""The day's arc against other schedules, on learners whose true skill is known.

``python -m tests.bench schedule`` runs a sample of the learners in a quarter of an hour on two
cores; ``python -m tests.bench.bench_schedule full`` runs thirty learners of each group, with three
seeds each and one more schedule, in some hours. A number in the place of ``full`` is as many
learners.

A learner practises for sixty days and then pauses for thirty. A skill's truth is its level: 0
where the true threshold is the kind's easiest step, 1 where it is the hardest. "Mean" is over
all skills of the eye, "worst" over their lowest tenth, "match" over making a match in every
family. Differences are paired: the same learner with the same luck under both schedules, seeds
averaged, then the mean over learners with its 95 % interval (Student's t). Under the coach alone
learners meet solved questions and help, which cost their time and teach nothing: the hard case.

The schedule's constants were set on the "consolidating" learners, and on how making a match
hangs on seeing in general; all other groups are held out. But how drills are spread over short
days (``LATE_SHARE``, ``LATE_AHEAD``) was set on the sittings of the first sixteen of "three
minutes a day", not on what these learned.
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

from tests.bench.schedule.habits import (
    SIX_MONTHS_AWAY,
    SKIPS_WEEKS,
    SLOW_HANDS,
    SLOW_READERS,
    TEN_QUESTIONS,
    THREE_MINUTES,
    TWO_WEEKS_AWAY,
    USUAL,
    Habit,
)
from tests.bench.schedule.learners import MODELS
from tests.bench.schedule.making import WAYS, way_of
from tests.bench.schedule.ours import Coach
from tests.bench.schedule.plain import OTHERS, AtRandom
from tests.bench.schedule.practice import LOOKED_AT, Run, run
from tests.bench.schedule.sittings import EACH, UNSEEN, WITHIN, Return
from tests.bench.schedule.subject import offers

LEARNERS, FULL_LEARNERS, FULL_SEEDS = 8, 30, 3
TUNED_ON = "consolidating"
HELD_OUT = ("traces", "two rates")
BY_NAME = {schedule.name: schedule for schedule in (Coach, *OTHERS)}
GROUPS: dict[str, Habit] = {
    **dict.fromkeys((TUNED_ON, *HELD_OUT), USUAL),
    **{habit.name: habit for habit in (TEN_QUESTIONS, THREE_MINUTES, SKIPS_WEEKS)},
}
"""The habit of each group. Those named by their habit learn in both held-out ways by turns."""
SITTINGS: dict[str, Habit] = {
    habit.name: habit for habit in (SLOW_HANDS, SLOW_READERS, TWO_WEEKS_AWAY, SIX_MONTHS_AWAY)
}
"""Those whose sittings alone are looked at, under the coach alone."""
T_95 = {
    **{1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 6: 2.447, 7: 2.365, 8: 2.306},
    **{9: 2.262, 11: 2.201, 15: 2.131, 19: 2.093, 29: 2.045},
}
"""Student's t for a 95 % interval, by degrees of freedom (a table, from memory)."""
CRAFT_BAR, MEAN_BAR, END = (0.40, 0.60), -0.05, 1
"""Bars: the craft's share of time, the mean against the best, and the place in LOOKED_AT where
both are held."""
WHOLE_BAR, TIME_BAR = 0.95, 0.95
SHORT_BAR, SURE_BAR = 0.75, 0.80
"""Bars for a first day back: its time as a share of the usual one at most, and the share answered
right at least. No source: "short and sure", and nothing else is asked surer than 0.9."""


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
    return run(group, learner, BY_NAME[schedule], seed, {**GROUPS, **SITTINGS}[group])


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
    some, group = [made.sessions for made in ours], ours[0].group
    habit = {**GROUPS, **SITTINGS}[group]
    craft, whole = fmean(s.craft for s in some), fmean(s.whole for s in some)
    unseen, on_time = max(s.unseen for s in some), fmean(s.on_time for s in some)
    lacking = ", ".join(f"{kind} {fmean(s.lacking[kind] for s in some):.0%}" for kind in EACH)
    shares, often = [s.craft for s in some], fmean(bool(s.late) for s in some)
    held = [(share * count, count) for s in some for share, count in (s.with_example,)]
    kept, held_one = map(sum, zip(*held, strict=True))
    first = [fmean(abs(s.spans[at] - 1.0) <= WITHIN for s in some) for at in (0, 1, 2)]
    print(
        f"  the coach's sittings ({len(some)} runs): {craft:.1%} on the craft's own steps"
        f" ({min(shares):.0%} to {max(shares):.0%} by run); each of five in"
        f" {whole:.1%} of ten minutes (lacking: {lacking}); no drill left out over {unseen}"
        f" days (over {UNSEEN} in {often:.0%} of runs)"
    )
    print(
        f"  within {WITHIN:.0%} of their minutes {on_time:.1%}"
        f" ({min(s.on_time for s in some):.0%} by run at least);"
        f" of those with an example {kept / max(1, held_one):.1%} ({held_one:.0f});"
        f" of the first, second and third {', '.join(f'{share:.0%}' for share in first)};"
        f" {fmean(s.examples for s in some):.1f} examples"
    )
    missed = []
    if not CRAFT_BAR[0] <= craft <= CRAFT_BAR[1]:
        missed.append(f"{group}: {craft:.0%} on the craft's own steps")
    if whole < WHOLE_BAR:
        missed.append(f"{group}: each of five in {whole:.0%} of ten minutes")
    if unseen > UNSEEN:
        late = sorted({kind for s in some for kind in s.late})
        missed.append(f"{group}: left out too many days: {', '.join(late)}")
    if on_time < TIME_BAR and habit.questions is None:
        missed.append(f"{group}: {on_time:.0%} of sittings within 10 % of their minutes")
    if habit in (TWO_WEEKS_AWAY, SIX_MONTHS_AWAY):
        missed += _back(group, [one for s in some for one in s.back])
    return missed


def _back(group: str, back: Sequence[Return]) -> list[str]:
    """Print what the first days back were, and give the bars missed."""
    rights = [one.right for one in back]
    usual, right = fmean(one.of_usual for one in back), fmean(rights)
    spans = fmean(abs(one.span - 1.0) <= WITHIN for one in back)
    print(
        f"  first days back ({len(back)}): {usual:.0%} of the usual time"
        f" (at most {max(one.of_usual for one in back):.0%}), within {WITHIN:.0%} of what it was"
        f" to be {spans:.0%}; {right:.1%} right ±{2.0 * stdev(rights) / len(rights) ** 0.5:.1%},"
        f" {fmean(one.examples for one in back):.1f} examples;"
        f" {fmean(one.laid for one in back):.0%} laid their match;"
        f" the next day within {WITHIN:.0%}"
        f" {fmean(abs(one.next_span - 1.0) <= WITHIN for one in back):.0%}"
    )
    missed = []
    if usual > SHORT_BAR:
        missed.append(f"{group}: the first day back {usual:.0%} of the usual time")
    if right < SURE_BAR:
        missed.append(f"{group}: the first day back {right:.0%} right")
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
    for group in SITTINGS:
        if not sys.argv[2:] or group in sys.argv[2:]:
            mine = measure([group], learners, tuple(seeds), [Coach.name])
            print(f"\n{group} (the coach alone)")
            missed += _sessions(mine)
            runs += mine
    print(f"\n{len(runs)} runs in {perf_counter() - start:.0f} s")
    if missed:
        print("missed:", *missed, sep="\n  ")
        raise SystemExit(1)


if __name__ == "__main__":
    main()
