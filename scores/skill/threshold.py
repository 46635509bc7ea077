"""The threshold of one skill, measured as it is practised: a Bayesian grid posterior.

The posterior runs over log threshold × slope × lapse rate, as in QUEST+ (Watson
2017). Every answer multiplies it by the Weibull likelihood of the step that was
really shown. Between days it widens: a random walk for slow learning and
forgetting, and a small chance of a sudden change, for which a share of the prior
comes back. (Zhao, Lesmes & Lu 2019 fit the time course itself, an exponential; a
learner's days come too unevenly for one curve, so we assume no shape.)

A new skill begins from a population-like prior, drawn towards what the learner's
other skills of the same kind have shown (``kindred``), so that a newcomer is
placed within two sessions. All of it follows from the attempts in their order.
"""

from __future__ import annotations

import math
import sys
from array import array
from base64 import b64decode, b64encode
from collections.abc import Iterable, Sequence
from datetime import date
from functools import lru_cache
from operator import mul

from scores.skill.psychometric import Scale, likelihood, scale_of
from scores.skill.threshold_kept import (
    MARK_ANSWERS,
    MARK_DAYS,
    MARKS_KEPT,
    Mark,
    Measured,
    lately,
    wandered,
)

CREDIBLE = 0.95
"""Probability within ``low`` and ``high``."""
PRIOR_LEVEL, PRIOR_SD = 0.35, 0.30
"""A newcomer's threshold: level between easiest (0) and hardest (1), and its standard
deviation in log10, a factor of two (our estimates)."""
KIND_SD, SKILL_SD = 0.22, 0.16
"""Standard deviations in log10 of a learner's mean threshold in a kind about the
newcomer's, and of one skill about that mean (our estimates)."""
STRAY = 0.03
"""Share of the prior spread evenly over the grid: nobody is ruled out."""
SUDDEN_DAYS = 1000.0
"""Days over which a sudden change (an illness, a class taken) is as likely as not: the
share of the prior that comes back is 1 − exp(−days/this)."""
LEAST = 1e-12
"""Weight added to every cell, the greatest being 1: none is lost for good."""


def prior_of(scale: Scale, kindred: Iterable[Measured] = ()) -> tuple[float, float]:
    """Mean and standard deviation of a skill's log threshold before its first answer.

    ``kindred`` are the learner's other skills of the kind: the kind's mean follows
    from them as in a normal model of two levels (Gelman et al., Bayesian Data
    Analysis, 5.4, with both variances given).
    """
    precision = 1.0 / KIND_SD**2
    total = precision * scale.at_level(PRIOR_LEVEL)
    for other in kindred:
        if other.answers and scale_of(other.steps, other.chance) is not None:
            weight = 1.0 / (SKILL_SD**2 + other.sd**2)
            precision += weight
            total += weight * other.mean
    spread = math.sqrt(SKILL_SD**2 + 1.0 / precision)
    low, high = scale.logs[0], scale.logs[-1]
    return min(max(total / precision, low), high), min(spread, PRIOR_SD)


def fresh(
    steps: tuple[float, float], chance: float, day: date, kindred: Iterable[Measured] = ()
) -> Measured | None:
    """What is known of a skill before its first answer; None where nothing can be measured."""
    scale = scale_of(steps, chance)
    if scale is None:
        return None
    prior = prior_of(scale, kindred)
    return _summed(
        scale, _prior_cells(scale, prior), Measured(steps, chance, day, 0, 0, 0.0, prior, *_NOTHING)
    )


_NOTHING = (0.0, 0.0, 0.0, 0.0, "")


