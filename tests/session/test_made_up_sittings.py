"""The schedule's proof meets examples and help as the app does: their time, and nothing else."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

import pytest

from coach.session.helping import MOST_HELPED
from scores.today.examples import SHARE, example_seconds
from scores.today.shares import STEPS
from tests.bench.schedule.habits import USUAL, away
from tests.bench.schedule.learners import MODELS
from tests.bench.schedule.ours import Coach
from tests.bench.schedule.plain import Rotation
from tests.bench.schedule.practice import _Practice
from tests.bench.schedule.sittings import Sat, session_figures
from tests.bench.schedule.subject import offers


def practised(schedule: Any, days: int = 5, **habit: Any) -> _Practice:
    learner = MODELS["two rates"](2, 1)
    made = _Practice(learner, schedule(offers(), 2001), replace(USUAL, days=days, **habit))
    made.run("two rates", 1)
    return made


@pytest.fixture(scope="module")
def coached() -> _Practice:
    return practised(Coach)


def test_examples_take_time_of_the_sitting_and_none_comes_twice(coached: _Practice) -> None:
    shown = [kind for one in coached.sat for kind, _ in one.examples]
    assert shown
    assert set(shown) == set(coached.shown)
    for one in coached.sat:
        kinds = [kind for kind, _ in one.examples]
        assert len(set(kinds)) == len(kinds) <= SHARE * 600 / example_seconds(1.0)
        assert one.seconds == pytest.approx(
            sum(took for _, took in one.asked) + sum(took for _, took in one.examples)
        )
        assert 0.85 <= one.span <= 1.15


def test_they_are_no_answers_and_answers_with_help_measure_nothing(coached: _Practice) -> None:
    tries = sum(state.tries for state in coached.skills.values())
    assert tries == coached.answers == sum(len(one.asked) for one in coached.sat)
    asked = Counter(kind for one in coached.sat for kind, _ in one.asked)
    learner = coached.eye.followed.learner  # type: ignore[union-attr]
    measured = Counter[str]()
    for skill, place in learner.layout.place.items():
        measured[skill.partition(":")[0]] += int(learner.answers[place])
    for kind in measured:
        helped = asked[kind] - measured[kind]
        assert helped <= MOST_HELPED if kind in STEPS else helped == 0
    assert any(asked[kind] > measured[kind] for kind in STEPS)


def test_other_schedules_have_neither() -> None:
    plain = practised(Rotation, 4)
    assert not plain.shown
    learner = plain.eye.followed.learner  # type: ignore[union-attr]
    eye = [s for s in plain.skills.values() if offers().kinds[s.kind].of_the_eye]
    assert int(learner.answers.sum()) == sum(state.tries for state in eye)


def test_a_slow_reader_reads_long_and_answers_alike() -> None:
    usual, slow = MODELS["traces"](5, 1), MODELS["traces"](5, 1)
    slow.reads_s *= 3.0
    skill = next(iter(usual.skills))
    assert usual.answer(skill, 1.0, 0) == slow.answer(skill, 1.0, 0)
    assert slow.read() == pytest.approx(3.0 * usual.read())
    assert slow.look() == pytest.approx(3.0 * usual.look())


def test_what_is_done_for_a_learner_teaches_nothing() -> None:
    alone, helped = MODELS["two rates"](5, 1), MODELS["two rates"](5, 1)
    skill = next(iter(alone.skills))
    before = alone.level(skill, 1)
    alone.answer(skill, 9.0, 0)
    helped.answer(skill, 9.0, 0, teaches=0.0)
    assert alone.level(skill, 1) > before == helped.level(skill, 1)


def test_a_first_day_back_is_shorter() -> None:
    back = practised(Coach, 22, practises=away(2, 18))
    assert [one.away > 0 for one in back.sat] == [False, False, True, False]
    assert [one.minutes for one in back.sat] == [10.0, 10.0, 6.0, 10.0]
    assert back.sat[2].laid


def test_the_figures_count_examples_as_time_and_not_as_the_crafts_own() -> None:
    craft, other = ("make-the-match", 60.0), ("hue-and-lean", 20.0)
    sat = [Sat(day, 1.5, [craft, other], [("make-the-match", 10.0)]) for day in range(5)]
    made = session_figures(sat)
    assert made.craft == pytest.approx(60.0 / 90.0)
    assert made.on_time == 1.0
    assert made.with_example == (1.0, 2)
    assert made.examples == 5
