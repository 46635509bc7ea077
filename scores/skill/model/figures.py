"""What is told of a learner, as kept beside the model's state and read by the first screen.

No numpy here. Everything is a log10 intensity (greater is coarser; see
``scores.skill.psychometric``) unless said otherwise; an interval holds 90 %.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from drills.basics.json_values import from_json
from scores.skill.model import settings as s
from scores.skill.model.forgetting import faded, next_rest
from scores.skill.psychometric import PROPORTION, scale_of
from scores.skill.skill_threshold import Z_90

VERSION = 2
"""Version of the kept form; figures of another are made again from the state."""
AIM = 0.8
"""Proportion right that a question is asked for. Errors teach most when they are few: for a
wide family of learners the best rate is about 15 % (Wilson, Shenhav, Straccia & Cohen 2019,
Nature Communications 10:4646), and a Weibull function tells most at 0.8 to 0.9 (Watson &
Pelli 1983)."""
_POINTS = (-1.8, -1.2, -0.6, 0.0, 0.6, 1.2, 1.8)
_HEIGHTS = [math.exp(-0.5 * point * point) for point in _POINTS]
_BELL = [(point, height / sum(_HEIGHTS)) for point, height in zip(_POINTS, _HEIGHTS, strict=True)]
"""A normal distribution at seven points: where, in standard deviations, and how much of it."""


class Pooled(NamedTuple):
    """A pooled estimate: mean and standard deviation, log10, and the answers under it."""

    mean: float
    sd: float
    answers: int

    @property
    def low(self) -> float:
        return self.mean - Z_90 * self.sd

    @property
    def high(self) -> float:
        return self.mean + Z_90 * self.sd


class Figure(NamedTuple):
    """One skill: log10 threshold (mean, sd), answers, ordinal of the last day answered (0:
    never), days practised, longest rest (days) after which it was held, what has faded, and
    answers of late (those of ``settings.LATE_DAYS`` ago counting half)."""

    mean: float
    sd: float
    answers: int
    last: int
    days: int
    held: int
    gone: float
    late: float

    @property
    def low(self) -> float:
        return self.mean - Z_90 * self.sd

    @property
    def high(self) -> float:
        return self.mean + Z_90 * self.sd

    @property
    def width(self) -> float:
        """Times that the coarse end of the interval is the fine end."""
        return float(10.0 ** (2.0 * Z_90 * self.sd))


class KindFigure(NamedTuple):
    """A kind: its range and chance, the mean of its skills, and its shapes' weights."""

    steps: tuple[float, float]
    chance: float
    pooled: Pooled
    slope: tuple[float, ...]
    guess: tuple[float, ...]


