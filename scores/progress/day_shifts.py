"""What the answers say of every day's shift: one number a day for the whole eye.

Were nothing ever learnt or forgotten, the threshold seen in answer i, of skill s on day
d, would be

    u_i = θ_s + μ_d,

θ_s the skill's own log10 threshold and μ_d the shift of that day for all skills, greater
being coarser. Whether the eye has changed is a question about the course of μ; the
skills' own thresholds are summed out, so that it does not matter which skills a day
happened to ask.

The likelihood of the answers (Weibull functions, ``scores.skill.psychometric``) is
brought to a quadratic in (θ, μ) about its mode by Fisher scoring, as generalised linear
mixed models are fitted (Breslow & Clayton 1993, J. Am. Statist. Assoc. 88:9-25), and θ
is summed out with a prior far wider than people are (PRIOR_WIDER). What is left is

    log L(μ) = const − ½ μᵀ J μ + hᵀ μ.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from scores.progress.answers import Answers
from scores.record.trials import PER_CHANCE, PER_LOG10
from scores.skill.model.layout import FloatArray, IntArray, Layout
from scores.skill.psychometric import PROPORTION

SLOPE = 2.0
"""The Weibull function's slope, in the middle of what learners have (our estimate). One
fitted beside so many thresholds would come out too steep, and days too sure."""
LAPSE = 0.08
"""Its lapse rate: the most that is common (our estimate). Held too low, a slip at an easy step
counts as a coarse eye, and a learner whose steps grow harder seems to get finer; held too
high it costs a little information. Fitted beside the thresholds it comes out too low."""
PRIOR_WIDER = 2.0
"""Times the model's spread between persons that a threshold may lie from a newcomer's."""
FIT_MOOD, FIT_TIED = 0.12, 0.9
"""Spread and correlation of days while the mode is looked for: wide, so that nothing is
smoothed away."""
ROUNDS, CLOSE = 20, 3e-3
"""Fisher scoring stops when no threshold moves further than this (log10)."""
MOST_CHANCE = PROPORTION - 0.05


@dataclass(frozen=True)
class DayShifts:
    """The quadratic of the days' shifts: ``information`` J (T, T) and ``pull`` h (T,).

    ``days`` (T,) are ordinals, ``answers`` (T,) counts, oldest first.
    """

    days: IntArray
    answers: IntArray
    information: FloatArray
    pull: FloatArray


@lru_cache(maxsize=8)
def _prior(layout: Layout) -> tuple[FloatArray, FloatArray]:
    """Precision (n, n) of the skills' thresholds, and precision times mean (n,)."""
    wide = PRIOR_WIDER**2 * layout.covariance
    made: FloatArray = np.linalg.inv(wide).astype(np.float64)
    return made, made @ layout.mean


def tied_precision(days: IntArray, spread: float, tied: float) -> tuple[FloatArray, float]:
    """The inverse covariance (T, T) of an AR(1) series seen on ``days``, and its log determinant.

    Days apart by g are correlated by ``tied``^g (Rue & Held 2005, §1.1.1).
    """
    size = len(days)
    by = float(tied) ** np.diff(days).astype(np.float64)
    left = 1.0 - by**2
    diagonal = np.ones(size)
    diagonal[1:] = 1.0 / left
    diagonal[:-1] += by**2 / left
    made = np.zeros((size, size))
    at = np.arange(size)
    made[at, at] = diagonal
    made[at[1:], at[:-1]] = made[at[:-1], at[1:]] = -by / left
    log_det = -float(np.log(left).sum()) - 2.0 * size * float(np.log(spread))
    return made / spread**2, log_det


def _seen(above: FloatArray, guess: FloatArray) -> tuple[FloatArray, FloatArray]:
    """ψ and its slope dψ/dx, (n,) each."""
    rate = np.log((1.0 - guess) / (1.0 - PROPORTION))
    power = rate * 10.0 ** np.clip(SLOPE * above, -4.0, 2.5)
    fade = np.exp(-power)
    room = 1.0 - guess - LAPSE
    return 1.0 - LAPSE - room * fade, room * fade * power * SLOPE * np.log(10.0)


def day_shifts(answers: Answers, layout: Layout) -> DayShifts | None:
    """The days' shifts from answers; None where fewer than two days can be measured.

    Skills that are not of the layout, and answers that guessing alone brings near the
    proportion at the threshold, are left out.
    """
    places = np.array([layout.place.get(skill, -1) for skill in answers.skills], dtype=np.int64)
    if not len(places) or not len(answers):
        return None
    guess = answers.chance / PER_CHANCE
    fit = (places[answers.skill] >= 0) & (guess <= MOST_CHANCE)
    skill, day = places[answers.skill][fit], answers.day[fit]
    x, right, guess = answers.place[fit] / PER_LOG10, answers.right[fit] == 1, guess[fit]
    days, turn = np.unique(day, return_inverse=True)
    if len(days) < 2:
        return None
    n, size = layout.size, len(days)
    precision, toward = _prior(layout)
    tied, _ = tied_precision(days, FIT_MOOD, FIT_TIED)
    flat = skill * size + turn
    theta, mood = layout.mean.copy(), np.zeros(size)
    for number in range(ROUNDS):
        above = x - theta[skill] - mood[turn]
        psi, slope = _seen(above, guess)
        info = slope**2 / (psi * (1.0 - psi)) + 1e-9
        pushed = (psi - right) * slope / (psi * (1.0 - psi)) + info * (theta[skill] + mood[turn])
        by_skill = np.bincount(skill, info, n)
        by_day = np.bincount(turn, info, size)
        both = np.bincount(flat, info, n * size).reshape(n, size)
        pull_skill = np.bincount(skill, pushed, n) + toward
        pull_day = np.bincount(turn, pushed, size)
        inner = precision + np.diag(by_skill)
        solved = np.linalg.solve(inner, np.column_stack([both, pull_skill]))
        information = np.diag(by_day) - both.T @ solved[:, :size]
        pull = pull_day - both.T @ solved[:, size]
        new_mood = np.linalg.solve(information + tied, pull)
        new_theta = solved[:, size] - solved[:, :size] @ new_mood
        moved = max(float(np.abs(new_theta - theta).max()), float(np.abs(new_mood - mood).max()))
        share = min(1.0 if number < 6 else 0.5, 0.3 / max(moved, 1e-12))
        theta += share * (new_theta - theta)
        mood += share * (new_mood - mood)
        if moved < CLOSE:
            break
    counts: IntArray = np.bincount(turn, minlength=size).astype(np.int64)
    even: FloatArray = np.asarray(0.5 * (information + information.T), dtype=np.float64)
    return DayShifts(days, counts, even, np.asarray(pull, dtype=np.float64))
