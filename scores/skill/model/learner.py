"""The state of one learner, and how an answer, a day and new offers change it.

Under each of S settings (``settings.SETTINGS``) the state is one Gaussian of d numbers:

    θ (n)   log10 threshold of every skill, as it is with nothing faded
    t (1)   the person's trend, log10 a practice day
    t_k (K) each kind's trend beside it
    f (1)   what the person forgets, log10 per unit of ``forgetting.faded``
    m (1)   today's mood: a shift of every threshold of the day

From day to day, with δ days between and δ' = min(δ, TREND_REACH),

    θ ← θ + δ'(t + t_k) + walk,   t ← t e^(−δ/TREND_DAYS) + noise,   m ← tied^δ m + noise.

An answer to skill s sees u = θ_s + c_s f + m, c_s being what has faded of the skill
since it was last met (known, not estimated). It changes the whole state along
Cov(state, u)/Var(u) (a Kalman update of rank one; Särkkä 2013, Bayesian Filtering and
Smoothing, §6.3), to the mean and variance of u that ``seeing`` finds.

Functions take a state and give another; none is changed in place.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from scores.skill.model import settings as s
from scores.skill.model.forgetting import KEPT, REACHED, faded, longest_rest
from scores.skill.model.layout import FloatArray, IntArray, Layout
from scores.skill.model.seeing import moments
from scores.skill.psychometric import PROPORTION

COUNT = len(s.SETTINGS)
_MOOD = np.array([setting.mood for setting in s.SETTINGS])
_TIED = np.array([setting.tied for setting in s.SETTINGS])
_DRIFT = np.array([setting.drift for setting in s.SETTINGS])
MOST_CHANCE = PROPORTION - 0.05
"""As in ``scores.skill.psychometric.scale_of``."""
_FLOOR = 1e-4
"""Least weight of a setting or shape: none is lost for good."""


@dataclass(frozen=True)
class Learner:
    """What is known of a learner; S settings, n skills, K kinds, d = n + K + 3.

    ``mean`` (S, d) and ``cov`` (S, d, d) are in log10; ``weight`` (S,) weighs the
    settings; ``slope`` (K, 3), ``guess`` (K, 2) and ``lapse`` (3,) weigh the shapes. By
    skill (n,): ``last`` is the ordinal of the last day answered (0: never), ``rust``
    what was still faded after its last answer, ``answers`` a count, ``days`` the days
    practised, ``held`` the longest rest in days after which it was still right, ``late``
    the answers on ``last``, those of ``LATE_DAYS`` before it counting half. ``day``
    is the ordinal of the last answer's day; 0 before any.
    """

    layout: Layout
    day: int
    mean: FloatArray
    cov: FloatArray
    weight: FloatArray
    slope: FloatArray
    guess: FloatArray
    lapse: FloatArray
    last: IntArray
    rust: FloatArray
    answers: IntArray
    days: IntArray
    held: IntArray
    late: FloatArray


def begin(layout: Layout) -> Learner:
    """A newcomer. Raises ValueError where no skill can be measured."""
    n, k = layout.size, len(layout.kinds)
    if not n:
        raise ValueError("no skill can be measured")
    d = n + k + 3
    mean, cov = np.zeros((COUNT, d)), np.zeros((COUNT, d, d))
    mean[:, :n] = layout.mean
    mean[:, n] = s.PERSON_TREND_MEAN
    mean[:, -2] = s.FORGET_MEAN
    cov[:, :n, :n] = layout.covariance
    trend = _trend_variance(layout)
    across = np.arange(n, n + 1 + k)
    cov[:, across, across] = trend * _DRIFT[:, None]
    cov[:, -2, -2] = s.FORGET_SD**2
    cov[:, -1, -1] = _MOOD**2
    none = np.zeros(n, dtype=np.int64)
    return Learner(
        layout=layout,
        day=0,
        mean=mean,
        cov=cov,
        weight=np.full(COUNT, 1.0 / COUNT),
        slope=np.tile([weight for _, weight in s.SLOPES], (k, 1)),
        guess=np.tile([weight for _, weight in s.GUESSES], (k, 1)),
        lapse=np.array([weight for _, weight in s.LAPSES]),
        last=none,
        rust=np.zeros(n),
        answers=none,
        days=none,
        held=none,
        late=np.zeros(n),
    )


def _trend_variance(layout: Layout) -> FloatArray:
    """(1 + K,)"""
    return np.array([s.PERSON_TREND**2] + [s.KIND_TREND**2] * len(layout.kinds))


def on_day(learner: Learner, day: int) -> Learner:
    """What is known on a later practice day (an ordinal), before any answer of it.

    A day or two before the last one (another zone) changes nothing. Further back, the
    clock had been wrong and was put right: time goes on from there, by one day.
    """
    if not learner.day:
        return replace(learner, day=day)
    gap = day - learner.day
    if -s.ZONE_SLACK_DAYS <= gap <= 0:
        return learner
    last = learner.last if gap > 0 else np.minimum(learner.last, day)
    gap = max(gap, 1)
    layout = learner.layout
    n, k = layout.size, len(layout.kinds)
    mean, cov = learner.mean.copy(), learner.cov.copy()
    # What is known falls back, slowly, to what a newcomer's would be.
    back = math.exp(-min(gap, s.MOST_DAYS) / s.BACK_DAYS)
    mean[:, :n] = layout.mean + back * (mean[:, :n] - layout.mean)
    cov[:, :n, :] *= back
    cov[:, :, :n] *= back
    walk = min(gap, s.MOST_DAYS) * _DRIFT[:, None, None] * layout.walk
    cov[:, :n, :n] += (1.0 - back * back) * layout.covariance + walk
    # Trends move the thresholds, as long as practice is fresh.
    run = float(min(gap, s.TREND_REACH))
    own = n + 1 + layout.kind
    mean[:, :n] += run * (mean[:, n : n + 1] + mean[:, own])
    cov[:, :n, :] += run * (cov[:, n : n + 1, :] + cov[:, own, :])
    cov[:, :, :n] += run * (cov[:, :, n : n + 1] + cov[:, :, own])
    trends = slice(n, n + 1 + k)
    fade = math.exp(-gap / s.TREND_DAYS)
    _scale(mean, cov, trends, fade)
    mean[:, n] += (1.0 - fade) * s.PERSON_TREND_MEAN
    across = np.arange(n, n + 1 + k)
    cov[:, across, across] += (1.0 - fade * fade) * _trend_variance(layout) * _DRIFT[:, None]
    tied = _TIED**gap
    _scale(mean, cov, slice(-1, None), tied)
    cov[:, -1, -1] += _MOOD**2 * (1.0 - tied**2)
    return replace(learner, day=day, mean=mean, cov=cov, last=last)


def _scale(mean: FloatArray, cov: FloatArray, part: slice, by: float | FloatArray) -> None:
    """Multiply some of the numbers; ``by`` one factor, or one a setting (S,)."""
    each = np.broadcast_to(np.asarray(by, dtype=np.float64), (COUNT,))
    mean[:, part] *= each[:, None]
    cov[:, part, :] *= each[:, None, None]
    cov[:, :, part] *= each[:, None, None]


def faded_on(learner: Learner, day: int) -> FloatArray:
    """(n,): what has faded of every skill on a day; 0 for one never met."""
    rest = np.where(learner.last > 0, np.maximum(day - learner.last, 0), 0)
    days, which = np.unique(rest, return_inverse=True)
    gone: FloatArray = learner.rust + np.array([faded(day) for day in days.tolist()])[which]
    return gone


class ModelAnswer(NamedTuple):
    """An answer: skill, the step really shown, whether it was right, the practice day
    (an ordinal), and the chance it was asked at where that is not the kind's of today."""

    skill: str
    step: float
    right: bool
    day: int
    chance: float | None = None


