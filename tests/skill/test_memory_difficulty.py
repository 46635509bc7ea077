"""One scale from easiest to hardest for every kind of drill, whatever its unit."""

from __future__ import annotations

import math
import sys
from itertools import product

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from scores.skill.difficulty import level, step_at
from scores.skill.psychometric import scale_of

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


@given(ranges, st.floats(-500, 500))
@example((2.0, 1.0), 5e-324)
def test_a_step_outside_the_range_counts_as_its_nearer_end(
    steps: tuple[float, float], step: float
) -> None:
    assert 0.0 <= level(steps, step) <= 1.0


# The least and greatest floats, those beside 1, and where the small ones lose digits.
ENDS = sorted(
    sign * size
    for sign in (-1.0, 1.0)
    for size in (
        0.0,
        5e-324,
        1.5e-323,
        sys.float_info.min,
        1e-160,
        1.0 - sys.float_info.epsilon / 2,
        1.0,
        1.0 + sys.float_info.epsilon,
        1e160,
        math.nextafter(sys.float_info.max, 0.0),
        sys.float_info.max,
    )
)


def test_no_range_and_no_step_is_too_small_or_too_large_for_a_level() -> None:
    for easiest, hardest in product(ENDS, ENDS):
        steps = (easiest, hardest)
        for step in (*ENDS, math.inf, -math.inf, math.nan):
            assert 0.0 <= level(steps, step) <= 1.0
        for share in (0.0, 5e-324, 0.25, 0.5, 1.0 - 1e-16, 1.0, 2.0, -1.0):
            assert min(steps) <= step_at(steps, share) <= max(steps)
        assert level(steps, easiest) == 0.0
        told_apart = easiest != hardest and not (
            min(steps) > 0 and math.log(easiest) == math.log(hardest)
        )
        assert level(steps, hardest) == (1.0 if told_apart else 0.0)


def test_no_range_is_too_small_or_too_large_for_a_scale() -> None:
    for easiest, hardest in product(ENDS, ENDS):
        scale = scale_of((easiest, hardest), 0.5)
        if min(easiest, hardest) <= 0 or easiest == hardest:
            assert scale is None
        if scale is None:
            continue
        for place in (-0.5, 0.0, 0.5, 1.0, 1.5):
            assert 0.0 < scale.step(scale.at_level(place)) < math.inf


def test_the_order_of_steps_is_kept() -> None:
    for steps in ((8.0, 1.0), (sys.float_info.max, 5e-324), (1e308, -1e308), (3.0, -2.0)):
        levels = [level(steps, step_at(steps, share / 20)) for share in range(21)]
        assert levels == sorted(levels)
        assert levels == pytest.approx([share / 20 for share in range(21)], abs=1e-2)
