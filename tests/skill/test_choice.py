"""The step asked next: informative, mostly answered right, and never finer than can be shown."""

from __future__ import annotations

import math
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scores.skill.psychometric import entropy, scale_of
from scores.skill.step_choice import AIM, NEAR, expected_right, first_step, step_to_ask
from scores.skill.threshold import answered, fresh, marginal
from scores.skill.threshold_kept import Measured
from tests.skill.test_measure import DAY, after, answers, begun, chances, ranges


@settings(max_examples=60, deadline=None)
@given(ranges, chances, answers, st.integers(0, 60))
def test_the_step_lies_in_the_range_and_is_expected_right_about_four_times_in_five(
    steps: tuple[float, float], chance: float, many: list[tuple[float, bool, int]], days: int
) -> None:
    known, day = after(begun(steps, chance), many)
    today = day + timedelta(days)
    step = step_to_ask(known, today)
    assert min(steps) <= step <= max(steps)
    from scores.skill.threshold import on_day

    expected = expected_right(on_day(known, today), step)
    if step == steps[0]:
        # Nothing easier can be asked.
        assert expected <= AIM + NEAR + 0.03
    elif step == steps[1]:
        assert expected >= AIM - NEAR - 0.03
    else:
        # A grid step's difference and the mean lapse rate stand between the two.
        assert abs(expected - AIM) <= NEAR + 0.05


@given(st.floats(0.8, 20.0))
def test_nothing_finer_is_asked_than_the_screen_can_show(finest: float) -> None:
    known, day = after(begun((20.0, 0.8), 0.5), [(0.95, True, 0)] * 20)
    assert step_to_ask(known, day) < 1.2
    assert step_to_ask(known, day, finest) >= finest


def test_a_better_eye_is_asked_finer() -> None:
    good, day = after(begun((20.0, 0.8), 0.5), [(0.7, True, 0)] * 10)
    poor, _ = after(begun((20.0, 0.8), 0.5), [(0.3, False, 0)] * 10)
    first = first_step((20.0, 0.8), 0.5)
    assert step_to_ask(good, day) < first < step_to_ask(poor, day)


def test_after_a_pause_it_is_asked_a_little_easier() -> None:
    """What is less certain is asked where it is still expected right four times in five."""
    known, day = after(begun((20.0, 0.8), 0.5), [(0.8, turn % 9 != 8, 0) for turn in range(40)])
    later = [step_to_ask(known, day + timedelta(days)) for days in (0, 30, 200)]
    assert later[0] <= later[1] <= later[2]
    assert later[0] < later[2]


def test_where_small_steps_are_easy_a_better_eye_is_asked_greater_ones() -> None:
    good, day = after(begun((1.0, 10.0), 0.25), [(0.7, True, 0)] * 10)
    assert step_to_ask(good, day) > first_step((1.0, 10.0), 0.25)


def test_where_nothing_can_be_measured_the_easiest_is_asked() -> None:
    assert first_step((1.0, 1.0), 0.25) == 1.0
    assert fresh((1.0, 1.0), 0.25, DAY) is None


def information(known: Measured, step: float) -> float:
    """What one answer at a step is expected to take from the threshold's entropy, by hand.

    H(θ) − Σ p(answer) H(θ | answer), in nats, from the posteriors themselves.
    """

    def spread(one: Measured) -> float:
        return -sum(w * math.log(w) for w in marginal(one)[1] if w > 0)

    right = expected_right(known, step)
    yes, no = (answered(known, step, said, DAY) for said in (True, False))
    return spread(known) - right * spread(yes) - (1 - right) * spread(no)


@pytest.mark.parametrize("chance", [0.25, 0.5])
def test_little_information_is_given_up_for_mostly_right_practice(chance: float) -> None:
    """Against the most informative step of all, found by trying every one (QUEST+'s own rule)."""
    known, day = after(begun((20.0, 0.8), chance), [(0.5, turn % 5 != 4, 0) for turn in range(12)])
    scale = scale_of((20.0, 0.8), chance)
    assert scale is not None
    every = [scale.step(log) for log in scale.logs[scale.hardest : scale.easiest + 1]]
    best = max(information(known, step) for step in every)
    assert information(known, step_to_ask(known, day)) >= 0.8 * best


def test_entropy_of_an_answer() -> None:
    assert entropy(0.5) == pytest.approx(math.log(2))
    assert entropy(0.0) == entropy(1.0) == 0.0


def test_a_newcomer_of_every_range_is_first_asked_in_its_easier_half() -> None:
    for steps, chance in (((20.0, 0.8), 0.5), ((0.5, 0.04), 0.2), ((6.0, 1.0), 0.25)):
        scale = scale_of(steps, chance)
        assert scale is not None
        assert 0.1 <= scale.level(scale.intensity(first_step(steps, chance))) <= 0.5
