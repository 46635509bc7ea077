"""Lines to draw: the whole eye and each kind of drill over weeks, from the model's marks."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from scores.learner.state_file import Mark
from scores.progress.span import Span
from scores.skill.model.figures import LearnerFigures, Pooled
from scores.skill.psychometric import scale_of
from scores.today.offers import KindFacts

DRAWN_FROM = 8
"""Answers from which a line is drawn at all."""


@dataclass(frozen=True)
class Point:
    """A threshold at the end of a day: ``low`` to ``high`` holds it with probability 0.9."""

    day: date
    value: float
    low: float
    high: float


@dataclass(frozen=True)
class ProgressLine:
    """The course of one threshold, oldest point first, the last one today's.

    ``name`` is a kind, or "eye". ``unit`` is the kind's, or "× now": the threshold as a
    multiple of today's.
    """

    name: str
    words: str
    unit: str
    points: tuple[Point, ...]


def eye_line(marks: Sequence[Mark], now: LearnerFigures, span: Span) -> ProgressLine:
    """All drills together, as multiples of today's threshold."""
    here = now.person.mean
    points = _points(
        [(mark.day, mark.person) for mark in marks],
        (now.day, now.person),
        span,
        lambda log: float(10.0 ** (log - here)),
    )
    return ProgressLine("eye", "Your eye: all drills together", "× now", points)


def kind_lines(
    marks: Sequence[Mark], now: LearnerFigures, kinds: Mapping[str, KindFacts], span: Span
) -> list[ProgressLine]:
    """A line for each kind answered: the mean of its skills, in its unit."""
    lines = []
    for name, kind in now.kinds.items():
        scale = scale_of(kind.steps, kind.chance)
        facts = kinds.get(name)
        if scale is None or facts is None or not kind.pooled.answers:
            continue
        before = [(mark.day, mark.kinds[name]) for mark in marks if name in mark.kinds]
        points = _points(before, (now.day, kind.pooled), span, scale.step)
        lines.append(ProgressLine(name, facts.title, facts.unit, points))
    return lines


def _points(
    before: Sequence[tuple[int, Pooled]],
    now: tuple[int, Pooled],
    span: Span,
    step: Callable[[float], float],
) -> tuple[Point, ...]:
    """One point a period, the latest mark in it; today's in the last one."""
    first, last = span.first.toordinal(), span.last.toordinal()
    latest: dict[int, tuple[int, Pooled]] = {}
    for day, pooled in (*before, now):
        if first <= day <= last and pooled.answers >= DRAWN_FROM:
            latest[(last - day) // span.period_days] = (day, pooled)
    made = []
    for _, (day, pooled) in sorted(latest.items(), reverse=True):
        low, high = sorted((step(pooled.low), step(pooled.high)))
        made.append(Point(date.fromordinal(day), step(pooled.mean), low, high))
    return tuple(made)
