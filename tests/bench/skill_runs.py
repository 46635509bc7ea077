"""Made-up learners practising under the model: what it says beside what is true.

``improver``, ``constant``, ``changer`` and ``forgetter`` each run one learner; the bars
are in ``bench_skill``. All are asked at steps the model chooses. ``practised`` asks by a
weighted staircase (Kaernbach 1991, Perception & Psychophysics 49:227-229), for the tests.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator
from typing import NamedTuple

import numpy as np

from scores.progress.answers import Answers
from scores.progress.claim import Claim, claim
from scores.record.trials import PER_CHANCE, PER_LOG10
from scores.skill.model.estimates import figures_on, skills_on
from scores.skill.model.figures import Z_90
from scores.skill.model.learner import ModelAnswer, answered_all, begin, on_day
from tests.bench.eyes import FIRST, SITTING_S, Eye, Plan, seconds, whole_layout

LEVELS = (0.0, 0.35, 0.7, 0.95, 1.05)
WEEKS = 26
LOOKS = tuple(range(7, 7 * WEEKS + 1, 7))
"""Days of practice behind each weekly look."""


class Improved(NamedTuple):
    """One learner after eight weeks: median width (×) and coverage of the skills' 90 %
    intervals, their mean error (log10), answers and the share right."""

    width: float
    covered: float
    error: float
    answers: int
    right: float


def course(rng: random.Random, days: int) -> Callable[[float], float]:
    """How an eye gets finer: wearing out, evenly or at once; the share reached on a day."""
    drawn = rng.random()
    if drawn < 0.5:
        fast = rng.uniform(10.0, 40.0)
        return lambda day: (1 - math.exp(-day / fast)) / (1 - math.exp(-days / fast))
    if drawn < 0.75:
        at = rng.uniform(10.0, 45.0)
        return lambda day: float(day >= at)
    return lambda day: day / days


def improver(seed: int, days: int = 56) -> Improved:
    """Eight weeks of ten minutes a day; thresholds get 1.1 to 2.5 times finer."""
    rng = random.Random(f"improver/{seed}")
    eye = Eye(
        seed,
        change=-rng.uniform(0.07, 0.36),
        course=course(rng, days),
        uneven=0.06,
        mood=rng.uniform(0.03, 0.08),
        tied=rng.choice((0.0, 0.5, 0.8)),
    )
    plan, layout = Plan(eye.layout, seed), eye.layout
    known, right = begin(layout), []
    for day in range(days):
        figures = figures_on(known, FIRST + day)
        rows = []
        for place in plan.sitting():
            step = figures.step_to_ask(layout.skills[place])
            right.append(eye.right(place, step, day))
            rows.append(ModelAnswer(layout.skills[place], step, right[-1], FIRST + day))
        known = answered_all(known, rows)
    mean, sd = skills_on(known, FIRST + days - 1)
    off = mean - np.array([eye.true(place, days - 1) for place in range(layout.size)])
    return Improved(
        float(np.median(10.0 ** (2.0 * Z_90 * sd))),
        float((np.abs(off) < Z_90 * sd).mean()),
        float(off.mean()),
        len(right),
        float(np.mean(right)),
    )


def practised(eye: Eye, days: int) -> Answers:
    """What a learner asked by a staircase has answered."""
    layout, plan = eye.layout, Plan(eye.layout, eye.seed)
    level = [0.3] * layout.size
    rows: list[tuple[int, int, int, int, int]] = []
    for day in range(days):
        for place in plan.sitting():
            kind = layout.kinds[int(layout.kind[place])]
            at = round(PER_LOG10 * kind.scale.at_level(level[place]))
            right = eye.right(place, kind.scale.step(at / PER_LOG10), day)
            level[place] = min(max(level[place] + (0.06 if right else -0.24), 0.0), 1.0)
            rows.append((place, FIRST + day, round(PER_CHANCE * kind.chance), at, int(right)))
    return Answers(layout.skills, *np.array(rows, dtype=np.int64).T)


def by_model(eye: Eye, days: int) -> Answers:
    """The same of one asked where the model holds the threshold to be.

    Kept to the kind's range, and worked out each morning; a search for the step that is
    right four times in five comes near the same, and costs more than the model itself.
    """
    layout, plan = eye.layout, Plan(eye.layout, eye.seed)
    known = begin(layout)
    rows: list[tuple[int, int, int, int, int]] = []
    for day in range(days):
        known = on_day(known, FIRST + day)
        mean, sd = skills_on(known, FIRST + day)
        told = []
        for place in plan.sitting():
            kind = layout.kinds[int(layout.kind[place])]
            low, high = sorted(map(kind.scale.intensity, kind.steps))
            # What is little known is asked a little easier.
            wanted = float(mean[place] + 0.5 * sd[place])
            at = round(PER_LOG10 * min(max(wanted, low), high))
            step = kind.scale.step(at / PER_LOG10)
            right = eye.right(place, step, day)
            told.append(ModelAnswer(layout.skills[place], step, right, FIRST + day))
            rows.append((place, FIRST + day, round(PER_CHANCE * kind.chance), at, int(right)))
        known = answered_all(known, told)
    return Answers(layout.skills, *np.array(rows, dtype=np.int64).T)


def looks(eye: Eye, days: int) -> Iterator[tuple[int, Claim]]:
    """What is claimed at each weekly look: (days practised, claim)."""
    answers = by_model(eye, days)
    for look in LOOKS:
        if look <= days:
            mine = answers.pick(answers.day < FIRST + look)
            yield look, claim(mine, eye.layout, FIRST + look - 1)


def constant(level: float, tied: float, seed: int) -> str:
    """Which change a learner who never changes is ever told of in 26 weeks; "" for none."""
    eye = Eye(hash_of("constant", level, tied, seed), level=level, mood=0.08, tied=tied)
    for _, told in looks(eye, 7 * WEEKS):
        if told.direction is not None:
            return told.direction
    return ""


def changer(ratio: float, tied: float, seed: int) -> tuple[bool, bool, bool]:
    """Told finer by day 56, by day 84, and whether ever told coarser.

    Thresholds go evenly to ``ratio`` by day 56 and stay.
    """
    eye = Eye(
        hash_of("changer", ratio, tied, seed),
        change=math.log10(ratio),
        course=lambda day: min(day / 56.0, 1.0),
        mood=0.08,
        tied=tied,
    )
    told = list(looks(eye, 84))
    finer = [any(c.direction == "finer" for look, c in told if look <= by) for by in (56, 84)]
    return finer[0], finer[1], any(c.direction == "coarser" for _, c in told)


def hash_of(*parts: object) -> int:
    """A seed of one's own for these parts, the same in every process."""
    return random.Random(repr(parts)).getrandbits(40)


