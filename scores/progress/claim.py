"""Has the eye changed? A statement that stays true however often one looks.

Under *no change* the days' shifts μ (``scores.progress.day_shifts``) are good and bad
days alone: an AR(1) series of unknown spread and correlation, since days are never
independent. Under *change* they are that, and δ · r(t) besides, with r one of ``courses``
and δ ~ N(0, CHANGE_SD²). For a setting c of the days (spread, correlation) let p_c be
the evidence of the answers under no change, and B_cr the ratio of the evidence under
change to it:

    B = (1 + τ²w)^(−½) exp(½ q² / (w + τ^(−2))),   w = rᵀ(Σ + J⁻¹)⁻¹r,  q = rᵀ(Σ + J⁻¹)⁻¹J⁻¹h,

a normal mixture, Robbins' (Howard, Ramdas, McAuliffe & Sekhon 2021, Annals of
Statistics 49:1055-1080, eq. 14 and §3.2). Were c known, B would be a martingale with
mean 1 for a learner who does not change, and by Ville's inequality ever exceed 1/α with
probability α at most, at any number of looks. c is not known: the ratio is taken under
the days' settings weighed by p_c and a prior that leans to days that hang together
(the floor: a learner's own series must speak before it is believed that days do not).

What is exact and what is not: with c known and the quadratic right, Ville's bound is exact;
with c weighed it holds on average over the prior of c, and simulation must say what it
comes to for one c. Of 1,000 simulated series of days (26 weekly looks, spread 0.08) some
1 in 100 were told of a change falsely where days are independent, 4 where AR 0.8 ties
them and 8 to 10 where AR 0.95 does (``python -m tests.bench skill`` has learners).

A change is told when E ≥ 1/ERROR. Both directions are one test. The interval is the
confidence sequence of the same mixture: the changes δ whose own E stays below 1/ERROR;
it leaves out 0 just when a change is told.
"""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

import numpy as np

from scores.progress.answers import Answers
from scores.progress.day_shifts import DayShifts, day_shifts, tied_precision
from scores.skill.model.layout import FloatArray, Layout

Direction = Literal["finer", "coarser"]

ERROR = 0.05
CHANGE_SD = 0.25
"""Spread of real changes, log10, a factor of 1.8 (our estimate)."""
LEAST_DAYS = 10
"""Practice days before which nothing is told."""
WINDOW = 364
"""Longest stretch in days: later ones begin half of it further on. ERROR is for a stretch."""
SPREADS: tuple[tuple[float, float], ...] = ((0.03, 0.3), (0.06, 1.0), (0.08, 1.0), (0.11, 0.1))
"""Spreads of good and bad days, log10, with prior weights (our estimate)."""
TIED: tuple[tuple[float, float], ...] = (
    *((0.0, 5.0), (0.3, 1.0), (0.6, 2.0)),
    *((0.8, 4.0), (0.88, 0.1), (0.95, 1.0)),
)
"""Correlations from one day to the next, with prior weights: many lean to days that hang
together closely, so that a learner's own series must speak first. Set on simulated series
of days, not on the learners of ``tests.bench.bench_skill`` (our estimate)."""
_REACH = np.round(np.arange(-0.8, 0.8001, 0.004), 4)


def courses(days: FloatArray) -> FloatArray:
    """(T, R): the share of a change reached on each day since the first.

    Two wear out, by 1/e in 20 and in 60 days; one goes evenly for 60 days.
    """
    return np.stack(
        [1.0 - np.exp(-days / 20.0), 1.0 - np.exp(-days / 60.0), np.minimum(days / 60.0, 1.0)],
        axis=1,
    )


