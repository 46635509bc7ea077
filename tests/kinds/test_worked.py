"""A question solved step by step: every kind's, from its own key and reveal."""

from __future__ import annotations

from functools import cache

import pytest

from drills.kinds import all_kinds, draw
from drills.layering.moves import FIRM, pressure_word
from drills.questions.answered import a_good_way
from drills.questions.worked import Worked, worked
from tests.kinds import leaf
from tests.palettes import palette_of

KINDS = all_kinds()
SEEDS = (1, 2)


@cache
def solved(name: str, seed: int) -> Worked:
    kind, palette = KINDS[name], palette_of("demo")
    regions = kind.regions(palette)
    question = draw(kind, palette, regions[seed % len(regions)], kind.steps[0], seed)
    made = worked(kind, question)
    assert made is not None
    return made


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("seed", SEEDS)
def test_the_way_shown_is_as_good_as_can_be(name: str, seed: int) -> None:
    made, kind = solved(name, seed), KINDS[name]
    way = a_good_way(kind, made.question)
    assert way is not None
    grade = kind.grade(made.question, way)
    assert grade.right
    assert grade.score == pytest.approx(1.0)
    assert kind.ask(made.question, way) is None


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("seed", SEEDS)
def test_it_begins_with_the_question_as_asked_and_ends_with_the_answer(
    name: str, seed: int
) -> None:
    made, kind = solved(name, seed), KINDS[name]
    assert made.steps[0].asked == kind.ask(made.question, ())
    assert made.steps[0].words == kind.look_for[0]  # type: ignore[attr-defined]
    assert all(step.words and step.words[-1] in ".?" for step in made.steps)
    assert len(made.steps) <= 7
    assert made.answer
    marks = [row.mark for row in made.reveal.results]
    assert set(marks) <= {"", "best"}
    assert "best" in marks or made.steps[0].asked.form == "arrange"


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("seed", SEEDS)
def test_no_step_leaves_out_what_is_right(name: str, seed: int) -> None:
    made, kind = solved(name, seed), KINDS[name]
    way = a_good_way(kind, made.question)
    assert way is not None
    for step in made.steps:
        _, left_out, text = step.words.partition("Leave out what is farthest off: ")
        if left_out:
            texts = {choice.text: choice.key for choice in step.asked.choices}
            assert (texts[text.removesuffix(".")],) not in way


def test_layers_are_laid_one_by_one_and_the_colour_comes_nearer() -> None:
    for seed in SEEDS:
        made = solved("make-the-match", seed)
        laid = [step.asked.scene[1].label for step in made.steps]
        assert laid[0] == "bare paper"
        assert laid[1:] == [f"{at} laid" for at in range(1, len(laid))]
        assert "It still wants: " in made.steps[1].words
        assert made.answer == made.question.facts["key"]
        # As it is said before it.
        assert "not firmly" in made.steps[0].words
        assert f", {pressure_word(FIRM)}. " not in made.steps[1].words
        assert [row.label for row in made.reveal.results] == ["the planner's way"]


def test_a_kind_from_elsewhere_that_says_nothing_to_look_for_is_shown_by_what_it_trains() -> None:
    kind, palette = leaf.KIND, palette_of("demo")
    question = draw(kind, palette, kind.regions(palette)[0], kind.steps[0], 1)
    made = worked(kind, question)
    assert made is not None
    assert kind.trains[1:] in made.steps[0].words
