"""Where a step lies between a kind's easiest and hardest, on one scale for every unit.

Steps are compared as ratios (on a log scale), or as differences where a range
touches nought.
"""

from __future__ import annotations

import math

START = 0.3
"""Where a skill is asked that can't be measured: the share of the way from easiest to hardest."""


def level(steps: tuple[float, float], step: float) -> float:
    """Where a step lies between easiest (0) and hardest (1); 0 for what is no number.

    Of finite ranges, whatever their size: ratios and differences that a float can't
    hold are never formed.
    """
    easiest, hardest = steps
    if easiest == hardest:
        return 0.0
    if easiest > 0 and hardest > 0:
        if step <= 0:
            return 1.0 if hardest < easiest else 0.0
        easiest, hardest, step = math.log(easiest), math.log(hardest), math.log(step)
        if easiest == hardest:  # neighbours among the floats
            return 0.0
    elif math.isinf(hardest - easiest):
        easiest, hardest, step = easiest / 4, hardest / 4, step / 4
    share = (step - easiest) / (hardest - easiest)
    # What is no number is greater than nothing.
    return 1.0 if share >= 1.0 else share if share > 0.0 else 0.0


def step_at(steps: tuple[float, float], share: float) -> float:
    """The step at a level between 0 (easiest) and 1 (hardest)."""
    easiest, hardest = steps
    share = min(1.0, max(0.0, share))
    if share == 0.0 or easiest == hardest:
        return easiest
    if share == 1.0:
        return hardest
    if min(steps) > 0:
        step = easiest ** (1.0 - share) * hardest**share
    else:
        step = easiest * (1.0 - share) + hardest * share
    return float(min(max(step, min(steps)), max(steps)))
