"""What is known of one skill's threshold: kept with the skill, read by the first screen.

Only the figures are here; ``scores.skill.threshold`` works them out.
"""

from __future__ import annotations

import json
import math
from datetime import date
from typing import Any, NamedTuple

VERSION = 1
"""Version of the kept form; a record with another is measured again from its attempts."""

DAY_SD = 0.03
"""Standard deviation, in log10, by which a threshold wanders over one day of rest or
practice (about 7 %; our estimate): learning and forgetting both widen what is known."""
TRY_SD = 0.02
"""The same for each answer since the last day counted: practice is what teaches."""
MOST_DAYS = 400
"""A longer pause widens no further."""


MARK_DAYS, MARKS_KEPT = 7, 16
"""A mark of where the threshold stood is made at most this often (days); how many are kept."""
MARK_ANSWERS = 8
"""Answers from which a threshold is worth marking."""


LATE_DAYS = 60
"""Days after which an answer counts half as practice of late (our estimate)."""


class Mark(NamedTuple):
    """Where a threshold stood at the end of a day: mean and standard deviation, log10."""

    day: date
    mean: float
    sd: float


class Measured(NamedTuple):
    """The posterior of one skill's log threshold, and its summary.

    ``steps`` and ``chance`` are the kind's (see ``scores.skill.psychometric``). ``day`` is
    the practice day of the last answer; ``answers`` counts all, ``since`` those of
    that day, and ``of_late`` all with those of ``LATE_DAYS`` ago counting half.
    ``prior`` is the (mean, standard deviation) it began from. ``mean``, ``sd``,
    ``low`` and ``high`` (95 % credible) are log10 intensities, greater being
    coarser. ``cells`` is the posterior: 32-bit floats, little-endian, in base64.
    ``marks`` are where the threshold stood before, oldest first.
    """

    steps: tuple[float, float]
    chance: float
    day: date
    answers: int
    since: int
    of_late: float
    prior: tuple[float, float]
    mean: float
    sd: float
    low: float
    high: float
    cells: str
    marks: tuple[Mark, ...] = ()

    def as_json(self) -> str:
        """Compact JSON with its version."""
        return json.dumps(
            [
                VERSION,
                *self[:2],
                self.day.isoformat(),
                *self[3:-1],
                [[mark.day.isoformat(), mark.mean, mark.sd] for mark in self.marks],
            ],
            separators=(",", ":"),
        )


def measured_from_json(text: str | None) -> Measured | None:
    """What ``as_json`` kept; None for another version, or for anything else.

    The cells are not looked into here: ``scores.skill.threshold`` begins again when they
    are nonsense.
    """
    if not text:
        return None
    try:
        version, steps, chance, day, answers, since, late, prior, *rest = json.loads(text)
        if version != VERSION:
            return None
        mean, sd, low, high, cells, marks = rest
        return Measured(
            (float(steps[0]), float(steps[1])),
            float(chance),
            date.fromisoformat(day),
            int(answers),
            int(since),
            float(late),
            (float(prior[0]), float(prior[1])),
            float(mean),
            float(sd),
            float(low),
            float(high),
            _text(cells),
            tuple(Mark(date.fromisoformat(on), float(at), float(by)) for on, at, by in marks),
        )
    except (ValueError, TypeError, IndexError, KeyError):
        return None


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError("cells are text")
    return value


def wandered(days: int, answers: int) -> float:
    """Variance, in log10², that a threshold gains over ``days`` after ``answers``."""
    if days <= 0:
        return 0.0
    return DAY_SD**2 * min(days, MOST_DAYS) + TRY_SD**2 * min(answers, 25)


def spread_on(measured: Measured, day: date) -> float:
    """The standard deviation in log10 on a later day: what is known grows stale."""
    widened = measured.sd**2 + wandered((day - measured.day).days, measured.since)
    return float(min(widened**0.5, max(measured.prior[1], measured.sd)))


def lately(measured: Measured, day: date) -> float:
    """Answers of late, on a practice day."""
    return float(measured.of_late * 0.5 ** (max(0, (day - measured.day).days) / LATE_DAYS))


def range_log(steps: tuple[float, float]) -> float:
    """How far a kind's easiest step lies from its hardest, in log10."""
    return abs(math.log10(steps[0]) - math.log10(steps[1]))


def level_of(measured: Measured) -> float:
    """Where the threshold lies between the easiest step (0) and the hardest (1).

    Below 0 it is coarser than every step that can be asked, above 1 finer.
    """
    easiest, hardest = measured.steps
    start = math.log10(easiest) if easiest > hardest else -math.log10(easiest)
    return (start - measured.mean) / range_log(measured.steps)
