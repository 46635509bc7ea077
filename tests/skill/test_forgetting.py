"""How long a step held stays held: longer where less is forgotten, and when that is known."""

from __future__ import annotations

import pytest

from scores.skill.model.forgetting import (
    LONGER,
    LONGEST,
    LOST,
    SPREAD,
    faded,
    likely_lost_after,
    next_rest,
    rest_for,
)
from scores.skill.model.settings import FORGET_MEAN, FORGET_SD


@pytest.mark.parametrize("rest", [0.0, 1.0, 7.0, 90.0, 365.0])
def test_what_fades_over_a_rest_tells_the_rest(rest: float) -> None:
    assert rest_for(faded(rest)) == pytest.approx(rest, abs=1e-9)


def test_nothing_fades_before_a_rest_begins() -> None:
    assert faded(0) == 0.0
    assert faded(-5) == 0.0


def test_known_exactly_a_step_is_lost_on_the_day_the_loss_comes_to_lost() -> None:
    assert likely_lost_after(0.04, 0.0) == pytest.approx(rest_for(LOST / 0.04), rel=1e-6)


def test_who_forgets_more_or_is_less_known_is_asked_sooner() -> None:
    days = [likely_lost_after(f, 0.01) for f in (0.02, 0.03, 0.05, 0.09)]
    assert days == sorted(days, reverse=True)
    assert likely_lost_after(0.03, 0.03) < likely_lost_after(0.03, 0.005)


def test_who_cannot_forget_is_left_alone_for_long() -> None:
    assert likely_lost_after(0.0, 0.005) == LONGEST


def test_a_newcomer_is_asked_again_within_a_week_and_then_within_three() -> None:
    assert next_rest(FORGET_MEAN, FORGET_SD, 0, 1) <= 7
    assert next_rest(FORGET_MEAN, FORGET_SD, 5, 3) <= 21


def test_a_rest_is_never_far_longer_than_the_longest_seen_held() -> None:
    for held in (3, 10, 40):
        for visits in range(8):
            assert next_rest(0.0, 0.001, held, visits) <= max(SPREAD) * LONGER * max(held, 3) + 1


def test_rests_grow_and_are_of_unlike_length() -> None:
    held, rests = 0.0, []
    for visits in range(1, 9):
        rests.append(next_rest(0.0, 0.005, held, visits))
        held = max(held, rests[-1])
    assert max(rests[4:]) > 5 * max(rests[:2])
    early = [next_rest(0.03, 0.01, 60, visits) for visits in range(4)]
    assert max(early) >= 1.8 * min(early)


@pytest.mark.parametrize("forgets", [-0.05, 0.0, 0.2, 5.0])
def test_a_rest_is_always_a_day_or_more(forgets: float) -> None:
    assert 1 <= next_rest(forgets, 0.02, 0, 0) <= LONGEST
