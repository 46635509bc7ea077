"""Every drill kind keeps the laws of ``drills.laws``, whatever stands in drills/kinds."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coach.widgets.choices import KEYS
from drills.kinds import all_kinds
from drills.laws import LAWS, MOST_CHOICES, drawn, grades_and_reveals
from drills.laws.replies import any_answer
from tests.palettes import palette_of

KINDS = tuple(all_kinds())
SETS = ("demo", "pocket")


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("pencils", SETS)
@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.__name__)
def test_a_kind_keeps_the_law(law, name: str, pencils: str) -> None:
    law(all_kinds()[name], palette_of(pencils))


@pytest.mark.parametrize("name", KINDS)
def test_a_kind_is_found_by_its_name(name: str) -> None:
    assert all_kinds()[name].name == name


def test_there_is_a_key_for_every_choice_that_a_kind_may_give() -> None:
    assert len(KEYS) == MOST_CHOICES


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_every_answer_that_can_be_given_is_graded_and_revealed(data: st.DataObject) -> None:
    kind = all_kinds()[data.draw(st.sampled_from(KINDS))]
    question = data.draw(
        st.sampled_from(drawn(kind, palette_of(data.draw(st.sampled_from(SETS))))[0])
    )
    answers = any_answer(kind, question, lambda keys: data.draw(st.sampled_from(keys)))
    grades_and_reveals(kind, question, answers)