def answered(measured: Measured, step: float, right: bool, day: date) -> Measured:
    """What is known after an answer to the step really shown, on a practice day.

    A day before the last one (a clock put right) counts as no time at all, and time
    goes on from it.
    """
    scale = scale_of(measured.steps, measured.chance)
    if scale is None or not (step > 0 and math.isfinite(step)):
        return measured
    seen = likelihood(scale, step)
    before = cells_on(scale, measured, day)
    if right:
        cells = list(map(mul, before, seen))
    else:
        cells = [weight * (1.0 - p) for weight, p in zip(before, seen, strict=True)]
    return _summed(
        scale,
        cells,
        measured._replace(
            answers=measured.answers + 1,
            since=1 if day > measured.day else measured.since + 1,
            of_late=lately(measured, day) + 1.0,
            day=day,
            marks=measured.marks if day == measured.day else _marks(measured),
        ),
    )


def _marks(measured: Measured) -> tuple[Mark, ...]:
    """The marks so far, with where the threshold stood at the end of its last day."""
    last = measured.marks[-1].day if measured.marks else None
    soon = last is not None and 0 <= (measured.day - last).days < MARK_DAYS
    if measured.answers < MARK_ANSWERS or soon:
        return measured.marks
    mark = Mark(measured.day, measured.mean, measured.sd)
    return (*measured.marks, mark)[-MARKS_KEPT:]


def on_day(measured: Measured, day: date) -> Measured:
    """What is known on a later practice day, before any answer of that day."""
    scale = scale_of(measured.steps, measured.chance)
    if day <= measured.day or scale is None or not measured.answers:
        return measured
    return _summed(scale, cells_on(scale, measured, day), measured._replace(since=0, day=day))


@lru_cache(maxsize=256)
def cells_on(scale: Scale, measured: Measured, day: date) -> Sequence[float]:
    """The posterior on a practice day, widened by the days since; of any sum."""
    cells = cells_of(scale, measured)
    days = (day - measured.day).days
    if days <= 0 or not measured.answers:
        return cells
    variance = wandered(days, measured.since) / scale.spacing**2
    share = 1.0 - math.exp(-days / SUDDEN_DAYS)
    keep = (1.0 - share) / sum(cells)
    prior = _prior_cells(scale, measured.prior)
    mixed: list[float] = []
    for first in range(0, len(cells), scale.size):
        block = _diffused(list(cells[first : first + scale.size]), variance)
        back = prior[first : first + scale.size]
        mixed += [keep * now + share * then for now, then in zip(block, back, strict=True)]
    return mixed


def for_kind(
    measured: Measured | None,
    steps: tuple[float, float],
    chance: float,
    day: date,
    kindred: Iterable[Measured] = (),
) -> Measured | None:
    """What is known, on the scale of the kind as it is now; begun where nothing is.

    A kind whose range or chance has changed keeps the mean and spread it was measured at.
    """
    if measured is None:
        return fresh(steps, chance, day, kindred)
    if (measured.steps, measured.chance) == (steps, chance):
        return measured
    scale = scale_of(steps, chance)
    if scale is None:
        return None
    old = scale_of(measured.steps, measured.chance)
    if old is None or old.sign != scale.sign:
        return fresh(steps, chance, day, kindred)
    cells = _prior_cells(scale, (measured.mean, max(measured.sd, scale.spacing)))
    return _summed(scale, cells, measured._replace(steps=steps, chance=chance, marks=()))


def measured_after(
    measured: Measured | None,
    steps: tuple[float, float],
    chance: float,
    step: float,
    right: bool,
    day: date,
    kindred: Iterable[Measured] = (),
) -> Measured | None:
    """What is known of a skill, new or not, after an answer; None where nothing can be."""
    known = for_kind(measured, steps, chance, day, kindred)
    return None if known is None else answered(known, step, right, day)


def threshold_step(measured: Measured) -> float:
    """The threshold as a step in the kind's unit, held to the range that can be asked.

    Raises ValueError where nothing can be measured.
    """
    scale = scale_of(measured.steps, measured.chance)
    if scale is None:
        raise ValueError("no threshold can be measured on this range")
    step = scale.step(measured.mean)
    return min(max(step, min(measured.steps)), max(measured.steps))


