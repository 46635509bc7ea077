"""Order the layers: every order worked out again, each layer laid alone, and no rule decides."""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import permutations

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES
from drills.kinds import draw
from drills.kinds.order_of_layers import KIND, LayersToOrder, Order
from drills.layering.moves import MIDDLE, Move
from drills.layering.predict import predict_many
from drills.questions.draw import VISIBLE_STEP
from drills.questions.protocol import CannotAskError, Grade, Question
from drills.questions.results import MODEL_LIMITS
from tests.palettes import palette_of, palette_with, pencil

STEPS = (4.0, 2.0, 1.2)
SETS = ("demo", "pocket")


@cache
def questions(pencils: str, seeds: int = 1) -> tuple[Question, ...]:
    palette = palette_of(pencils)
    return tuple(
        draw(KIND, palette, region, step, 1000 * turn + 10 * at + seed)
        for turn, region in enumerate(KIND.regions(palette))
        for at, step in enumerate(STEPS)
        for seed in range(seeds)
    )


def data_of(question: Question) -> LayersToOrder:
    assert isinstance(question.data, LayersToOrder)
    return question.data


def graded(question: Question, order: Order) -> Grade:
    return KIND.grade(question, (tuple(str(i) for i in order),))


over_sets = pytest.mark.parametrize("pencils", SETS)


@over_sets
def test_every_order_is_worked_out_as_if_laid_alone_at_one_pressure(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils):
        data = data_of(question)
        orders = list(permutations(range(3)))
        laid = [[Move("lay", data.pencils[i], MIDDLE) for i in order] for order in orders]
        labs = predict_many(palette, laid)
        errors = delta_e00(labs, question.target)
        assert set(data.errors) == set(data.results) == set(orders)
        assert [data.errors[o] for o in orders] == pytest.approx(errors.tolist(), abs=1e-6)
        assert np.array([data.results[o] for o in orders]) == pytest.approx(labs, abs=1e-6)


@over_sets
def test_one_order_makes_the_target_and_the_next_is_seen_to_miss_by_the_step(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        first, second, *_ = sorted(data.errors.values())
        assert first < VISIBLE_STEP
        assert second - first >= VISIBLE_STEP
        assert question.step == pytest.approx(second - first)
        assert question.facts["key"] == [str(i) for i in data.best]


def test_the_step_is_near_the_one_asked() -> None:
    for at, step in enumerate(STEPS):
        asked = [question.step for question in questions("demo")[at::3]]
        assert np.median(asked) == pytest.approx(step, rel=0.15)


def test_a_pencil_of_the_family_is_among_three_whose_swatches_are_shown() -> None:
    palette = palette_of("demo")
    for question in questions("demo"):
        data = data_of(question)
        assert question.region in [FAMILIES[int(palette.family[i])] for i in data.pencils]
        assert len(set(data.pencils)) == 3
        asked = KIND.ask(question, ())
        assert asked is not None
        assert asked.form == "arrange"
        assert [c.swatch.lab for c in asked.choices if c.swatch] == list(data.swatches)


def test_which_goes_on_top_is_neither_the_lightest_nor_the_darkest_oftener() -> None:
    tops: Counter[int] = Counter()
    for question in questions("demo", 4):
        data = data_of(question)
        by_lightness = sorted(range(3), key=lambda i: data.swatches[i][0])
        tops[by_lightness.index(data.best[-1])] += 1
    assert max(tops.values()) < 0.45 * tops.total()


@over_sets
def test_one_order_in_six_is_right_and_the_farther_off_the_less_it_earns(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        by_error = sorted(data.errors, key=lambda order: data.errors[order])
        grades = [graded(question, order) for order in by_error]
        assert [grade.right for grade in grades] == [True, *[False] * 5]
        scores = [grade.score for grade in grades]
        assert scores == sorted(scores, reverse=True)
        assert scores[0] == 1.0


def test_the_verdict_says_what_lies_on_top() -> None:
    for question in questions("demo")[::3]:
        data = data_of(question)
        top = data.names[data.best[-1]]
        assert graded(question, data.best).verdict.startswith(f"Yes: with {top} on top")
        for order in data.errors:
            if order != data.best:
                verdict = graded(question, order).verdict
                assert verdict.startswith(f"No: {top} ")
                assert ("does lie on top" in verdict) == (order[-1] == data.best[-1])


def test_what_is_no_order_is_no_answer() -> None:
    for keys in (("0", "1"), ("0", "0", "1"), ("0", "1", "2", "3")):
        with pytest.raises(ValueError, match=r"order|literal"):
            KIND.grade(questions("demo")[0], (keys,))


def test_the_reveal_shows_every_order_nearest_first() -> None:
    for question in questions("demo")[::4]:
        data = data_of(question)
        worst = max(data.errors, key=lambda order: data.errors[order])
        reveal = KIND.reveal(question, (tuple(map(str, worst)),))
        by_error = sorted(data.errors, key=lambda order: data.errors[order])
        shown = [row.swatch.lab for row in reveal.results if row.swatch]
        assert shown == [data.results[order] for order in by_error]
        assert [row.mark for row in reveal.results] == ["best", "", "", "", "", "yours"]
        assert reveal.limits.endswith(MODEL_LIMITS)


def test_pencils_alike_make_no_question_of_order() -> None:
    # Transparent pale ones: whichever lies on top, the swatch is the same to the eye.
    palette = palette_with(
        *(
            pencil(f"Pale {i}", hex_text, "transparent")
            for i, hex_text in enumerate(("#e8d0cf", "#cfe4d3", "#d0d4e6"))
        )
    )
    assert KIND.regions(palette) == ()
    with pytest.raises(CannotAskError):
        draw(KIND, palette, "red", 2.0, 1)