class Rested(NamedTuple):
    """One learner after 120 days. ``half_life`` (days, inf: cannot forget) is the truth,
    ``forgets`` the estimate (log10 per unit); ``planned`` the median rest planned next for
    the skills held, ``asked`` the median rest after which they were asked since day 100."""

    half_life: float
    forgets: float
    sd: float
    planned: float
    asked: float


DEPTH, WON_BACK = 0.35, 0.25
"""Most that a rest can take (log10), and the share of it one answer wins back."""


def forgetter(half_life: float, seed: int, days: int = 120) -> Rested:
    """Due skills first, new ones, then the weakest: as the model says.

    A rest of g days takes 1 − 2^(−g/half_life) of what is left to lose. That is an
    exponential with a floor; the model has a logarithm without one.
    """
    rng = random.Random(f"forgetter/{seed}")
    eye = Eye(
        seed,
        change=-rng.uniform(0.05, 0.30),
        course=lambda day: 1.0 - math.exp(-day / 30.0),
        mood=0.05,
        tied=0.5,
    )
    layout = whole_layout()
    known, lost = begin(layout), [0.0] * layout.size
    last: dict[int, int] = {}
    order = list(range(layout.size))
    rng.shuffle(order)
    asked: list[int] = []
    weak: list[int] = []
    for day in range(days):
        known = on_day(known, FIRST + day)
        figures = figures_on(known, FIRST + day)
        rest = {place: figures.due_rest(layout.skills[place]) for place in last}
        over = {place: (day - last[place]) / rest[place] for place in last}
        due = sorted((place for place in last if over[place] >= 1.0), key=lambda p: -over[p])
        new = [place for place in order if place not in last]
        met = sorted(last, key=lambda place: figures.level(layout.skills[place]))
        weak = met[: max(5, len(met) // 8)]
        rng.shuffle(weak)
        rows: list[ModelAnswer] = []
        left = SITTING_S
        for place in [*due[:10], *new[:12], *due[10:], *weak * 3]:
            skill = layout.skills[place]
            gap = day - last.get(place, day)
            if gap and place not in weak and day >= 100:
                asked.append(gap)
            lost[place] += (DEPTH - lost[place]) * (1.0 - 0.5 ** (gap / half_life))
            for _ in range(2 if place in last else 1):
                if left < seconds(skill):
                    break
                left -= seconds(skill)
                step = figures.step_to_ask(skill)
                right = eye.right(place, step, day, lost[place])
                rows.append(ModelAnswer(skill, step, right, FIRST + day))
                lost[place] *= 1.0 - WON_BACK
                last[place] = day
            if left < 13.0:
                break
        known = answered_all(known, rows)
    figures = figures_on(known, FIRST + days)
    held = [place for place in last if place not in weak]
    return Rested(
        half_life,
        *figures.forgets,
        float(np.median([figures.due_rest(layout.skills[place]) for place in held])),
        float(np.median(asked)) if asked else 0.0,
    )
