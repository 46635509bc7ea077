"""How the proportion of right answers rises with the step asked: Weibull functions.

Watson (2017, "QUEST+", Journal of Vision 17(3):10) writes the Weibull function of a
log intensity x as

    ψ(x) = 1 − δ − (1 − γ − δ) · exp(−10^(β (x − α)))

with guess rate γ (a kind's ``chance``), lapse rate δ, slope β and location α; x
and α are in log10 units here (Watson's decibels divided by 20).

Our **threshold** is not α but the step at which an eye that does not lapse is
right ``PROPORTION`` of the time, 0.8: one number that means the same for every
number of choices, lies where questions are asked, and so hardly depends on the
slope. With θ its logarithm, α = θ − log10(k)/β where k = ln((1 − γ)/(1 − 0.8)).

Intensity grows as questions get easier: x = log10(step) where large steps are
easy, and −log10(step) where small ones are. Everything is pure Python, since the
first screen reads thresholds and must not load numpy.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

PROPORTION = 0.8
"""Proportion right, lapses apart, at the threshold."""


def range_log(steps: tuple[float, float]) -> float:
    """How far a kind's easiest step lies from its hardest, in log10."""
    return abs(math.log10(steps[0]) - math.log10(steps[1]))


@dataclass(frozen=True)
class Scale:
    """A kind's range of steps (easiest, hardest) and its chance. Make one with ``scale_of``."""

    steps: tuple[float, float]
    chance: float

    @cached_property
    def sign(self) -> float:
        """+1 where large steps are easy, −1 where small ones are."""
        return 1.0 if self.steps[0] > self.steps[1] else -1.0

    @cached_property
    def range_log(self) -> float:
        """Distance between easiest and hardest, in log10."""
        return range_log(self.steps)

    def intensity(self, step: float) -> float:
        """The log intensity x of a step above nought: greater is easier."""
        return self.sign * math.log10(step)

    def step(self, intensity: float) -> float:
        """The step of a log intensity; the nearest a float can hold."""
        return float(10.0 ** min(max(self.sign * intensity, -323.0), 308.0))

    def level(self, intensity: float) -> float:
        """Where a log intensity lies between easiest (0) and hardest (1); may lie outside."""
        return (self.intensity(self.steps[0]) - intensity) / self.range_log

    def at_level(self, level: float) -> float:
        """The log intensity of a level."""
        return self.intensity(self.steps[0]) - level * self.range_log


def proportion(above: float, slope: float, lapse: float, chance: float) -> float:
    """ψ at ``above`` log10 units above the threshold (see the module)."""
    k = math.log((1.0 - chance) / (1.0 - PROPORTION))
    # 10 ** 2.5 is far beyond where the exponential is nought.
    return 1.0 - lapse - (1.0 - chance - lapse) * math.exp(-k * 10.0 ** min(slope * above, 2.5))


@lru_cache(maxsize=256)
def scale_of(steps: tuple[float, float], chance: float) -> Scale | None:
    """The scale of a kind, or None where no threshold can be measured.

    That is so where the range has no width or touches nought, or guessing alone
    is right ``PROPORTION`` of the time.
    """
    easiest, hardest = steps
    fit = min(steps) > 0 and math.isfinite(easiest) and math.isfinite(hardest)
    if not fit or not 0.0 <= chance <= PROPORTION - 0.05:
        return None
    if range_log(steps) < 0.05:
        return None
    return Scale((float(easiest), float(hardest)), float(chance))