class LearnerFigures(NamedTuple):
    """Everything told on the practice day ``day`` (an ordinal).

    ``families`` and ``person`` are log10 distances from a newcomer's thresholds.
    ``forgets`` (log10 per unit of ``forgetting.faded``) and ``trend`` (log10 a practice
    day) are means with standard deviations; ``mood`` is the spread of a day, log10.
    """

    day: int
    skills: Mapping[str, Figure]
    kinds: Mapping[str, KindFigure]
    families: Mapping[str, Pooled]
    person: Pooled
    forgets: tuple[float, float]
    trend: tuple[float, float]
    mood: float
    lapse: tuple[float, ...]

    def interval(self, skill: str) -> tuple[float, float, float]:
        """Threshold, finest and coarsest end (90 %), as steps in the kind's unit.

        Raises KeyError for a skill that is not measured.
        """
        figure, kind = self.skills[skill], self.kinds[skill.partition(":")[0]]
        scale = scale_of(kind.steps, kind.chance)
        if scale is None:
            raise KeyError(skill)
        return scale.step(figure.mean), scale.step(figure.low), scale.step(figure.high)

    def level(self, skill: str) -> float:
        """Where a threshold lies between the kind's easiest step (0) and hardest (1)."""
        figure, kind = self.skills[skill], self.kinds[skill.partition(":")[0]]
        scale = scale_of(kind.steps, kind.chance)
        if scale is None:
            raise KeyError(skill)
        return scale.level(figure.mean)

    def expected_right(self, skill: str, step: float) -> float:
        """The proportion expected right at a step, on a day of unknown mood."""
        kind = self.kinds[skill.partition(":")[0]]
        scale = scale_of(kind.steps, kind.chance)
        if scale is None:
            raise KeyError(skill)
        figure = self.skills[skill]
        spread = math.hypot(figure.sd, self.mood)
        return _expected(scale.intensity(step) - figure.mean, spread, kind, self.lapse)

    def step_to_ask(self, skill: str, finest: float | None = None, aim: float = AIM) -> float:
        """The step expected right ``aim`` of the time, lapses apart, within the kind's range.

        ``finest`` is the least step the screen can show. An unsure threshold is asked
        easier. Raises KeyError for a skill that is not measured.
        """
        kind = self.kinds[skill.partition(":")[0]]
        scale = scale_of(kind.steps, kind.chance)
        if scale is None:
            raise KeyError(skill)
        figure = self.skills[skill]
        spread = math.hypot(figure.sd, self.mood)
        hard, easy = scale.intensity(kind.steps[1]), scale.intensity(kind.steps[0])
        low, high = hard, easy
        for _ in range(16):
            middle = 0.5 * (low + high)
            if _expected(middle - figure.mean, spread, kind, ()) < aim:
                low = middle
            else:
                high = middle
        step = kind.steps[1] if high - hard < 1e-4 else scale.step(high)
        if easy - high < 1e-4:
            step = kind.steps[0]
        return min(finest, max(kind.steps)) if finest is not None and step < finest else step

    def later(self, skill: str, day: int) -> Figure:
        """A skill's figure on a later day (an ordinal), near enough without the state.

        More has faded by then, and what was known has grown stale.
        """
        figure = self.skills[skill]
        days = min(day - self.day, s.MOST_DAYS)
        if days <= 0 or not figure.last:
            return figure
        more = faded(day - figure.last) - faded(self.day - figure.last)
        forgets, doubt = self.forgets
        walk = days * (s.SKILL_WALK**2 + s.FAMILY_WALK**2 + s.KIND_WALK**2 + s.PERSON_WALK**2)
        sd = math.sqrt(figure.sd**2 + (more * doubt) ** 2 + walk)
        return figure._replace(
            mean=figure.mean + more * forgets,
            sd=sd,
            gone=figure.gone + more,
            late=figure.late * 0.5 ** (days / s.LATE_DAYS),
        )

    def due_day(self, skill: str) -> int | None:
        """The ordinal of the day when the step held is likely lost; None if never met."""
        figure = self.skills[skill]
        return figure.last + self.due_rest(skill) if figure.last else None

    def due_rest(self, skill: str) -> int:
        """Days of rest after the last answer until the step held is likely lost."""
        figure = self.skills[skill]
        return next_rest(*self.forgets, figure.held, figure.days)

    def as_json(self) -> list[Any]:
        """Plain lists with a version, some 12 kB for 150 skills."""
        return [
            VERSION,
            self.day,
            {name: _rounded(figure) for name, figure in self.skills.items()},
            {
                name: [k.steps, k.chance, _rounded(k.pooled), _rounded(k.slope), _rounded(k.guess)]
                for name, k in self.kinds.items()
            },
            {name: _rounded(pooled) for name, pooled in self.families.items()},
            _rounded(self.person),
            _rounded(self.forgets),
            _rounded(self.trend),
            self.mood,
            _rounded(self.lapse),
        ]


def figures_from_json(value: Any) -> LearnerFigures | None:
    """What ``as_json`` kept; None for another version, or for anything else."""
    try:
        version, *told = value
        return from_json(LearnerFigures, told) if version == VERSION else None
    except (TypeError, ValueError):
        return None


def _rounded(values: Sequence[float]) -> list[float]:
    return [value if isinstance(value, int) else round(value, 5) for value in values]


def _expected(above: float, spread: float, kind: KindFigure, lapses: Sequence[float]) -> float:
    """ψ over N(above, spread²), the slope and guess weighed; without ``lapses``, none."""
    lapse = sum(w * rate for w, (rate, _) in zip(lapses, s.LAPSES, strict=False))
    shapes = _shapes(kind.chance, tuple(kind.slope), tuple(kind.guess))
    missed = 0.0
    for point, bell in _BELL:
        x = above + point * spread
        for slope, k, weight, guess in shapes:
            # As ``psychometric.proportion``, written out: it is asked thousands of times a plan.
            unseen = math.exp(-k * 10.0 ** min(slope * x, 2.5))
            missed += bell * weight * (1.0 - guess - lapse) * unseen
    return 1.0 - lapse - missed


@lru_cache(maxsize=128)
def _shapes(
    chance: float, slopes: tuple[float, ...], guesses: tuple[float, ...]
) -> tuple[tuple[float, float, float, float], ...]:
    """(slope, k, weight, guess) of every shape of a kind; see ``psychometric.proportion``."""
    made = []
    for slope_weight, (slope, _) in zip(slopes, s.SLOPES, strict=True):
        for guess_weight, (more, _) in zip(guesses, s.GUESSES, strict=True):
            guess = min(chance + more * (1.0 - chance), PROPORTION - 0.06)
            k = math.log((1.0 - guess) / (1.0 - PROPORTION))
            made.append((slope, k, slope_weight * guess_weight, guess))
    total = sum(weight for _, _, weight, _ in made)
    return tuple((slope, k, weight / total, guess) for slope, k, weight, guess in made)
