"""How the proportion of right answers rises with the step asked: Weibull functions on a grid.

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
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from scores.skill.threshold_kept import range_log

PROPORTION = 0.8
"""Proportion right, lapses apart, at the threshold."""
SLOPES: tuple[tuple[float, float], ...] = ((1.2, 0.3), (2.2, 0.4), (3.8, 0.3))
"""Slopes β with their prior weights. 3.5 is usual for plain detection (Watson & Pelli
1983); here the swatches of one step vary, which makes slopes shallower (our estimate)."""
LAPSES: tuple[tuple[float, float], ...] = ((0.015, 0.65), (0.07, 0.35))
"""Lapse rates δ with their prior weights: a steady learner, a distracted one (our estimate)."""

SPACING = 0.055
"""Wanted distance between thresholds of the grid, in log10 (about 14 %)."""
MOST_BETWEEN = 64
BEYOND_HARDEST, BEYOND_EASIEST = 0.36, 0.30
"""How far the grid runs past the steps that can be asked, in log10: an eye may be
finer, or coarser, than every question."""


@dataclass(frozen=True)
class Scale:
    """A kind's range of steps (easiest, hardest) and its chance, with tables over the grid.

    The grid of log thresholds is even, and both ends of the range lie on it. Make
    one with ``scale_of``.
    """

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

    @cached_property
    def between(self) -> int:
        """Grid intervals between hardest and easiest."""
        return min(max(round(self.range_log / SPACING), 6), MOST_BETWEEN)

    @cached_property
    def spacing(self) -> float:
        """Distance between neighbours of the grid, in log10."""
        return self.range_log / self.between

    @cached_property
    def hardest(self) -> int:
        """The hardest step's place on the grid; ``easiest`` lies ``between`` further on."""
        return math.ceil(BEYOND_HARDEST / self.spacing)

    @cached_property
    def easiest(self) -> int:
        return self.hardest + self.between

    @cached_property
    def size(self) -> int:
        """Thresholds on the grid."""
        return self.easiest + math.ceil(BEYOND_EASIEST / self.spacing) + 1

    @cached_property
    def start(self) -> float:
        """The grid's first (finest) log threshold."""
        return self.intensity(self.steps[1]) - self.hardest * self.spacing

    @cached_property
    def logs(self) -> tuple[float, ...]:
        """The log thresholds θ of the grid, finest first."""
        return tuple(self.start + place * self.spacing for place in range(self.size))

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

    @cached_property
    def blocks(self) -> tuple[tuple[float, float, float], ...]:
        """(slope, lapse, prior weight) of each block of ``size`` cells, in cell order."""
        return tuple((b, d, wb * wd) for b, wb in SLOPES for d, wd in LAPSES)

    @cached_property
    def _rows(self) -> tuple[tuple[tuple[Sequence[float], Sequence[float]], ...], ...]:
        mean_lapse = sum(lapse * weight for lapse, weight in LAPSES)
        tables = []
        for slope, _ in SLOPES:
            # From θ − x = −(size − 1) to size − 1 spacings; a step's row is a slice of it.
            psi = tuple(
                proportion(-d * self.spacing, slope, mean_lapse, self.chance)
                for d in range(1 - self.size, self.size)
            )
            tables.append((psi, tuple(map(entropy, psi))))
        return tuple(
            tuple(
                (psi[first : first + self.size], h[first : first + self.size]) for psi, h in tables
            )
            for first in range(self.size - 1, -1, -1)
        )

    def rows_at(self, place: int) -> tuple[tuple[Sequence[float], Sequence[float]], ...]:
        """Per slope: ψ and its entropy (nats) over the thresholds, for the step at a grid place.

        At the mean lapse rate, which the choice of a step hardly depends on.
        """
        return self._rows[place]


def proportion(above: float, slope: float, lapse: float, chance: float) -> float:
    """ψ at ``above`` log10 units above the threshold (see the module)."""
    k = math.log((1.0 - chance) / (1.0 - PROPORTION))
    # 10 ** 2.5 is far beyond where the exponential is nought.
    return 1.0 - lapse - (1.0 - chance - lapse) * math.exp(-k * 10.0 ** min(slope * above, 2.5))


def entropy(p: float) -> float:
    """Entropy of one answer that is right with proportion ``p``, in nats."""
    return 0.0 if p <= 0.0 or p >= 1.0 else -p * math.log(p) - (1.0 - p) * math.log(1.0 - p)


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


@lru_cache(maxsize=4096)
def likelihood(scale: Scale, step: float) -> tuple[float, ...]:
    """The proportion right at the step really shown, for every cell of the grid."""
    x = scale.intensity(step)
    return tuple(
        proportion(x - log, slope, lapse, scale.chance)
        for slope, lapse, _ in scale.blocks
        for log in scale.logs
    )
