"""What the re-tests say, apart from practice: a better eye, or a better-known deck?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from scores.progress.answers import Answers
from scores.progress.change import ThresholdChange
from scores.progress.kind_course import Ends, fit_kinds
from scores.progress.lines import ProgressLine, group_lines, joint_line
from scores.progress.span import Span
from scores.today.offers import KindFacts

LEAST_RUNS = 4
"""Re-tests from which the first half is laid beside the second."""


@dataclass(frozen=True)
class RetestRun:
    """One re-test: how many questions, and how many right."""

    day: date
    items: int
    right: int


@dataclass(frozen=True)
class RetestCourse:
    """Re-tests of a span. ``eye`` and ``groups`` are as in ``scores.progress.figures.Course``."""

    runs: tuple[RetestRun, ...] = ()
    eye: ProgressLine | None = None
    groups: tuple[ProgressLine, ...] = ()


def retest_course(answers: Answers, kinds: Mapping[str, KindFacts], span: Span) -> RetestCourse:
    """The re-tests of a span; verdicts are still open. Lines want LEAST_RUNS re-tests."""
    mine = answers.between(span.first, span.last)
    days = np.unique(mine.day)
    runs = tuple(
        RetestRun(
            date.fromordinal(int(day)),
            int((mine.day == day).sum()),
            int(mine.right[mine.day == day].sum()),
        )
        for day in days
    )
    if len(days) < LEAST_RUNS:
        return RetestCourse(runs)
    half = len(days) // 2
    first, middle, second, last = (
        date.fromordinal(int(day)) for day in (days[0], days[half - 1], days[-half], days[-1])
    )
    ends: Ends = (first, middle), (second, last)
    fits = fit_kinds(mine, kinds, span, ends)
    if not fits:
        return RetestCourse(runs)
    eye = joint_line(fits, span, "eye", "Re-tests: all together")
    return RetestCourse(runs, eye, tuple(group_lines(fits, span)))


def better_eye_words(practice: ThresholdChange | None, retest: ThresholdChange | None) -> str:
    """What practice and the re-tests say together, in a sentence."""
    if practice is None:
        return ""
    if retest is None or retest.verdict == "too few answers":
        return "There are too few re-tests yet to tell a better eye from better-known drills."
    if practice.verdict == "finer" and retest.verdict == "finer":
        return "The re-tests agree: the eye is better, not only the drills better known."
    if practice.verdict == "finer" and retest.low > practice.ratio:
        return (
            "The re-tests do not show as much: some of it may be knowing the drills"
            " rather than seeing."
        )
    if practice.verdict == "finer":
        return "The re-tests can't tell yet whether the eye or knowing the drills is better."
    if retest.verdict == "finer":
        return "The re-tests show a finer eye, though practice does not yet."
    if retest.verdict == "coarser":
        return "The re-tests went worse than before. A tired eye, or another light, may do that."
    return "The re-tests show no change beyond the noise."
