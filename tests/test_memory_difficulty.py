"""The staircase settles where four answers in five are right (Kaernbach 1991)."""

from __future__ import annotations

import math
import random
from statistics import mean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scores.difficulty import AIM, first_step, level, next_step, step_at

ranges = st.one_of(
    st.tuples(st.floats(2, 100), st.floats(0.1, 1.5)),
    st.tuples(st.floats(1, 6), st.floats(-3, 0.5)),
    st.tuples(st.just(3.0), st.just(3.0)),
)


@given(ranges, st.floats(0, 1))
def test_a_step_and_its_level_are_two_sides_of_one_thing(
    steps: tuple[float, float], share: float
) -> None:
    step = step_at(steps, share)
    assert min(steps) - 1e-9 <= step <= max(steps) + 1e-9
    if steps[0] != steps[1]:
        assert level(steps, step) == pytest.approx(share, abs=1e-9)
    assert step_at(steps, 0.0) == steps[0]


@given(ranges, st.floats(-1, 2), st.floats(-1, 2), st.booleans(), st.integers(0, 60))
def test_right_is_never_followed_by_easier_nor_wrong_by_harder(
    steps: tuple[float, float], share: float, asked: float, right: bool, tries: int
) -> None:
    now = step_at(steps, share)
    after = next_step(steps, now, right, step_at(steps, asked), tries)
    assert min(steps) <= after <= max(steps)
    change = level(steps, after) - level(steps, now)
    assert change >= -1e-9 if right else change <= 1e-9
    assert abs(change) <= 0.33


def test_a_right_answer_to_a_much_easier_question_moves_nothing() -> None:
    assert next_step((20.0, 1.0), 3.0, True, asked=15.0) == pytest.approx(3.0)
    assert next_step((20.0, 1.0), 15.0, False, asked=3.0) == pytest.approx(15.0)


def test_a_new_skill_begins_in_the_easier_half() -> None:
    assert 0.2 <= level((20.0, 1.0), first_step((20.0, 1.0))) <= 0.5


@pytest.mark.parametrize("chance", [0.25, 0.5])
@pytest.mark.parametrize("threshold", [2.0, 5.0, 10.0])
def test_an_observer_ends_up_right_four_times_in_five(chance: float, threshold: float) -> None:
    """A Weibull observer (Watson & Pelli 1983, slope 3.5, lapses 1 %), 40 seeds, 400 answers."""
    steps = (40.0, 0.5)
    shares, ends = [], []
    for seed in range(40):
        rng = random.Random(seed)
        step, hits = first_step(steps), []
        for tries in range(400):
            seen = 1 - math.exp(-((step / threshold) ** 3.5))
            right = rng.random() < 0.99 * (chance + (1 - chance) * seen) + 0.01 * chance
            hits.append(right)
            step = next_step(steps, step, right, step, tries)
            if tries >= 100:
                ends.append(math.log(step))
        shares.append(mean(hits[100:]))
    assert mean(shares) == pytest.approx(AIM, abs=0.02)
    # Where that observer is right four times in five, by the same formula.
    aim = (AIM - 0.01 * chance) / 0.99
    expected = threshold * (-math.log(1 - (aim - chance) / (1 - chance))) ** (1 / 3.5)
    assert math.exp(mean(ends)) == pytest.approx(expected, rel=0.12)
