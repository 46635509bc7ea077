"""Every constant of the learner's model, and the five settings that run side by side.

All standard deviations are in log10 of a threshold unless said otherwise, and all are
our estimates. "Levels" run from a kind's easiest step (0) to its hardest (1).
"""

from __future__ import annotations

from typing import NamedTuple

PRIOR_LEVEL = 0.35
"""A newcomer's threshold, in levels."""
PERSON_LEVEL_SD = 0.26
"""Spread between persons, in levels: half the world lies between 0.17 and 0.53."""
PERSON_SD, KIND_SD, FAMILY_SD, SKILL_SD = 0.10, 0.16, 0.07, 0.10
"""Spreads of the person's shift in log10, of a kind about the person, of a family about
that, and of one skill about all three."""

PERSON_WALK, KIND_WALK, FAMILY_WALK, SKILL_WALK = 0.006, 0.004, 0.003, 0.009
"""How far each wanders in one day."""
MOST_DAYS = 400
"""A longer pause widens no further."""
LATE_DAYS = 60
"""Days after which an answer counts half as practice of late (our estimate)."""
ZONE_SLACK_DAYS = 2
"""Days a clock may seem to go back (as in ``scores.skill.memory``)."""
BACK_DAYS = 1500.0
"""Days over which what is known falls back to what a newcomer's would be, by 1/e."""

PERSON_TREND, KIND_TREND = 0.0035, 0.0020
"""Spreads of the trends, log10 a practice day: ×1.6 in eight weeks is 0.0035."""
PERSON_TREND_MEAN = -0.0010
"""A learner is expected to get finer, a little."""
TREND_DAYS = 35.0
"""Days over which a trend wears off, by 1/e."""
TREND_REACH = 3
"""Days without practice over which a trend still runs: practice is what teaches."""

FORGET_MEAN, FORGET_SD = 0.025, 0.025
"""What a person forgets, log10 of threshold per unit of ``forgetting.faded``."""

SLOPES: tuple[tuple[float, float], ...] = ((1.3, 0.3), (2.2, 0.4), (3.8, 0.3))
LAPSES: tuple[tuple[float, float], ...] = ((0.01, 0.5), (0.045, 0.35), (0.10, 0.15))
GUESSES: tuple[tuple[float, float], ...] = ((0.0, 0.8), (0.12, 0.2))
"""Shapes of the Weibull function with their prior weights: slope (of the kind), lapse
rate (of the person), and share of what chance leaves that is right without seeing (of the
kind: a habit, an elimination)."""
SHAPE_MEMORY = 0.998
"""Power to which shape weights are raised at each answer: shapes may change."""
NODES = 21
"""Gauss-Hermite nodes along the one direction an answer tells of."""


class DriftSetting(NamedTuple):
    """How days and drift are thought to go: one of five.

    ``mood`` is the spread of good and bad days in log10, ``tied`` how far a day is like
    the one before (a correlation), ``drift`` times the walks and trends above.
    """

    mood: float
    tied: float
    drift: float


SETTINGS: tuple[DriftSetting, ...] = (
    DriftSetting(0.025, 0.0, 1.0),
    DriftSetting(0.07, 0.1, 1.0),
    DriftSetting(0.08, 0.8, 1.0),
    DriftSetting(0.12, 0.5, 1.0),
    DriftSetting(0.06, 0.4, 2.0),
)
SETTING_MEMORY = 0.999
"""Power to which the settings' weights are raised at each answer."""
