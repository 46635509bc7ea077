"""How the eye has gone: thresholds over weeks, and whether a change is known.

Thresholds are the learner's model's, in each drill's own unit, and **smaller is better**.
Whether the eye has changed is said of the whole eye alone (``scores.progress.claim``): a
single kind or skill can't be judged so soon.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from scores.learner.eye import EyeModel
from scores.progress.answers import Answers, History
from scores.progress.claim import Claim, claim
from scores.progress.lines import ProgressLine, eye_line, kind_lines
from scores.progress.match import MatchCourse, match_course
from scores.progress.span import RangeName, Span, span_of
from scores.progress.then_now import ThenNow, then_and_now
from scores.today.offers import KindFacts


@dataclass(frozen=True)
class RetestRun:
    """One re-test: how many questions, and how many right."""

    day: date
    items: int
    right: int


@dataclass(frozen=True)
class Course:
    """Lines of a span, its matches and re-tests, and what is known of a change.

    ``eye`` and ``change`` are None, and ``kinds`` empty, where nothing was measured.
    ``change`` is over all answers of the last year, whatever the span.
    """

    span: Span
    eye: ProgressLine | None
    kinds: tuple[ProgressLine, ...]
    change: Claim | None
    matches: MatchCourse
    retests: tuple[RetestRun, ...]
    then_now: tuple[ThenNow, ...] = ()
    """The known change in each drill's unit; none while no change is told."""


def progress(
    history: History,
    eye: EyeModel,
    kinds: Mapping[str, KindFacts],
    today: date,
    name: RangeName = "3 months",
    since: date | None = None,
) -> Course:
    """The course of the eye over a range that ends today.

    ``kinds`` are the drills known (see ``scores.today.offers``); ``eye`` the model after
    all answers of ``history``.
    """
    ever = history.practice.day
    begun = date.fromordinal(int(ever.min())) if len(ever) else None
    span = span_of(name, today, begun, since)
    matches = match_course(history.matches, span)
    retests = _runs(history.retest.between(span.first, span.last))
    figures = eye.figures(today.toordinal())
    if figures is None or eye.followed is None or not figures.person.answers:
        return Course(span, None, (), None, matches, retests)
    marks = eye.followed.marks
    change = claim(history.practice, eye.followed.learner.layout, today.toordinal())
    return Course(
        span,
        eye_line(marks, figures, span),
        tuple(kind_lines(marks, figures, kinds, span)),
        change,
        matches,
        retests,
        then_and_now(change, figures, kinds),
    )


def _runs(answers: Answers) -> tuple[RetestRun, ...]:
    return tuple(
        RetestRun(
            date.fromordinal(int(day)),
            int((answers.day == day).sum()),
            int(answers.right[answers.day == day].sum()),
        )
        for day in np.unique(answers.day)
    )
