"""What an answer says to the memory: the table in ``scores.skill.outcome``, line by line."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scores.skill.outcome import OUTCOMES, judge, outcome_of


@pytest.mark.parametrize(
    ("case", "score", "right", "seconds", "step", "chance", "outcome"),
    [
        ("right at the usual pace", 1.0, True, 4.0, 6.0, 0.25, "held"),
        ("right and quick", 1.0, True, 2.0, 6.0, 0.25, "easy-won"),
        ("right and quick, but one in two comes right", 1.0, True, 2.0, 6.0, 0.5, "held"),
        ("right and quick on a much easier question", 1.0, True, 2.0, 12.0, 0.25, "held"),
        ("right and quick on a harder question", 1.0, True, 2.0, 3.0, 0.25, "easy-won"),
        ("right but slow", 1.0, True, 9.0, 6.0, 0.25, "shaky"),
        ("right before it could be seen", 1.0, True, 0.1, 6.0, 0.25, "shaky"),
        ("wrong and far off", 0.1, False, 4.0, 6.0, 0.25, "lost"),
        ("wrong but near", 0.7, False, 4.0, 6.0, 0.25, "shaky"),
        ("wrong on a harder question", 0.1, False, 4.0, 3.0, 0.25, "shaky"),
        ("wrong on an easier question", 0.1, False, 1.0, 12.0, 0.25, "lost"),
    ],
)
def test_each_line_of_the_table(
    case: str, score: float, right: bool, seconds: float, step: float, chance: float, outcome: str
) -> None:
    assert judge(score, right, seconds, 4.0, step, 6.0, chance) == outcome, case


def test_speed_says_nothing_until_the_learners_own_is_known() -> None:
    assert judge(1.0, True, 2.0, None, 6.0, None, 0.25) == "held"
    assert judge(1.0, True, 90.0, None, 6.0, None, 0.25) == "held"


@given(
    st.floats(0, 1),
    st.floats(0, 1000),
    st.none() | st.floats(0, 100),
    st.floats(0, 50),
    st.none() | st.floats(0, 50),
    st.floats(0, 1),
)
def test_a_right_answer_is_never_lost_and_a_wrong_one_never_held(
    score: float,
    seconds: float,
    usual: float | None,
    step: float,
    usual_step: float | None,
    chance: float,
) -> None:
    assert judge(score, True, seconds, usual, step, usual_step, chance) != "lost"
    wrong = judge(score, False, seconds, usual, step, usual_step, chance)
    assert wrong in ("lost", "shaky")


def test_only_the_four_outcomes_are_read_back() -> None:
    assert tuple(map(outcome_of, OUTCOMES)) == OUTCOMES
    with pytest.raises(ValueError, match="no outcome"):
        outcome_of("good")
