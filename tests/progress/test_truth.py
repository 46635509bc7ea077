"""The figures held against learners whose truth is known (``tests.bench.true_learners``).

Many of their slopes, lapses, talents and moods lie off what the fit takes for usual.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from functools import cache

import numpy as np
import pytest

from scores.progress.answers import Answers, History, Matches
from scores.progress.figures import progress
from scores.progress.span import RangeName
from tests.bench.true_learners import (
    BEGAN,
    FACTS,
    KINDS,
    Truth,
    by_staircase,
    by_the_coach,
    lines_of,
    shown,
)

LEARNERS = 100
APART: tuple[RangeName, ...] = ("2 weeks", "all")
LONGER: tuple[RangeName, ...] = ("3 months", "year")
"""Of sixty days, "3 months" and "year" have the thirds that "all" has, and so its verdicts."""


@cache
def practised(seed: int, talent: float | None = None, gain: float = 0.0) -> tuple[Truth, History]:
    truth = Truth(seed, talent=talent, gain=gain)
    return truth, by_staircase(truth)


@cache
def claims(seed: int, talent: float | None = None, gain: float = 0.0) -> dict[str, set[str]]:
    """Everything called finer or coarser: any drill, group or skill, in any range."""
    truth, history = practised(seed, talent, gain)
    return shown(history, truth.last_day, APART)


def improving(learners: int, talent: float | None = None, gain: float = 0.0) -> int:
    return sum(bool(claims(seed, talent, gain)["finer"]) for seed in range(learners))


def test_ranges_with_the_same_thirds_say_the_same() -> None:
    truth, history = practised(0)
    courses = [progress(history, FACTS, truth.last_day, name) for name in APART[1:] + LONGER]
    assert len({tuple(line.change for line in lines_of(course)) for course in courses}) == 1


def test_of_a_hundred_learners_who_do_not_improve_at_most_five_are_shown_improving() -> None:
    assert improving(LEARNERS) <= 5


def test_nor_are_newcomers_with_a_good_eye_while_their_first_questions_are_too_easy() -> None:
    """Here a curve through the practice estimates would fall for weeks."""
    assert improving(LEARNERS, talent=0.75) <= 5


def test_few_are_called_coarser_without_being_so() -> None:
    for talent in (None, 0.75):
        assert sum(bool(claims(seed, talent, 0.0)["coarser"]) for seed in range(LEARNERS)) <= 5


def test_most_who_improve_by_two_fifths_in_two_months_are_shown_it() -> None:
    """Thresholds fall to 0.58 of themselves (0.24 log10: from ΔL* 7 to 4) over 1,500 answers."""
    assert improving(20, talent=0.35, gain=0.24) >= 16


def test_the_size_of_a_change_is_right() -> None:
    """What is between the middles of the two thirds: two thirds of the whole."""
    found = []
    for seed in range(20):
        truth, history = practised(seed, 0.35, 0.24)
        eye = progress(history, FACTS, truth.last_day, "all").eye
        assert eye is not None
        found.append(math.log10(eye.change.ratio))
    # Drawn in a little by the prior of no change.
    assert -0.24 * 2 / 3 - 0.03 < sum(found) / len(found) < -0.24 * 2 / 3 + 0.06


def test_intervals_of_single_skills_hold_the_truth_about_as_often_as_they_say() -> None:
    held = told = 0
    for seed in range(30):
        truth, history = practised(seed)
        for line in progress(history, FACTS, truth.last_day, "3 months").skills:
            if line.points:
                point = line.points[-1]
                told += 1
                held += point.low <= 10 ** truth.log(line.name, truth.days - 1) <= point.high
    assert told > 600
    assert 0.90 <= held / told <= 0.995


def test_a_group_stands_where_its_skills_do() -> None:
    """The geometric mean of the true thresholds of its skills, of one unit."""
    held = told = 0
    for seed in range(30):
        truth, history = practised(seed)
        for line in progress(history, FACTS, truth.last_day, "3 months").groups:
            mine = [
                truth.log(skill, truth.days - 1)
                for skill in truth.skills
                if KINDS[skill.partition(":")[0]][2] == line.unit
            ]
            told += 1
            point = line.points[-1]
            held += point.low <= 10 ** (sum(mine) / len(mine)) <= point.high
    assert held / told >= 0.85


def test_drills_begun_half_way_are_no_change_of_their_group() -> None:
    """These begin half-way, five times as coarse as the other drill of hue: no step for that."""
    moved = []
    for seed in range(8):
        truth = Truth(seed, days=60, a_day=30, talent=0.4)
        history = by_staircase(truth)
        late = np.array([name.startswith("nearest-start") for name in truth.skills])
        answers = history.practice
        begun = answers.day.min() + 30
        cut = replace(history, practice=answers.pick(~late[answers.skill] | (answers.day >= begun)))
        lines = progress(cut, FACTS, truth.last_day, "all").groups
        (hue,) = [line for line in lines if line.name == "hue"]
        assert not hue.change.beyond_noise
        moved.append(math.log10(hue.points[-1].value / hue.points[0].value))
    assert abs(sum(moved) / len(moved)) < 0.06


def test_few_answers_are_not_over_read() -> None:
    """A handful on each of a few days: no claim of any kind, and no line of a single skill."""
    truth = Truth(5, days=4, a_day=5, talent=0.5)
    history = by_staircase(truth)
    course = progress(history, FACTS, truth.last_day, "2 weeks")
    assert all(not line.change.beyond_noise for line in lines_of(course))
    assert not any(line.points for line in course.skills)


def test_a_thin_day_has_a_wider_interval_than_a_full_one() -> None:
    truth = Truth(6, days=14, a_day=40, talent=0.5)
    history = by_staircase(truth)
    answers = history.practice
    thin = truth.last_day - timedelta(days=6)
    mine = answers.day == thin.toordinal()
    keep = ~mine | (np.cumsum(mine) <= 2)
    width = []
    for practice in (answers, answers.pick(keep)):
        course = progress(replace(history, practice=practice), FACTS, truth.last_day, "2 weeks")
        for line in lines_of(course):
            width += [p.high / p.low for p in line.points if p.day == thin and line is course.eye]
    full, cut = width
    assert cut > 1.005 * full


def test_every_range_of_a_learner_asked_by_the_coach_itself() -> None:
    """The staircase stands in for the coach's own choice of steps; here is the real one."""
    truth = Truth(11, days=21, a_day=20, talent=0.6)
    history = by_the_coach(truth)
    assert shown(history, truth.last_day) == {"finer": set(), "coarser": set()}


@pytest.mark.parametrize("name", ["2 weeks", "3 months", "year", "all"])
def test_nothing_answered_is_nothing_shown(name: str) -> None:
    none = np.zeros(0, dtype=np.int64)
    empty = Answers((), *[none] * 5)
    course = progress(
        History(empty, empty, Matches(none, np.zeros(0)), ()),
        FACTS,
        BEGAN,
        name,  # type: ignore[arg-type]
    )
    assert course.eye is None
    assert not course.groups
    assert not course.skills
