"""How the eye has changed: thresholds over time, and what of it is more than noise.

Everything here follows from the history and the day it is looked at; nothing is
read or written. Thresholds are in each drill's own unit, and **smaller is better**
everywhere. How a course is fitted stands in ``scores.progress.fit``, when a change
is called one in ``scores.progress.change``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from scores.progress.answers import History
from scores.progress.change import judged
from scores.progress.kind_course import ends_of, fit_kinds
from scores.progress.lines import ProgressLine, group_lines, joint_line, skill_lines
from scores.progress.match import MatchCourse, match_change, match_course
from scores.progress.retest_change import RetestCourse, retest_course
from scores.progress.span import RangeName, Span, span_of
from scores.today.offers import KindFacts


@dataclass(frozen=True)
class Course:
    """All lines of a span, its matches and its re-tests.

    ``eye`` is all drills together, in "× now"; None, and the rest empty, where
    nothing was answered. Every change has its verdict.
    """

    span: Span
    eye: ProgressLine | None
    groups: tuple[ProgressLine, ...]
    skills: tuple[ProgressLine, ...]
    matches: MatchCourse
    retest: RetestCourse


def progress(
    history: History,
    kinds: Mapping[str, KindFacts],
    today: date,
    name: RangeName = "3 months",
    since: date | None = None,
) -> Course:
    """The course of every threshold over a range that ends today.

    ``kinds`` are the drills known (see ``scores.today.offers``); answers of others are
    passed over.
    """
    ever = history.practice.day
    begun = date.fromordinal(int(ever.min())) if len(ever) else None
    span = span_of(name, today, begun, since)
    answers = history.practice.between(span.first, span.last)
    ends = ends_of(answers)
    fits = fit_kinds(answers, kinds, span, ends) if ends else []
    retest = retest_course(history.retest, kinds, span)
    matches = match_course(history.matches, span)
    matched = match_change(history.matches, span)
    made = Course(span, None, (), (), matches, retest)
    if ends and fits:
        made = replace(
            made,
            eye=joint_line(fits, span, "eye", "Your eye: all drills together"),
            groups=tuple(group_lines(fits, span)),
            skills=tuple(line for fit in fits for line in skill_lines(fit, span)),
        )
    return _judged(replace(made, matches=replace(matches, change=matched)))


def _judged(course: Course) -> Course:
    """Verdicts for all that the screen shows, so that looking at much misleads no more."""
    eye, retest, matches = course.eye, course.retest, course.matches
    headlines = [line for line in (eye, *course.groups, retest.eye) if line]
    single = (*course.skills, *retest.groups)
    changes = [line.change for line in headlines]
    told, rest = judged(
        [*changes, matches.change] if matches.change else changes, [line.change for line in single]
    )
    lines = {
        id(line): replace(line, change=change)
        for line, change in [*zip(headlines, told, strict=False), *zip(single, rest, strict=True)]
    }
    return Course(
        course.span,
        lines[id(eye)] if eye else None,
        tuple(lines[id(line)] for line in course.groups),
        tuple(lines[id(line)] for line in course.skills),
        replace(matches, change=told[-1]) if matches.change else matches,
        RetestCourse(
            retest.runs,
            lines[id(retest.eye)] if retest.eye else None,
            tuple(lines[id(line)] for line in retest.groups),
        ),
    )
