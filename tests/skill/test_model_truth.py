"""The model beside learners whose truth is known: each part of it is needed.

Small: 30 skills, two weeks. ``python -m tests.bench skill`` has the whole proof.
"""

from __future__ import annotations

import math
import random
from functools import cache
from typing import NamedTuple

import numpy as np

from scores.skill.model.estimates import figures_on, mixed, skills_on
from scores.skill.model.figures import Z_90
from scores.skill.model.layout import Layout, layout_of
from scores.skill.model.learner import Learner, ModelAnswer, answered_all, begin
from tests.bench.eyes import FIRST, KINDS, Eye, regions
from tests.bench.skill_runs import practised

USED = ("hue-and-lean", "lighter-or-darker", "hold-in-mind", "nearest-start", "through-the-cast")
LEARNERS, DAYS = 16, 14


def layout() -> Layout:
    names = [f"{kind}:{region}" for kind in USED for region in regions(12)[:6]]
    return layout_of({kind: KINDS[kind][:2] for kind in USED}, names)


def known(eye: Eye, days: int) -> Learner:
    """What the model knows after so many days of a staircase."""
    answers, kinds = practised(eye, days), eye.layout.kinds
    columns = (answers.skill, answers.day, answers.place, answers.right)
    rows = []
    for skill, day, place, right in zip(*(c.tolist() for c in columns), strict=True):
        step = kinds[int(eye.layout.kind[skill])].scale.step(place / 100)
        rows.append(ModelAnswer(eye.layout.skills[skill], step, bool(right), day))
    return answered_all(begin(eye.layout), rows)


class Run(NamedTuple):
    """Medians and shares of one learner; ``z`` is the error of the whole eye's mean
    threshold, in its own standard deviations."""

    width: float
    covered: float
    z: float


@cache
def runs() -> tuple[Run, ...]:
    """Learners who get 1.3 times finer, with days good and bad by 30 %."""
    made = []
    for seed in range(LEARNERS):
        eye = Eye(
            seed,
            change=-0.1,
            course=lambda day: day / DAYS,
            mood=0.12,
            tied=0.5,
            layout=layout(),
        )
        after = known(eye, DAYS)
        mean, sd = skills_on(after, FIRST + DAYS - 1)
        true = np.array([eye.true(place, DAYS - 1) for place in range(eye.layout.size)])
        every = np.zeros((1, after.mean.shape[1]))
        every[0, : eye.layout.size] = 1.0 / eye.layout.size
        whole, doubt = mixed(after, every)
        made.append(
            Run(
                float(np.median(10.0 ** (2.0 * Z_90 * sd))),
                float((np.abs(true - mean) < Z_90 * sd).mean()),
                float((whole[0] - true.mean()) / doubt[0]),
            )
        )
    return tuple(made)


def test_nine_intervals_of_ten_hold_the_truth() -> None:
    assert 0.85 <= np.mean([run.covered for run in runs()]) <= 0.96


def test_skills_lend_each_other_what_they_know() -> None:
    """Each measured by itself, the median interval is × 2.8 wide."""
    assert np.median([run.width for run in runs()]) <= 2.5


def test_a_run_of_good_days_does_not_pass_for_a_better_eye() -> None:
    """Without a day's mood the whole eye's error is 1.26 of what is thought."""
    assert math.sqrt(np.mean([run.z**2 for run in runs()])) <= 1.1


def forgets(half_life: float) -> float:
    """The forgetting found of a learner who loses up to 0.35 log10 over rests of 1 to 20 days."""
    rng = random.Random(3)
    eye = Eye(3, mood=0.04, tied=0.0, layout=layout())
    lost = [0.0] * eye.layout.size
    next_day = [rng.randrange(6) for _ in lost]
    last = list(next_day)
    now = begin(eye.layout)
    for day in range(60):
        figures = figures_on(now, FIRST + day)
        rows = []
        for place, skill in enumerate(eye.layout.skills):
            if next_day[place] != day:
                continue
            lost[place] += (0.35 - lost[place]) * (1 - 0.5 ** ((day - last[place]) / half_life))
            for _ in range(3):
                step = figures.step_to_ask(skill)
                right = eye.right(place, step, day, lost[place])
                rows.append(ModelAnswer(skill, step, right, FIRST + day))
                lost[place] *= 0.75
            last[place], next_day[place] = day, day + rng.choice((1, 2, 5, 10, 20))
        now = answered_all(now, rows)
    return figures_on(now, FIRST + 60).forgets[0]


def test_who_forgets_is_told_from_who_cannot() -> None:
    assert forgets(10.0) > forgets(math.inf) + 0.015
