"""A match by eye gives the powers of the channels."""

from __future__ import annotations

import pytest

from drills.screen.matching import GreyMatch, agreed, start


@pytest.mark.parametrize("power", [1.8, 2.1, 2.2, 2.4])
def test_the_grey_of_half_the_light_tells_the_power(power: float) -> None:
    level = round(255 * 0.5 ** (1 / power))
    assert GreyMatch(level, level, level).powers() == pytest.approx((power,) * 3, abs=0.02)


def test_two_matches_are_taken_together_and_far_ones_are_not() -> None:
    assert agreed([GreyMatch(186, 186, 186), GreyMatch(188, 186, 186)]) is not None
    assert agreed([GreyMatch(186, 186, 186), GreyMatch(194, 186, 186)]) is None


def test_what_was_never_moved_is_no_match() -> None:
    for lighter in (True, False):
        assert agreed([start(lighter)] * 2) is None
    assert agreed([start(True), start(False)]) is None


def test_the_grey_stays_where_there_are_levels() -> None:
    assert GreyMatch(1, 254, 100).moved(-5, 5, 1).levels == (1, 254, 101)
