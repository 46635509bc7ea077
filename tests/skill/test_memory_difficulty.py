"""One scale from easiest to hardest for every kind of drill, whatever its unit."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from scores.skill.difficulty import level, step_at

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
