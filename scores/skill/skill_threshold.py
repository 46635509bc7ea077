"""What is known of one skill's threshold on a day, as every screen and plan reads it.

It comes from the one model of the learner (``scores.skill.model``). No numpy here.
"""

from __future__ import annotations

from typing import NamedTuple

from scores.skill.psychometric import range_log, scale_of

Z_90 = 1.6448536269514722
"""Standard deviations to either end of a normal's middle 90 %."""
TOLD_WITHIN = 4.0
"""Greatest ratio of the interval's ends for a threshold to be told as known (our choice)."""


class SkillThreshold(NamedTuple):
    """``mean`` and ``sd`` are of the log10 intensity, greater being coarser.

    ``steps`` and ``chance`` are the kind's. ``answers`` counts all, ``late`` those of late
    (see ``scores.skill.model.settings.LATE_DAYS``).
    """

    steps: tuple[float, float]
    chance: float
    mean: float
    sd: float
    answers: int
    late: float

    @property
    def level(self) -> float:
        """Where it lies between the easiest step (0) and the hardest (1); may lie outside."""
        scale = scale_of(self.steps, self.chance)
        return 0.0 if scale is None else scale.level(self.mean)

    @property
    def level_sd(self) -> float:
        """The standard deviation in levels."""
        return self.sd / range_log(self.steps)

    @property
    def step(self) -> float:
        """The threshold in the kind's unit, held to the steps that can be asked."""
        return self._held(self.mean)

    @property
    def ends(self) -> tuple[float, float]:
        """The ends of the 90 % interval, as steps, the lesser first; held likewise."""
        low, high = (self._held(self.mean + z * self.sd) for z in (-Z_90, Z_90))
        return min(low, high), max(low, high)

    @property
    def beyond(self) -> str:
        """ "finer" or "coarser" where it lies past every step that is asked; else nothing."""
        return "finer" if self.level > 1.0 else "coarser" if self.level < 0.0 else ""

    @property
    def known(self) -> bool:
        """Whether the interval is narrow enough for the figure to be told."""
        return float(10.0 ** (2.0 * Z_90 * self.sd)) <= TOLD_WITHIN

    def _held(self, intensity: float) -> float:
        scale = scale_of(self.steps, self.chance)
        step = self.steps[0] if scale is None else scale.step(intensity)
        return min(max(step, min(self.steps)), max(self.steps))