def answered(learner: Learner, answer: ModelAnswer) -> Learner:
    """What is known after an answer.

    One that can't be measured changes nothing: of a skill that is not of the layout, at a
    step that is no step, or where guessing alone is right nearly as often as the eye.
    """
    return answered_all(learner, (answer,))


def answered_all(learner: Learner, answers: Iterable[ModelAnswer]) -> Learner:
    """The same for many, in their order: what is known is made again from the record so."""
    own = False
    for answer in answers:
        place = learner.layout.place.get(answer.skill)
        if place is None or not (answer.step > 0 and math.isfinite(answer.step)):
            continue
        if answer.chance is not None and not 0.0 <= answer.chance <= MOST_CHANCE:
            continue
        today = on_day(learner, answer.day)
        own = own or today.cov is not learner.cov
        cov = today.cov if own else today.cov.copy()
        learner, own = _updated(today, cov, place, answer), True
    return learner


def _updated(learner: Learner, cov: FloatArray, place: int, answer: ModelAnswer) -> Learner:
    """After an answer of the state's own day; ``cov`` is written into."""
    layout, day = learner.layout, learner.day
    number = int(layout.kind[place])
    kind = layout.kinds[number]
    rest = max(day - int(learner.last[place]), 0) if learner.last[place] else 0
    gone = float(learner.rust[place]) + faded(rest)
    along = cov[:, :, place] + gone * cov[:, :, -2] + cov[:, :, -1]
    mean = learner.mean[:, place] + gone * learner.mean[:, -2] + learner.mean[:, -1]
    variance = np.maximum(along[:, place] + gone * along[:, -2] + along[:, -1], 1e-9)
    shape = learner.slope[number][:, None, None] * learner.guess[number][:, None] * learner.lapse
    x, right = kind.scale.intensity(answer.step), answer.right
    chance = kind.chance if answer.chance is None else answer.chance
    z, after, spread, by_shape = moments(x, right, mean, variance, chance, shape)
    gain = along / variance[:, None]
    moved = learner.mean + gain * (after - mean)[:, None]
    less = (spread - variance) / variance**2
    for setting in range(COUNT):
        cov[setting] += np.multiply.outer(along[setting] * less[setting], along[setting])
    weight = _again(learner.weight**s.SETTING_MEMORY * z)
    seen = np.tensordot(weight, by_shape, axes=(0, 0))
    slope, guess = learner.slope.copy(), learner.guess.copy()
    slope[number] = _kept(seen.sum(axis=(1, 2)), s.SLOPES)
    guess[number] = _kept(seen.sum(axis=(0, 2)), s.GUESSES)
    last, rust = learner.last.copy(), learner.rust.copy()
    answers, days, held = learner.answers.copy(), learner.days.copy(), learner.held.copy()
    if learner.last[place] != day:
        days[place] += 1
        if right and rest > held[place]:
            # One lucky answer after a year says little: what was held grows step by step.
            held[place] = min(rest, round(REACHED * longest_rest(int(held[place]))))
    late = learner.late.copy()
    late[place] = 1.0 + late[place] * 0.5 ** (rest / s.LATE_DAYS)
    last[place], rust[place] = day, KEPT * gone
    answers[place] += 1
    return replace(
        learner,
        mean=moved,
        cov=cov,
        weight=weight,
        slope=slope,
        guess=guess,
        lapse=_kept(seen.sum(axis=(0, 1)), s.LAPSES),
        last=last,
        rust=rust,
        answers=answers,
        days=days,
        held=held,
        late=late,
    )


def _kept(weights: FloatArray, prior: tuple[tuple[float, float], ...]) -> FloatArray:
    """Shape weights, drawn a little towards what they were before any answer."""
    before = np.array([weight for _, weight in prior])
    now = weights / weights.sum()
    return _again(now**s.SHAPE_MEMORY * before ** (1.0 - s.SHAPE_MEMORY))


def _again(weights: FloatArray) -> FloatArray:
    """Weights that sum to 1, none under the floor."""
    now = np.maximum(weights / weights.sum(), _FLOOR)
    made: FloatArray = now / now.sum()
    return made
