"""Which step to ask next: informative, and answered right about four times in five.

As in QUEST+ (Watson 2017), a step is worth the information one answer is expected
to give about threshold, slope and lapse rate: H(ψ̄) − E[H(ψ)]. From that is taken
a penalty on the distance of the expected proportion right from ``AIM``, 0.8,
because the steps are practice before they are measurement:

- errors teach most when they are few: for a wide family of learners the best rate
  is about 15 % (Wilson, Shenhav, Straccia & Cohen 2019, Nature Communications
  10:4646), and mostly-right practice is willingly gone on with;
- little is lost by it: between chance and certainty, the most informative
  proportion of a Weibull function is itself about 0.8 to 0.9 (Watson & Pelli 1983).
"""

from __future__ import annotations

from datetime import date
from operator import mul

from scores.skill.psychometric import LAPSES, Scale, entropy, likelihood, scale_of
from scores.skill.threshold import cells_of, cells_on, fresh
from scores.skill.threshold_kept import Measured

AIM = 0.8
PENALTY = 3.0
"""Nats given up for a squared distance from ``AIM`` (0.1 off costs 0.03; our estimate)."""
NEAR = 0.12
"""Steps expected further from ``AIM`` than this are asked only where no nearer one may be."""


def step_to_ask(measured: Measured, day: date, finest: float | None = None) -> float:
    """The step to ask on a practice day, within the kind's range.

    ``finest`` is the least step the screen can show here, in the kind's unit:
    nothing smaller is asked. Where no threshold can be measured, the easiest step.
    """
    scale = scale_of(measured.steps, measured.chance)
    if scale is None:
        return measured.steps[0]
    cells = cells_on(scale, measured, day)
    total = sum(cells)
    rows = [cells[first : first + scale.size] for first in range(0, len(cells), scale.size)]
    by_slope = [
        [sum(weights) / total for weights in zip(*rows[first : first + len(LAPSES)], strict=True)]
        for first in range(0, len(rows), len(LAPSES))
    ]
    place = _best_place(scale, by_slope)
    step = scale.steps[1] if place == scale.hardest else scale.step(scale.logs[place])
    if place == scale.easiest:
        step = scale.steps[0]
    if finest is not None and step < finest:
        step = min(finest, max(scale.steps))
    return step


def first_step(steps: tuple[float, float], chance: float) -> float:
    """The step at which a skill never met is asked when nothing else is known."""
    began = fresh(steps, chance, date.min)
    return steps[0] if began is None else step_to_ask(began, date.min)


def expected_right(measured: Measured, step: float) -> float:
    """The proportion expected right at a step. Raises ValueError where nothing is measured."""
    scale = scale_of(measured.steps, measured.chance)
    if scale is None:
        raise ValueError("no threshold can be measured on this range")
    cells = cells_of(scale, measured)
    return float(sum(map(mul, cells, likelihood(scale, step))) / sum(cells))


def _best_place(scale: Scale, blocks: list[list[float]]) -> int:
    """The grid place to ask at, among those between hardest and easiest."""

    def expected(place: int) -> float:
        return sum(
            sum(map(mul, block, psi))
            for block, (psi, _) in zip(blocks, scale.rows_at(place), strict=True)
        )

    low, high = scale.hardest, scale.easiest
    # Expected rightness rises with the place: find where it passes AIM.
    while low < high:
        middle = (low + high) // 2
        if expected(middle) < AIM:
            low = middle + 1
        else:
            high = middle
    best, most = low, -1e9
    for direction in (range(low, scale.easiest + 1), range(low - 1, scale.hardest - 1, -1)):
        for place in direction:
            rows = scale.rows_at(place)
            right = unsure = 0.0
            for block, (psi, h) in zip(blocks, rows, strict=True):
                right += sum(map(mul, block, psi))
                unsure += sum(map(mul, block, h))
            if abs(right - AIM) > NEAR and place != low:
                break
            worth = entropy(min(right, 1.0)) - unsure - PENALTY * (right - AIM) ** 2
            if worth > most:
                best, most = place, worth
    return best
