"""Thresholds from answers alone: likelihoods on a grid, and their course through time.

What practice goes by (``scores.skill.threshold``) leans on priors, as it must to ask well
from the first answer on. A course drawn through it would show a newcomer with a
good eye as improving while the prior wears off. So here the answers are weighed
anew: the likelihood of each stretch of days on a grid of log thresholds. Courses
are drawn with one slope and lapse rate in the middle of what learners have; a
change is judged with several, and by what the answers say of them. A skill with few
answers leans on the other skills of its kind *now* (a normal model of two levels,
Gelman et al., Bayesian Data Analysis, 5.4), never on where a newcomer begins, and
the past is tied to the present only by a random walk.

Shapes: S skills of one kind, P periods, G grid thresholds (log10 intensity, finest
first).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from scores.progress.answers import Answers, chance_of
from scores.record.trials import PER_LOG10
from scores.skill.psychometric import PROPORTION
from scores.skill.threshold_kept import DAY_SD

FloatArray = NDArray[np.float64]
Shape = tuple[float, float]

MIDDLE: tuple[Shape, ...] = ((2.0, 0.04),)
"""Slope and lapse rate of the Weibull function that courses are drawn with (our estimate)."""
SHAPES: tuple[Shape, ...] = ((1.4, 0.01), (1.4, 0.06), (2.8, 0.01), (2.8, 0.06))
"""Those a change is judged with, all as likely beforehand (our estimate)."""
SPACING = 0.04
"""Distance between grid thresholds, log10 (10 %)."""
BEYOND = 0.40
"""How far the grid runs past the steps that can be asked, log10."""
SKILL_SDS = (0.06, 0.10, 0.15, 0.22, 0.32)
"""Spreads of a learner's skills about their mean in a kind, log10, all as likely
beforehand (our estimate); the answers say which serves."""
LEAST = 1e-30
_ONE_THREAD = 200_000
"""Multiplications that a linear algebra library does in one thread."""


@dataclass(frozen=True)
class Grid:
    """Log thresholds of a kind: its steps run from ``hardest`` to ``easiest`` intensity."""

    hardest: float
    easiest: float

    @cached_property
    def logs(self) -> FloatArray:
        """(G,)"""
        count = round((self.easiest - self.hardest + 2 * BEYOND) / SPACING) + 1
        return np.asarray(self.hardest - BEYOND + SPACING * np.arange(count), dtype=np.float64)

    @cached_property
    def spreads(self) -> FloatArray:
        """(SKILL_SDS, G, G): row μ is the normal density of a skill about its kind's mean μ."""
        distance = (self.logs[:, None] - self.logs[None, :])[None]
        bell = np.exp(-0.5 * (distance / np.array(SKILL_SDS)[:, None, None]) ** 2)
        made: FloatArray = bell / bell.sum(axis=2, keepdims=True)
        return made


@lru_cache(maxsize=64)
def grid_of(hardest: float, easiest: float) -> Grid:
    """The grid of a kind, made once."""
    return Grid(hardest, easiest)


def walk(values: FloatArray, days: float) -> FloatArray:
    """(G, G): how a threshold on evenly spaced values wanders in some days; rows sum to 1."""
    sd = max(DAY_SD * days**0.5, SPACING / 3)
    bell = np.exp(-0.5 * ((values[:, None] - values[None, :]) / sd) ** 2)
    made: FloatArray = bell / bell.sum(axis=1, keepdims=True)
    return made


def proportion_right(above: FloatArray, shape: Shape, chance: float) -> FloatArray:
    """The Weibull function of ``scores.skill.psychometric``, for arrays.

    ``shape`` is (slope, lapse).
    """
    slope, lapse = shape
    k = np.log((1.0 - chance) / (1.0 - PROPORTION))
    power = np.minimum(slope * above, 2.5)
    made: FloatArray = 1.0 - lapse - (1.0 - chance - lapse) * np.exp(-k * 10.0**power)
    return made


def evidence(
    answers: Answers,
    cell: NDArray[np.int64],
    cells: int,
    grid: Grid,
    shapes: tuple[Shape, ...] = MIDDLE,
) -> FloatArray:
    """The log likelihood (shapes, cells, G) of the answers that fall in each cell.

    ``cell`` (n,) names each answer's cell; answers with −1 are left out.
    """
    total = np.zeros((len(shapes), cells, len(grid.logs)))
    for code in np.flatnonzero(np.bincount(answers.chance)):
        mine = (answers.chance == code) & (cell >= 0)
        chance = chance_of(int(code))
        # Guessing alone comes near the proportion at the threshold: nothing to learn.
        if chance > PROPORTION - 0.05 or not mine.any():
            continue
        place, right, where = answers.place[mine], answers.right[mine], cell[mine]
        low = int(place.min())
        width = int(place.max()) - low + 1
        flat = where * (2 * width) + right * width + (place - low)
        counts = np.bincount(flat, minlength=cells * 2 * width).reshape(cells, 2 * width)
        # Few of the steps are met: the product needs those alone.
        met = counts.any(axis=0)
        few = counts[:, met].astype(np.float64)
        above = ((low + np.arange(width)) / PER_LOG10)[:, None] - grid.logs[None, :]
        for number, shape in enumerate(shapes):
            psi = proportion_right(above, shape, chance)
            table = np.concatenate([np.log1p(-psi), np.log(psi)])[met]
            total[number] += _product(few, table)
    return total


