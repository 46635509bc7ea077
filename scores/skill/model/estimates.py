"""What the model tells: each skill, each kind, each family and the whole eye, with intervals.

The S settings' Gaussians are mixed by their weights: an estimate's mean is Σ w m and its
variance Σ w (v + (m − mean)²). Moods are left out: they are of a day, not of the eye.
"""

from __future__ import annotations

import math

import numpy as np

from scores.skill.model import settings as s
from scores.skill.model.figures import Figure, KindFigure, LearnerFigures, Pooled
from scores.skill.model.layout import FloatArray
from scores.skill.model.learner import Learner, faded_on, on_day


def mixed(learner: Learner, loads: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Mean and standard deviation (r,) of rows of ``loads`` (r, d), log10."""
    means = learner.mean @ loads.T
    variances = np.einsum("rd,sde,re->sr", loads, learner.cov, loads, optimize=True)
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


def figures_on(learner: Learner, day: int) -> LearnerFigures:
    """Everything that is told on a practice day (an ordinal), to be kept beside the state."""
    now = on_day(learner, day)
    layout = now.layout
    n, k = layout.size, len(layout.kinds)
    mean, sd = skills_on(now, day)
    gone = faded_on(now, day)
    d = now.mean.shape[1]
    rows = np.zeros((n, d))
    rows[:, :n] = np.eye(n)
    rows[:, -2] = gone
    kinds = np.stack([rows[of].mean(axis=0) for of in layout.of_kind])
    # A family's or the eye's figure is how far its thresholds lie from a newcomer's.
    families = np.stack(
        [rows[layout.family == place].mean(axis=0) for place in range(len(layout.families))]
    )
    groups = np.concatenate([kinds, families, kinds.mean(axis=0)[None]])
    at, by = mixed(now, groups)
    start = layout.mean
    forget = mixed(now, np.eye(d)[-2:-1])
    trend = mixed(now, np.eye(d)[n : n + 1])
    mood = math.sqrt(float(now.weight @ np.array([t.mood**2 for t in s.SETTINGS])))
    base = np.array([start[of].mean() for of in layout.of_kind])
    return LearnerFigures(
        day=day,
        skills={
            skill: Figure(
                float(mean[i]),
                float(sd[i]),
                int(now.answers[i]),
                int(now.last[i]),
                int(now.days[i]),
                int(now.held[i]),
                float(gone[i]),
                float(now.late[i] * 0.5 ** (max(day - int(now.last[i]), 0) / s.LATE_DAYS)),
            )
            for i, skill in enumerate(layout.skills)
        },
        kinds={
            kind.name: KindFigure(
                kind.steps,
                kind.chance,
                Pooled(float(at[i]), float(by[i]), int(now.answers[layout.of_kind[i]].sum())),
                tuple(map(float, now.slope[i])),
                tuple(map(float, now.guess[i])),
            )
            for i, kind in enumerate(layout.kinds)
        },
        families={
            family: Pooled(
                float(at[k + i] - start[layout.family == i].mean()),
                float(by[k + i]),
                int(now.answers[layout.family == i].sum()),
            )
            for i, family in enumerate(layout.families)
        },
        person=Pooled(float(at[-1] - base.mean()), float(by[-1]), int(now.answers.sum())),
        forgets=(float(forget[0][0]), float(forget[1][0])),
        trend=(float(trend[0][0]), float(trend[1][0])),
        mood=mood,
        lapse=tuple(map(float, now.lapse)),
    )