class Claim(NamedTuple):
    """What can be said of the whole eye between ``since`` and ``day`` (ordinals).

    ``change`` is log10 threshold now − then (below 0 is finer), within ``low`` and
    ``high``, an interval that holds at 95 % however often one looks; it is ±inf while
    nothing is known. ``evidence`` is ln E. ``direction`` is None while nothing may be
    told. ``days`` and ``answers`` are what has been gathered.
    """

    since: int
    day: int
    days: int
    answers: int
    change: float
    low: float
    high: float
    evidence: float
    direction: Direction | None

    @property
    def ratio(self) -> float:
        """Threshold now over then."""
        return float(10.0**self.change)

    @property
    def least(self) -> float:
        """How far threshold now over then would have to lie from 1, as a ratio above 1, to
        be told by now: what the gathering has come to. inf while nothing is known."""
        half = 0.5 * (self.high - self.low)
        return float(10.0**half) if math.isfinite(half) else math.inf


def claim(answers: Answers, layout: Layout, day: int) -> Claim:
    """What can be said on a practice day (an ordinal) from the answers up to it."""
    first = int(answers.day.min()) if len(answers) else day
    if day - first > WINDOW:
        half = WINDOW // 2
        first += half * ((day - first - half) // half)
    mine = answers.pick((answers.day >= first) & (answers.day <= day))
    found = claim_of(day_shifts(mine, layout), first, day, len(mine))
    return found if found.days else found._replace(days=len(np.unique(mine.day)))


def claim_of(shifts: DayShifts | None, since: int, day: int, answers: int) -> Claim:
    """The same from the days' shifts; nothing is told where there are none or too few."""
    days = 0 if shifts is None else len(shifts.days)
    if shifts is None or days < LEAST_DAYS:
        return Claim(since, day, days, answers, 0.0, -math.inf, math.inf, 0.0, None)
    course = courses((shifts.days - shifts.days[0]).astype(np.float64))
    evidence, pull, information = _by_setting(shifts, course)
    # Changes by now (X,), each as the δ (X, 1, R) of every course that comes to it.
    delta = (_REACH[:, None] / np.maximum(course[-1], 1e-6))[:, None, :]
    null = evidence[:, None] + pull * delta - 0.5 * information * delta**2
    ratio = 0.5 * (pull - information * delta) ** 2 / (information + CHANGE_SD**-2)
    ratio -= 0.5 * np.log1p(CHANGE_SD**2 * information)
    nulls = _log_sum(null)
    log_e = _log_sum(null + ratio) - nulls
    inside = _REACH[log_e < -math.log(ERROR)]
    middle = len(_REACH) // 2
    log_evidence = float(log_e[middle])
    likely = float(_REACH[int(np.argmax(nulls))])
    low, high = (float(inside[0]), float(inside[-1])) if inside.size else (likely, likely)
    told = log_evidence >= -math.log(ERROR)
    direction: Direction | None = None
    if told and low <= high and low * high > 0:
        direction = "finer" if high < 0 else "coarser"
    return Claim(since, day, days, answers, likely, low, high, log_evidence, direction)


def _by_setting(shifts: DayShifts, course: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Per setting of the days, with its prior weight: ln p_c (C,), and q, w (C, R)."""
    evidence, pulls, informations = [], [], []
    J, h = shifts.information, shifts.pull
    along = J @ course
    wanted = np.column_stack([h, along])
    for tied, tied_weight in TIED:
        for spread, weight in SPREADS:
            precision, log_det = tied_precision(shifts.days, spread, tied)
            inner = precision + J
            solved = np.linalg.solve(inner, wanted)
            inner_det = 2.0 * float(np.log(np.diag(np.linalg.cholesky(inner))).sum())
            prior = math.log(tied_weight * weight)
            evidence.append(prior + 0.5 * (h @ solved[:, 0] - inner_det + log_det))
            pulls.append(course.T @ h - along.T @ solved[:, 0])
            informations.append((along * (course - solved[:, 1:])).sum(axis=0))
    return np.array(evidence), np.stack(pulls), np.maximum(np.stack(informations), 1e-9)


def _log_sum(log: FloatArray) -> FloatArray:
    """(X,): the log of the sum of exponentials over the last two axes."""
    top = log.max(axis=(1, 2))
    made: FloatArray = np.log(np.exp(log - top[:, None, None]).sum(axis=(1, 2))) + top
    return made
