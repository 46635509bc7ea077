"""What the model tells: each skill, each kind, each family and the whole eye, with intervals.

The S settings' Gaussians are mixed by their weights: an estimate's mean is Σ w m and its
variance Σ w (v + (m − mean)²). Moods are left out: they are of a day, not of the eye.
"""

from __future__ import annotations

import math
from collections.abc import Collection

import numpy as np

from scores.skill.model import settings as s
from scores.skill.model.figures import Figure, KindFigure, LearnerFigures, Pooled
from scores.skill.model.layout import FloatArray, IntArray
from scores.skill.model.learner import Learner, faded_on, on_day


def mixed(learner: Learner, loads: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Mean and standard deviation (r,) of rows of ``loads`` (r, d), log10."""
    means = learner.mean @ loads.T
    variances = ((loads @ learner.cov) * loads).sum(axis=-1)
    mean = learner.weight @ means
    spread = learner.weight @ (variances + (means - mean) ** 2)
    return mean, np.sqrt(np.maximum(spread, 1e-12))


def skills_on(learner: Learner, day: int) -> tuple[FloatArray, FloatArray]:
    """Mean and standard deviation (n,) of every log10 threshold on a day, mood apart."""
    now = on_day(learner, day)
    n = now.layout.size
    gone = faded_on(now, day)
    means = now.mean[:, :n] + gone * now.mean[:, -2:-1]
    across = np.arange(n)
    variances = (
        now.cov[:, across, across]
        + 2.0 * gone * now.cov[:, :n, -2]
        + gone**2 * now.cov[:, -2, -2][:, None]
    )
    mean = now.weight @ means
    spread = now.weight @ (variances + (means - mean) ** 2)
    return mean, np.sqrt(np.maximum(spread, 1e-12))


def figures_on(learner: Learner, day: int, only: Collection[str] | None = None) -> LearnerFigures:
    """Everything that is told on a practice day (an ordinal), to be kept beside the state.

    With ``only`` the same of some skills, their kinds and families alone, and of the person.
    """
    now = on_day(learner, day)
    layout = now.layout
    places = [at for at, skill in enumerate(layout.skills) if only is None or skill in only]
    kinds = sorted({int(layout.kind[at]) for at in places})
    families = sorted({int(layout.family[at]) for at in places})
    mean, sd = skills_on(now, day)
    gone = faded_on(now, day)
    n, d = layout.size, now.mean.shape[1]
    by_kind = np.stack([_pool(of, gone, d) for of in layout.of_kind])
    of_family = [np.flatnonzero(layout.family == place) for place in families]
    # A family's or the eye's figure is how far its thresholds lie from a newcomer's.
    groups = [
        by_kind[kinds],
        *(_pool(of, gone, d)[None] for of in of_family),
        by_kind.mean(0)[None],
    ]
    at, by = mixed(now, np.concatenate(groups))
    start = layout.mean
    forget = mixed(now, np.eye(d)[-2:-1])
    trend = mixed(now, np.eye(d)[n : n + 1])
    mood = math.sqrt(float(now.weight @ np.array([t.mood**2 for t in s.SETTINGS])))
    base = np.array([start[of].mean() for of in layout.of_kind])
    return LearnerFigures(
        day=day,
        skills={
            layout.skills[i]: Figure(
                float(mean[i]),
                float(sd[i]),
                int(now.answers[i]),
                int(now.last[i]),
                int(now.days[i]),
                int(now.held[i]),
                float(gone[i]),
                float(now.late[i] * 0.5 ** (max(day - int(now.last[i]), 0) / s.LATE_DAYS)),
            )
            for i in places
        },
        kinds={
            layout.kinds[i].name: KindFigure(
                layout.kinds[i].steps,
                layout.kinds[i].chance,
                Pooled(float(at[row]), float(by[row]), int(now.answers[layout.of_kind[i]].sum())),
                tuple(map(float, now.slope[i])),
                tuple(map(float, now.guess[i])),
            )
            for row, i in enumerate(kinds)
        },
        families={
            layout.families[i]: Pooled(
                float(at[row] - start[of].mean()), float(by[row]), int(now.answers[of].sum())
            )
            for row, (i, of) in enumerate(zip(families, of_family, strict=True), len(kinds))
        },
        person=Pooled(float(at[-1] - base.mean()), float(by[-1]), int(now.answers.sum())),
        forgets=(float(forget[0][0]), float(forget[1][0])),
        trend=(float(trend[0][0]), float(trend[1][0])),
        mood=mood,
        lapse=tuple(map(float, now.lapse)),
    )


def _pool(skills: IntArray, gone: FloatArray, d: int) -> FloatArray:
    """(d,): the row that takes the mean threshold of some skills out of the state."""
    row = np.zeros(d)
    row[skills] = 1.0 / len(skills)
    row[-2] = gone[skills].mean()
    return row
