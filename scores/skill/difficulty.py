"""Where a step lies between a kind's easiest and hardest, on one scale for every unit.

Steps are compared as ratios (on a log scale), or as differences where a range
touches nought.
"""

from __future__ import annotations

import math

START = 0.3
"""Where a skill is asked that can't be measured: the share of the way from easiest to hardest."""


def level(steps: tuple[float, float], step: float) -> float:
    """Where a step lies between easiest (0) and hardest (1)."""
    easiest, hardest = steps
    if easiest == hardest:
        return 0.0
    if min(steps) > 0:
        if step <= 0:
            return 1.0 if hardest < easiest else 0.0
        # Logarithms first: a quotient of numbers far apart is rounded to nought.
        share = (math.log(step) - math.log(easiest)) / (math.log(hardest) - math.log(easiest))
    else:
        share = (step - easiest) / (hardest - easiest)
    return min(1.0, max(0.0, share))


def step_at(steps: tuple[float, float], share: float) -> float:
    """The step at a level between 0 (easiest) and 1 (hardest)."""
    easiest, hardest = steps
    share = min(1.0, max(0.0, share))
    if share == 0.0 or easiest == hardest:
        return easiest
    if share == 1.0:
        return hardest
    if min(steps) > 0:
        return float(easiest * (hardest / easiest) ** share)
    return easiest + (hardest - easiest) * share