def marginal(measured: Measured) -> tuple[Sequence[float], list[float]]:
    """The grid's log thresholds and their probabilities, slope and lapse rate summed out.

    Raises ValueError where nothing can be measured.
    """
    scale = scale_of(measured.steps, measured.chance)
    if scale is None:
        raise ValueError("no threshold can be measured on this range")
    weights = _marginal(scale, cells_of(scale, measured))
    total = sum(weights)
    return scale.logs, [weight / total for weight in weights]


def _marginal(scale: Scale, cells: Sequence[float]) -> list[float]:
    blocks = [cells[first : first + scale.size] for first in range(0, len(cells), scale.size)]
    return list(map(sum, zip(*blocks, strict=True)))


@lru_cache(maxsize=256)
def _prior_cells(scale: Scale, prior: tuple[float, float]) -> Sequence[float]:
    mean, sd = prior
    bell = [math.exp(-0.5 * ((log - mean) / sd) ** 2) for log in scale.logs]
    total, even = sum(bell), STRAY / scale.size
    row = [(1.0 - STRAY) * weight / total + even for weight in bell]
    return [share * weight for _, _, share in scale.blocks for weight in row]


def _diffused(row: list[float], variance: float) -> list[float]:
    """A row blurred by ``variance`` (in grid spacings squared), nothing lost over its ends."""
    stride = 1
    while variance > 1e-9 and stride < len(row) // 2:
        # Strides that grow keep the blur smooth at any width.
        w = min(1.0 / 3.0, variance / (2.0 * stride * stride))
        variance -= 2.0 * w * stride * stride
        left = [*row[:stride][::-1], *row[:-stride]]
        right = [*row[stride:], *row[-stride:][::-1]]
        stay = 1.0 - 2.0 * w
        row = [
            stay * here + w * (before + after)
            for before, here, after in zip(left, row, right, strict=True)
        ]
        stride += 1
    return row


def cells_of(scale: Scale, measured: Measured) -> Sequence[float]:
    """The kept posterior; the prior in its place where it is nonsense."""
    kept = array("f")
    try:
        kept.frombytes(b64decode(measured.cells, validate=True))
    except ValueError:
        kept = array("f")
    if sys.byteorder == "big":
        kept.byteswap()
    cells = kept.tolist()
    sound = len(cells) == scale.size * len(scale.blocks) and min(cells) >= 0.0
    if not sound or not 0.0 < sum(cells) < math.inf:
        return _prior_cells(scale, measured.prior)
    return cells


def _summed(scale: Scale, cells: Sequence[float], measured: Measured) -> Measured:
    """The posterior packed, with its summary."""
    top = max(cells)
    if not top > 0.0:
        cells, top = _prior_cells(scale, measured.prior), 1.0
        top = max(cells)
    packed = array("f", [weight / top + LEAST for weight in cells])
    weights = _marginal(scale, packed)
    total = sum(weights)
    mean = sum(map(mul, weights, scale.logs)) / total
    square = sum(w * (log - mean) ** 2 for w, log in zip(weights, scale.logs, strict=True))
    if sys.byteorder == "big":
        packed.byteswap()
    return measured._replace(
        mean=mean,
        sd=math.sqrt(square / total),
        low=_quantile(scale, weights, (1.0 - CREDIBLE) / 2.0 * total),
        high=_quantile(scale, weights, (1.0 + CREDIBLE) / 2.0 * total),
        cells=b64encode(packed.tobytes()).decode("ascii"),
    )


def _quantile(scale: Scale, weights: Sequence[float], below: float) -> float:
    """The log threshold under which ``below`` of the weight lies; each weight fills its cell."""
    for log, weight in zip(scale.logs, weights, strict=True):
        if below <= weight:
            return log + (below / weight - 0.5) * scale.spacing
        below -= weight
    return scale.logs[-1]
