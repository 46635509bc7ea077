"""Did it change, or is it noise? The first third of a stretch against its last third.

The change is δ = log10 threshold now − then, below nought being finer. Its
likelihood comes from the answers of the two thirds alone, which share none: every
skill's own threshold is summed out about its kind's mean, and that about nothing,
and so are slope and lapse rate (see ``scores.progress.fit``). Neither third leans
on where a newcomer begins. A group's change is the one δ that its skills share.

**The rule.** The prior of δ is normal about *no change*. Good and bad days shift
every answer of a day together, so the likelihood is blurred by WANDER per practice
day before it is read. A change is called finer (or coarser) only when the
probability of the opposite is small enough for everything looked at together, so
that a learner whose eye does not change is shown no improvement anywhere on the
screen in at least 95 of 100 cases: half of ERROR goes to the headlines, by Holm's
method (1979, Scand. J. Statistics 6:65-70; the eye as a whole weighs as much as
all the others), half to the single skills, by that of
Benjamini & Hochberg (1995, J. R. Statist. Soc. B 57:289-300); coarser is called
with a share COARSER of it. That is for one look; of simulated learners who did not
change, 9 of 60 were shown something at one or another of 24 weekly looks. A third with fewer
than LEAST_ANSWERS or LEAST_DAYS says "too few answers", whatever they were.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from typing import Literal

import numpy as np

from scores.progress.fit import LEAST, SPACING, FloatArray, Grid, scaled, spread, summary

Verdict = Literal["finer", "coarser", "within the noise", "too few answers"]

ERROR = 0.05
"""Probability that anything at all is called finer where nothing is."""
COARSER = 0.2
"""Share of that for calling anything coarser: a false alarm does more harm."""
CHANGE_SD = 0.30
"""Spread of real changes, log10: a factor of two (our estimate)."""
WANDER = 0.06
"""Spread of good and bad days, log10 (15 %; our estimate)."""
LEAST_ANSWERS, LEAST_DAYS = 12, 2
"""In each third."""
SHARE = 0.95
REACH = 25
DELTAS: FloatArray = np.asarray(SPACING * np.arange(-REACH, REACH + 1), dtype=np.float64)
"""The changes looked at, log10, finer first: (D,)."""
_SHIFT = np.arange(-REACH, REACH + 1)
_PRIOR: FloatArray = np.exp(-0.5 * (DELTAS / CHANGE_SD) ** 2)


@dataclass(frozen=True)
class Third:
    """One end of a stretch: its days, both included, and what was answered on them."""

    first: date
    last: date
    answers: int
    days: int

    @property
    def enough(self) -> bool:
        return self.answers >= LEAST_ANSWERS and self.days >= LEAST_DAYS


@dataclass(frozen=True)
class ThresholdChange:
    """How a threshold changed. ``ratio`` is now over then, within ``low`` and ``high`` (95 %).

    ``finer`` is the probability that it is finer now.
    """

    then: Third
    now: Third
    ratio: float
    low: float
    high: float
    finer: float
    verdict: Verdict = "within the noise"

    @property
    def beyond_noise(self) -> bool:
        return self.verdict in ("finer", "coarser")


def kind_evidence(then: FloatArray, now: FloatArray, grid: Grid) -> tuple[FloatArray, FloatArray]:
    """Log likelihoods of δ: the kind's (D,) and each skill's (S, D).

    ``then`` and ``now`` are log likelihoods (C, S, G) of the two thirds, under each
    of C shapes of the Weibull function; the kind's answers say which serves. Beyond
    the grid a likelihood stays what it is at the grid's end.
    """
    place = np.arange(len(grid.logs))[:, None]
    # A skill's place half-way between then and now is what lies about its kind's mean.
    earlier = np.clip(place - _SHIFT // 2, 0, len(grid.logs) - 1)
    later = np.clip(place + (_SHIFT + 1) // 2, 0, len(grid.logs) - 1)
    about = spread(scaled(now.mean(axis=0)), grid)
    kinds, singles = [], []
    for before, after in zip(then, now, strict=True):
        # Set free of the greatest, which differs from shape to shape.
        tops = before.max(axis=1) + after.max(axis=1)
        both = scaled(before)[:, earlier] * scaled(after)[:, later]
        by_mean = np.matmul(about, both)
        joint = np.log(by_mean + LEAST).sum(axis=0)
        kinds.append(_log_sum(joint) + tops.sum())
        means = np.exp(joint - joint.max()) @ _PRIOR
        singles.append(np.einsum("m,smd->sd", means / means.sum(), by_mean))
    kind = _log_sum(np.stack(kinds))
    weights = np.array([_log_sum((one + np.log(_PRIOR))[:, None])[0] for one in kinds])
    weights = np.exp(weights - weights.max())
    mixed = np.tensordot(weights / weights.sum(), np.stack(singles), axes=1)
    return kind, np.log(mixed + LEAST)


def _log_sum(log: FloatArray) -> FloatArray:
    """The log of the sum of exponentials over the first axis."""
    top = log.max(axis=0)
    made: FloatArray = np.log(np.exp(log - top).sum(axis=0)) + top
    return made


def change_of(log: FloatArray, then: Third, now: Third) -> ThresholdChange:
    """The change that a log likelihood of δ (D,) tells of; its verdict is still open."""
    return changes_of(log[None], [(then, now)])[0]


def changes_of(log: FloatArray, ends: Sequence[tuple[Third, Third]]) -> list[ThresholdChange]:
    """The same for many, their log likelihoods in the rows of ``log`` (n, D)."""
    likelihood = np.exp(log - log.max(axis=1, keepdims=True))
    blurred = [
        _blur(max(then.days, 1), max(now.days, 1)) @ row
        for row, (then, now) in zip(likelihood, ends, strict=True)
    ]
    posterior = np.stack(blurred) * _PRIOR + LEAST
    posterior /= posterior.sum(axis=1, keepdims=True)
    three = (10.0 ** np.stack(summary(posterior, DELTAS, SHARE))).T.tolist()
    finer = (posterior[:, :REACH].sum(axis=1) + 0.5 * posterior[:, REACH]).tolist()
    return [
        ThresholdChange(then, now, ratio, low, high, sure)
        for (then, now), (ratio, low, high), sure in zip(ends, three, finer, strict=True)
    ]


@lru_cache(maxsize=1024)
def _blur(then_days: int, now_days: int) -> FloatArray:
    """(D, D): good and bad days, over so many of them at either end; rows sum to 1."""
    sd = WANDER * (1.0 / then_days + 1.0 / now_days) ** 0.5
    bell = np.exp(-0.5 * ((DELTAS[:, None] - DELTAS[None, :]) / sd) ** 2)
    made: FloatArray = bell / bell.sum(axis=1, keepdims=True)
    return made


def holm(chances: Sequence[float], error: float, weights: Sequence[float] = ()) -> list[bool]:
    """Which of the hypotheses with these p-values are refused, by Holm (1979, weighted: §3)."""
    weights = weights or [1.0] * len(chances)
    refused = [False] * len(chances)
    left = sum(weights)
    for place in sorted(range(len(chances)), key=lambda i: chances[i] / weights[i]):
        if chances[place] > error * weights[place] / left:
            break
        refused[place] = True
        left -= weights[place]
    return refused


def benjamini_hochberg(chances: Sequence[float], error: float) -> list[bool]:
    """The same by Benjamini & Hochberg (1995): ``error`` is the share of false ones."""
    order = sorted(range(len(chances)), key=lambda i: chances[i])
    last = -1
    for turn, place in enumerate(order):
        if chances[place] <= error * (turn + 1) / len(chances):
            last = turn
    refused = [False] * len(chances)
    for place in order[: last + 1]:
        refused[place] = True
    return refused


def judged(
    headlines: Sequence[ThresholdChange], skills: Sequence[ThresholdChange], error: float = ERROR
) -> tuple[list[ThresholdChange], list[ThresholdChange]]:
    """The same changes with their verdicts, by the rule of the module.

    The first headline is the whole eye's.
    """
    return (
        _judged(headlines, _headlines, error / 2),
        _judged(skills, benjamini_hochberg, error / 2),
    )


def _headlines(chances: Sequence[float], error: float) -> list[bool]:
    """By Holm, the first weighing as much as all others: it is the question most ask."""
    return holm(chances, error, [max(len(chances) - 1.0, 1.0), *[1.0] * (len(chances) - 1)])


def _judged(
    changes: Sequence[ThresholdChange],
    refuse: Callable[[Sequence[float], float], list[bool]],
    error: float,
) -> list[ThresholdChange]:
    told: list[Verdict] = ["too few answers"] * len(changes)
    asked = [i for i, change in enumerate(changes) if change.then.enough and change.now.enough]
    finer = refuse([1.0 - changes[i].finer for i in asked], error)
    coarser = refuse([changes[i].finer for i in asked], COARSER * error)
    for place, up, down in zip(asked, finer, coarser, strict=True):
        told[place] = "finer" if up else "coarser" if down else "within the noise"
    return [replace(c, verdict=verdict) for c, verdict in zip(changes, told, strict=True)]
