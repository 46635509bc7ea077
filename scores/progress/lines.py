"""Lines to draw: one for a skill, one for a group of drills, one for the whole eye."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from scores.progress.answers import IntArray
from scores.progress.change import DELTAS, SHARE, ThresholdChange, change_of, changes_of
from scores.progress.fit import FloatArray, course, scaled, summary, walk
from scores.progress.kind_course import KindFit, together
from scores.progress.span import Span
from scores.skill.skill_words import skill_words
from scores.today.offers import KindFacts

Group = Literal["value", "hue", "chroma", "greys", "colour", "other"]
GROUP_OF_UNIT: dict[str, Group] = {
    "ΔL*": "value",
    "wheel steps": "hue",
    "ΔC*": "chroma",
    "C*ab": "greys",
    "ΔE00": "colour",
}
"""What a drill judges, by the unit of its steps; ``colour`` is the whole difference."""
GROUP_WORDS: dict[Group, str] = {
    "value": "Value: light and dark",
    "hue": "Hue: family and lean",
    "chroma": "Chroma: bright and dull",
    "greys": "Greys: which way they lean",
    "colour": "Whole colours: mixing, memory, layers",
    "other": "Other drills",
}
"""The groups in the order they are shown."""
DRAWN_FROM = 8
"""Answers from which a line is drawn at all."""
DRAWN_WITHIN = 10.0
"""A point whose interval spans more than this factor says nothing, and is left out."""
NEWEST_SD = 0.15
"""How far a group's newest period may lie from its last third, log10 (our estimate)."""


@dataclass(frozen=True)
class Point:
    """A threshold over one period: ``low`` to ``high`` holds it with probability 0.95.

    ``day`` is the period's last day and ``answers`` those given in it.
    """

    day: date
    value: float
    low: float
    high: float
    answers: int


@dataclass(frozen=True)
class ProgressLine:
    """The course of one threshold, oldest point first; periods without answers are left out.

    ``name`` is a group, or a skill. Where a group's drills have no unit in common,
    ``unit`` is "× now": the threshold as a multiple of the last third's.
    """

    name: str
    words: str
    unit: str
    points: tuple[Point, ...]
    change: ThresholdChange
    answers: int


def group_of(facts: KindFacts) -> Group:
    """The group a kind of drill belongs to."""
    return GROUP_OF_UNIT.get(facts.unit, "other")


def group_lines(fits: Sequence[KindFit], span: Span) -> list[ProgressLine]:
    """One line for each group that has answers; verdicts are still open."""
    lines = []
    for group, words in GROUP_WORDS.items():
        mine = [fit for fit in fits if group_of(fit.facts) == group]
        if mine:
            units = {fit.facts.unit for fit in mine}
            unit = units.pop() if len(units) == 1 else ""
            lines.append(joint_line(mine, span, group, words, unit))
    return lines


def joint_line(
    fits: Sequence[KindFit], span: Span, name: str, words: str, unit: str = ""
) -> ProgressLine:
    """One course for many kinds: how all their thresholds moved together.

    Its level is the geometric mean of the thresholds met in the last third, so that
    a skill begun half-way does not look like a change.
    """
    tries = sum((fit.tries.sum(axis=0) for fit in fits), np.zeros(span.periods, dtype=np.int64))
    then, now = (together([fit.ends[place] for fit in fits]) for place in (0, 1))
    change = change_of(np.sum([fit.change for fit in fits], axis=0), then, now)
    last = np.exp(-0.5 * (DELTAS / NEWEST_SD) ** 2)[None, :]
    likelihood = scaled(np.sum([fit.period_change for fit in fits], axis=0))[None]
    posterior = course(likelihood, last, walk(DELTAS, span.period_days))[0]
    mean, low, high = summary(posterior, DELTAS, SHARE)
    means = np.concatenate([fit.mean for fit in fits])
    met = ~np.isnan(means)
    at = float(means[met].mean()) if unit and met.any() else 0.0
    sds = np.concatenate([fit.sd for fit in fits])[met]
    unsure = 1.96 * float(np.sqrt((sds**2).sum())) / max(len(sds), 1) if unit else 0.0
    # δ is the last third less the period, so the period lies δ the other way.
    below = at - mean - np.sqrt((high - mean) ** 2 + unsure**2)
    above = at - mean + np.sqrt((mean - low) ** 2 + unsure**2)
    points = _points(span, at - mean, below, above, tries)
    return ProgressLine(name, words, unit or "× now", points, change, int(tries.sum()))


def skill_lines(fit: KindFit, span: Span) -> list[ProgressLine]:
    mean, low, high = summary(fit.course, fit.grid.logs, SHARE)
    then, now = ([end.of_skill(i) for i in range(len(fit.names))] for end in fit.ends)
    changes = changes_of(fit.skill_change, list(zip(then, now, strict=True)))
    lines = []
    for i, (name, change) in enumerate(zip(fit.names, changes, strict=True)):
        points = _points(span, mean[i], low[i], high[i], fit.tries[i])
        words = skill_words(name, {fit.facts.name: fit.facts.title})
        lines.append(
            ProgressLine(name, words, fit.facts.unit, points, change, int(fit.tries[i].sum()))
        )
    return lines


def _points(
    span: Span, mean: FloatArray, low: FloatArray, high: FloatArray, tries: IntArray
) -> tuple[Point, ...]:
    """The points of a line from log10 thresholds (P,), where there is something to say."""
    if tries.sum() < DRAWN_FROM:
        return ()
    told = np.flatnonzero((tries > 0) & (high - low < np.log10(DRAWN_WITHIN)))
    ends = span.ends
    days = [ends[p] for p in told.tolist()]
    at = (10.0 ** np.stack([mean, low, high])[:, told]).T.tolist()
    return tuple(
        Point(day, value, least, most, n)
        for day, (value, least, most), n in zip(days, at, tries[told].tolist(), strict=True)
    )
