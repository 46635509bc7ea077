"""One line of measure for the reveal: how fine the eye is here, and whether that has changed.

A change is told only when it is larger than its own noise: the two thresholds must
lie ``NOISE`` standard errors apart. The posteriors hold the days between to be less
certain than they mostly are, so that their standard errors are about twice too wide
for a learner who does not change; ``tests/progress/test_measure_line.py`` holds the line to
such learners. One skill answers for itself first; else the kind answers over all
its colours, which takes fewer weeks.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from scores.skill.memory import SkillState
from scores.skill.skill_words import ago_words, region_words
from scores.skill.threshold_kept import Mark, Measured, level_of
from scores.today.why import measure_words

NOISE = 1.8
"""Standard errors by which two thresholds must differ."""
OLDEST, NEWEST, WANTED = 75, 14, 30
"""Days back to look for an earlier threshold: at most, at least, and best."""
KNOWN_ANSWERS, KNOWN_RATIO = 8, 3.5
"""Answers, and greatest ratio of the interval's ends, for a threshold to be told at all."""

KIND_SKILLS = 3
"""Skills of a kind, marked before, from which the kind's own change is told."""
_WORDS = {
    "ΔL*": ("tell values apart", "to"),
    "ΔC*": ("tell bright from dull", "to"),
    "C*ab": ("see a grey's lean", "from"),
    "wheel steps": ("place hues", "to"),
}
"""What is told of a threshold by its unit, and the word before the figure."""


def measure_line(
    state: SkillState, kindred: Sequence[SkillState], title: str, unit: str, today: date
) -> str:
    """The line for one skill, or nothing where too little is known.

    ``kindred`` are the other skills of the kind; ``title`` and ``unit`` are the
    kind's. "You now tell values apart to ΔL* 4 in reds; last month 7." when that is
    beyond noise; "… over all colours; …" when that is only so of the kind; else
    "You tell values apart to ΔL* 4 in reds (3 to 6)."
    """
    known = state.measured
    if known is None or not unit:
        return ""
    where = region_words(state.region)
    own = _change([known], today)
    if own is not None:
        return _changed(title, unit, where, own, known, today)
    every = [known, *(other.measured for other in kindred if other.measured is not None)]
    joint = _change([one for one in every if one.steps == known.steps], today)
    if joint is not None and joint.skills >= KIND_SKILLS:
        return _changed(title, unit, "all colours", joint, known, today)
    wide = 10.0 ** (known.high - known.low) > KNOWN_RATIO
    if wide or known.answers < KNOWN_ANSWERS:
        return ""
    level = level_of(known)
    if level < 0.0:
        # Coarser than every step that is asked: there is no figure to tell.
        return ""
    if level > 1.0:
        return f"{_here(title, unit, where, known.mean, known)}, as fine as it is asked."
    finest, coarsest = (_step(known, log) for log in (known.low, known.high))
    low, high = sorted((finest, coarsest))
    here = _here(title, unit, where, known.mean, known)
    return f"{here} ({measure_words(low, '')} to {measure_words(high, '')})."


class ChangeSince(NamedTuple):
    """A change beyond noise: mean log intensities before and now, from a day on."""

    before: float
    now: float
    since: date
    skills: int


def _change(measured: Sequence[Measured], today: date) -> ChangeSince | None:
    """The mean change over skills that were marked about a month ago, if beyond noise."""
    pairs = [(one, mark) for one in measured if (mark := earlier(one, today)) is not None]
    if not pairs:
        return None
    count = len(pairs)
    before = sum(mark.mean for _, mark in pairs) / count
    now = sum(one.mean for one, _ in pairs) / count
    error = math.sqrt(sum(one.sd**2 + mark.sd**2 for one, mark in pairs)) / count
    if abs(now - before) <= NOISE * error:
        return None
    days = sorted(mark.day for _, mark in pairs)
    return ChangeSince(before, now, days[count // 2], count)


def _changed(
    title: str, unit: str, where: str, change: ChangeSince, scale: Measured, today: date
) -> str:
    now = "now " if change.now < change.before else "now only "
    days = (today - change.since).days
    ago = "last month" if 21 <= days <= 45 else ago_words(change.since, today)
    then = measure_words(_step(scale, change.before), "")
    return f"{_here(title, unit, where, change.now, scale, now)}; {ago} {then}."


def _here(title: str, unit: str, where: str, log: float, scale: Measured, now: str = "") -> str:
    """How fine the eye is, in words; a drill whose unit has no words of its own is named."""
    figure = measure_words(_step(scale, log), unit)
    if unit in _WORDS:
        verb, to = _WORDS[unit]
        return f"You {now}{verb} {to} {figure} in {where}"
    return f"“{title.rstrip('?')}” in {where}: {now}right down to {figure}"


def earlier(measured: Measured, today: date) -> Mark | None:
    """The mark nearest to a month ago, among those neither too new nor too old."""
    fit = [mark for mark in measured.marks if NEWEST <= (today - mark.day).days <= OLDEST]
    return min(fit, key=lambda mark: abs((today - mark.day).days - WANTED), default=None)


def _step(measured: Measured, log: float) -> float:
    """The step of a log intensity, held to the range that can be asked."""
    easiest, hardest = measured.steps
    step = 10.0**log if easiest > hardest else 10.0**-log
    return float(min(max(step, min(measured.steps)), max(measured.steps)))
