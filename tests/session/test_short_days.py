"""Short days, and slow hands: no drill waits for more than a week, nor does a step of the match."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta

import pytest

from scores.skill.skill_words import WHEEL
from scores.today.day_plan import plan_day
from scores.today.match_part import MatchPart
from scores.today.mix import WAITS
from scores.today.shares import CRAFT, NEW_KINDS, NEW_KINDS_SHORT, STEPS
from tests.answers import START
from tests.session.test_arc import KINDS, OFFERS, left_out, met


def test_on_a_short_day_some_come_early_where_all_together_would_be_late() -> None:
    """Four drills that can wait two days more: a day holds only some, so some come today."""
    kinds = ("what-is-off", "hold-in-mind", "surround-lies", "handling")
    slow = dict.fromkeys(kinds, 45.0)
    for seed in range(10):
        counts = []
        for waited in (2, WAITS - 1):
            skills = left_out((*kinds, *STEPS), WAITS + 1)
            for name, state in skills.items():
                if state.kind in kinds:
                    at = START - timedelta(days=waited)
                    skills[name] = replace(state, last_tried=at)
            day = plan_day(skills, OFFERS, slow, START, 3, random.Random(seed))
            match = sum(item.seconds for item in day if item.part == "match")
            counts.append((len({i.kind for i in day if i.kind in kinds}), match))
        assert counts[1][0] >= 2
        assert counts[1][1] < counts[0][1]


def test_a_day_is_known_by_what_was_right_then_and_wrong_since() -> None:
    wrong = replace(met()["hue-and-lean:red"], last_right=START - timedelta(days=3))
    other = replace(met()["handling:red"], last_tried=START - timedelta(days=5))
    skills = {state.skill: state for state in (wrong, other)}
    part = MatchPart(skills, OFFERS, (), {}, START, 180.0, random.Random(1))
    assert part.days_since("handling") == 2


def test_on_short_days_drills_for_which_no_time_was_left_are_begun_on_the_next() -> None:
    """Two a day; where one or none came on an earlier day, one more."""
    first = [kind for kind in KINDS if kind not in STEPS]
    for behind, most in ((False, NEW_KINDS_SHORT), (True, NEW_KINDS)):
        skills = {name: state for name, state in met().items() if state.kind in STEPS}
        for region in WHEEL[:2]:
            # A second day practised, on which only steps of the match came.
            name = f"hue-and-lean:{region}"
            ago = timedelta(days=2 if behind else 1)
            skills[name] = replace(skills[name], last_tried=START - ago)
        for seed in range(10):
            day = plan_day(skills, OFFERS, {}, START, 7, random.Random(seed))
            begun = {item.kind for item in day} & set(first)
            assert len(begun) == most


@pytest.mark.parametrize(("pace", "layings"), [(1.0, 2), (1.6, 2), (2.7, 1)])
def test_a_slow_hand_lays_one_match_with_all_its_steps_rather_than_two(
    pace: float, layings: int
) -> None:
    times = {kind: pace * seconds for kind, (seconds, _) in KINDS.items()}
    for seed in range(10):
        day = plan_day(met(), OFFERS, times, START, 10, random.Random(seed))
        assert [item.kind for item in day if item.part == "match"] == list(STEPS)
        assert sum(item.kind == STEPS[-1] for item in day) == layings
        craft = sum(item.seconds for item in day if item.kind in CRAFT)
        assert 0.35 * 600 <= craft <= 0.66 * 600