def _product(left: FloatArray, right: FloatArray) -> FloatArray:
    """The matrix product, in pieces too small to be spread over threads.

    Handing such short work to other threads costs more than it saves, the more so
    on a busy machine.
    """
    rows = max(1, _ONE_THREAD // max(right.size, 1))
    pieces = [left[first : first + rows] @ right for first in range(0, len(left), rows)]
    made: FloatArray = np.concatenate(pieces)
    return made


def spread(likelihood: FloatArray, grid: Grid) -> FloatArray:
    """How skills lie about their kind's mean (G, G), from their likelihoods (S, G)."""
    about = np.log(np.matmul(likelihood, grid.spreads.transpose(0, 2, 1)) + LEAST).sum(axis=1)
    weights = np.exp(about - about.max()).sum(axis=1)
    made: FloatArray = np.tensordot(weights / weights.sum(), grid.spreads, axes=1)
    return made


def level(likelihood: FloatArray, about: FloatArray) -> FloatArray:
    """What is known (G,) of a kind's mean from its skills' likelihoods (S, G).

    ``about`` (G, G) is how the skills lie about it: ``spread``.
    """
    log = np.log(likelihood @ about.T + LEAST).sum(axis=0)
    weights = np.exp(log - log.max())
    made: FloatArray = weights / weights.sum()
    return made


def known(likelihood: FloatArray, about: FloatArray) -> FloatArray:
    """Each skill's posterior (S, G), leaning on its kind where its own answers are few."""
    posterior = likelihood * (level(likelihood, about) @ about) + LEAST
    made: FloatArray = posterior / posterior.sum(axis=1, keepdims=True)
    return made


def scaled(log: FloatArray) -> FloatArray:
    """Likelihoods of log likelihoods, each row's greatest 1."""
    made: FloatArray = np.exp(log - log.max(axis=-1, keepdims=True))
    return made


def course(likelihood: FloatArray, last: FloatArray, steps: FloatArray) -> FloatArray:
    """The posterior (S, P, G) of a random walk at every period, given all periods.

    ``likelihood`` is (S, P, G) by period, oldest first; ``last`` (S, G) what is
    known of the newest from elsewhere; ``steps`` (G, G) one period's ``walk``. It
    is the forward-backward recursion (Rabiner 1989, Proc. IEEE 77(2), eqs 19-27).
    """
    periods = likelihood.shape[1]
    from_past = np.ones_like(likelihood)
    for p in range(1, periods):
        step = (from_past[:, p - 1] * likelihood[:, p - 1]) @ steps
        from_past[:, p] = step / step.max(axis=1, keepdims=True)
    after = np.empty_like(likelihood)
    after[:, -1] = last
    for p in range(periods - 2, -1, -1):
        step = (after[:, p + 1] * likelihood[:, p + 1]) @ steps.T
        after[:, p] = step / step.max(axis=1, keepdims=True)
    posterior = from_past * likelihood * after + LEAST
    made: FloatArray = posterior / posterior.sum(axis=2, keepdims=True)
    return made


def summary(
    posterior: FloatArray, values: FloatArray, share: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Mean, lower and upper end of the central ``share`` of posteriors (…, G) over ``values``."""
    mean = posterior @ values
    below = np.cumsum(posterior, axis=-1)
    tail = (1.0 - share) / 2.0
    return mean, _quantile(below, values, tail), _quantile(below, values, 1.0 - tail)


def _quantile(below: FloatArray, values: FloatArray, share: float) -> FloatArray:
    """Each weight fills its cell evenly."""
    place = np.minimum((below < share).sum(axis=-1), below.shape[-1] - 1)
    upper = np.take_along_axis(below, place[..., None], -1)[..., 0]
    before = np.take_along_axis(below, np.maximum(place - 1, 0)[..., None], -1)[..., 0]
    lower = np.where(place > 0, before, 0.0)
    inside = np.clip((share - lower) / np.maximum(upper - lower, LEAST), 0.0, 1.0)
    spacing = values[1] - values[0]
    made: FloatArray = values[place] + (inside - 0.5) * spacing
    return made
