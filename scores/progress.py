"""How the eye has changed: thresholds over time, and what of it is more than noise.

Everything here follows from the history and the day it is looked at; nothing is
read or written. Thresholds are in each drill's own unit, and **smaller is better**
everywhere. How a course is fitted stands in ``scores.progress_fit``, when a change
is called one in ``scores.progress_change``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

import numpy as np

from scores.history import History, IntArray
from scores.offers import KindFacts
from scores.progress_change import DELTAS, SHARE, Change, change_of, judged
from scores.progress_fit import FloatArray, course, scaled, summary, walk
from scores.progress_kind import Ends, KindFit, ends_of, fit_kinds, third
from scores.progress_match import MatchCourse, match_change, match_course
from scores.progress_span import RangeName, Span, span_of
from scores.words import skill_words

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
class Line:
    """The course of one threshold, oldest point first; periods without answers are left out.

    ``name`` is a group, or a skill. Where a group's drills have no unit in common,
    ``unit`` is "× now": the threshold as a multiple of the last third's.
    """

    name: str
    words: str
    unit: str
    points: tuple[Point, ...]
    change: Change
    answers: int


@dataclass(frozen=True)
class Course:
    """All lines of a span, and its matches. ``eye`` is all drills together, "× now".

    None and empty where nothing was answered.
    """

    span: Span
    eye: Line | None
    groups: tuple[Line, ...]
    skills: tuple[Line, ...]
    matches: MatchCourse


def group_of(facts: KindFacts) -> Group:
    """The group a kind of drill belongs to."""
    return GROUP_OF_UNIT.get(facts.unit, "other")


def progress(
    history: History,
    kinds: Mapping[str, KindFacts],
    today: date,
    name: RangeName = "3 months",
    since: date | None = None,
) -> Course:
    """The course of every threshold over a range that ends today.

    ``kinds`` are the drills known (see ``scores.offers``); answers of others are
    passed over.
    """
    ever = history.practice.day
    begun = date.fromordinal(int(ever.min())) if len(ever) else None
    span = span_of(name, today, begun, since)
    fits = fit_kinds(history.practice, kinds, span)
    ends = ends_of(history.practice.between(span.first, span.last))
    matches = match_course(history.matches, span)
    if ends is None:
        return Course(span, None, (), (), matches)
    eye = joint_line(fits, span, ends, "eye", "Your eye: all drills together") if fits else None
    groups = group_lines(fits, span, ends)
    skills = [line for fit in fits for line in _skill_lines(fit, span, ends)]
    matched = match_change(history.matches, span)
    lines = [eye, *groups] if eye else groups
    headlines = [line.change for line in lines] + ([matched] if matched else [])
    told, single = judged(headlines, [line.change for line in skills])
    lines = [replace(line, change=told[i]) for i, line in enumerate(lines)]
    return Course(
        span,
        lines[0] if eye else None,
        tuple(lines[1:] if eye else lines),
        tuple(replace(line, change=single[i]) for i, line in enumerate(skills)),
        replace(matches, change=told[-1]) if matched else matches,
    )


def group_lines(fits: Sequence[KindFit], span: Span, ends: Ends) -> list[Line]:
    """One line for each group that has answers; verdicts are still open."""
    lines = []
    for group, words in GROUP_WORDS.items():
        mine = [fit for fit in fits if group_of(fit.facts) == group]
        if mine:
            units = {fit.facts.unit for fit in mine}
            unit = units.pop() if len(units) == 1 else ""
            lines.append(joint_line(mine, span, ends, group, words, unit))
    return lines


def joint_line(
    fits: Sequence[KindFit], span: Span, ends: Ends, name: str, words: str, unit: str = ""
) -> Line:
    """One course for many kinds: how all their thresholds moved together.

    Its level is the geometric mean of the thresholds met in the last third, so that
    a skill begun half-way does not look like a change.
    """
    day = np.concatenate([fit.day for fit in fits])
    tries = sum((fit.tries.sum(axis=0) for fit in fits), np.zeros(span.periods, dtype=np.int64))
    change = change_of(
        np.sum([fit.change for fit in fits], axis=0), *(third(day, end) for end in ends)
    )
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
    return Line(name, words, unit or "× now", points, change, len(day))


def _skill_lines(fit: KindFit, span: Span, ends: Ends) -> list[Line]:
    mean, low, high = summary(fit.course, fit.grid.logs, SHARE)
    lines = []
    for i, name in enumerate(fit.names):
        day = fit.day[fit.skill == i]
        change = change_of(fit.skill_change[i], *(third(day, end) for end in ends))
        points = _points(span, mean[i], low[i], high[i], fit.tries[i])
        words = skill_words(name, {fit.facts.name: fit.facts.title})
        lines.append(Line(name, words, fit.facts.unit, points, change, len(day)))
    return lines


def _points(
    span: Span, mean: FloatArray, low: FloatArray, high: FloatArray, tries: IntArray
) -> tuple[Point, ...]:
    """The points of a line from log10 thresholds (P,), where there is something to say."""
    if tries.sum() < DRAWN_FROM:
        return ()
    told = np.flatnonzero((tries > 0) & (high - low < np.log10(DRAWN_WITHIN)))
    return tuple(
        Point(
            span.period_end(p), 10 ** float(mean[p]), 10 ** float(low[p]), 10 ** float(high[p]), n
        )
        for p, n in zip(told.tolist(), tries[told].tolist(), strict=True)
    )
