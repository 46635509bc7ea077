"""Order the layers: every order worked out by brute force, and the working rules read again."""

from __future__ import annotations

from functools import cache
from itertools import permutations

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, wheel_steps
from drills.colour.spaces import in_screen_gamut
from drills.kinds import draw
from drills.kinds.order_of_layers import KIND, MovesToOrder, broken_by
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.predict import predict, predict_many
from drills.questions.draw import VISIBLE_STEP
from drills.questions.protocol import CannotAskError, Grade, Question
from drills.questions.recipes import (
    BLEND_BARE,
    FINISH_LAST,
    HELD_INSIDE,
    LIGHT_FIRST,
    Order,
    rules_broken,
)
from tests.palettes import BLENDER, palette_of, palette_with, pencil

STEPS = (5.0, 2.7, 1.5)
SETS = ("demo", "pocket")


@cache
def questions(pencils: str) -> tuple[Question, ...]:
    palette = palette_of(pencils)
    return tuple(
        draw(KIND, palette, region, step, 1000 * turn + seed)
        for turn, region in enumerate(KIND.regions(palette))
        for seed, step in enumerate(STEPS)
    )


def data_of(question: Question) -> MovesToOrder:
    assert isinstance(question.data, MovesToOrder)
    return question.data


def graded(question: Question, order: Order) -> Grade:
    return KIND.grade(question, (tuple(str(i) for i in order),))


def broken_as_taught(data: MovesToOrder, order: Order) -> int:
    """How many working rules an order breaks: the rules as a teacher would say them."""
    moves = [data.moves[i] for i in order]
    colour = [m for m in moves if m.action == "lay" and m.pencil != data.muter]
    firm_then_lighter = any(
        later.pressure < earlier.pressure
        for i, earlier in enumerate(colour)
        for later in colour[i:]
    )
    muter = next(i for i, m in enumerate(moves) if m.pencil == data.muter)
    bare_under = all(m.action == "blend" for m in moves[:muter])
    uncovered = all(m.pencil != data.main for m in moves[muter:])
    blender_at_an_end = "blend" in (moves[0].action, moves[-1].action)
    return firm_then_lighter + (bare_under or uncovered) + blender_at_an_end


over_sets = pytest.mark.parametrize("pencils", SETS)

# The computed orders


@over_sets
def test_every_order_is_worked_out_as_if_laid_alone(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils):
        data = data_of(question)
        orders = list(permutations(range(len(data.moves))))
        labs = predict_many(palette, [[data.moves[i] for i in order] for order in orders])
        errors = delta_e00(labs, question.target)
        assert set(data.errors) == set(data.results) == set(orders)
        assert [data.errors[o] for o in orders] == pytest.approx(errors.tolist(), abs=1e-6)
        assert np.array([data.results[o] for o in orders]) == pytest.approx(labs, abs=1e-6)


@over_sets
def test_the_step_is_how_far_off_a_shuffled_order_lands(pencils: str) -> None:
    for question in questions(pencils):
        assert question.step == pytest.approx(np.median(list(data_of(question).errors.values())))


@over_sets
def test_no_question_is_asked_where_order_hardly_matters(pencils: str) -> None:
    for question in questions(pencils):
        assert question.step >= 1.5 * VISIBLE_STEP


def test_two_pencils_alike_make_no_question_of_order() -> None:
    # A transparent pale pair: whichever lies on top, the swatch is the same to the eye.
    palette = palette_with(
        pencil("Pale red", "#e8d0cf", "transparent"), pencil("Pale green", "#cfe4d3", "transparent")
    )
    assert KIND.regions(palette) == ()
    with pytest.raises(CannotAskError):
        draw(KIND, palette, "red", 2.7, 1)


@over_sets
def test_the_target_is_the_planned_order_as_the_screen_shows_it(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils):
        data = data_of(question)
        planned = predict(palette, [data.moves[i] for i in data.intended])
        assert in_screen_gamut(planned)
        assert delta_e00(planned, question.target) < 0.75  # half a step of 8 bits, near grey
        assert question.facts["key"] == [str(i) for i in data.intended]


# The moves


@over_sets
def test_three_to_five_different_moves_of_a_main_colour_and_what_mutes_it(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils):
        data = data_of(question)
        assert 3 <= len(data.moves) <= 5
        assert len(set(data.words)) == len(data.words)
        assert FAMILIES[int(palette.family[data.main])] == question.region
        assert wheel_steps(palette.wheel[data.main], palette.wheel[data.muter]) >= 4.0
        muting = {Move("lay", data.muter, press) for press in (LIGHT, MIDDLE)}
        assert len(muting & set(data.moves)) == 1
        assert data.moves[data.intended[-1]] == Move("lay", data.main, FIRM)


def test_moves_are_not_listed_in_their_planned_order() -> None:
    planned = [data_of(question).intended for question in questions("demo")]
    assert sum(order == tuple(sorted(order)) for order in planned) <= 0.15 * len(planned)


def test_without_a_blender_none_is_asked_for() -> None:
    colours = [one for one in palette_of("demo").set.pencils if not one.is_blender]
    palette = palette_with(*colours)
    for region in KIND.regions(palette)[:5]:
        data = data_of(draw(KIND, palette, region, 2.7, 1))
        assert all(move.action == "lay" for move in data.moves)


# The rules


def rules_of(*moves: Move) -> tuple[str, ...]:
    """The rules these moves break in this order, 0 being the main colour and 1 what mutes it."""
    return rules_broken(0, 1, moves)


BASE, MUTE, FINISH = Move("lay", 0, MIDDLE), Move("lay", 1, LIGHT), Move("lay", 0, FIRM)
KIN, BLEND = Move("lay", 2, LIGHT), Move("blend", 3, LIGHT)


@pytest.mark.parametrize(
    ("moves", "broken"),
    # Common practice, no source.
    [
        ((BASE, MUTE, FINISH), ()),
        ((KIN, BASE, MUTE, BLEND, FINISH), ()),
        ((BASE, FINISH, MUTE), (HELD_INSIDE,)),
        ((MUTE, BASE, FINISH), (HELD_INSIDE,)),
        ((FINISH, MUTE, BASE), (LIGHT_FIRST,)),
        ((BASE, KIN, MUTE, FINISH), (LIGHT_FIRST,)),
        ((BLEND, BASE, MUTE, FINISH), (BLEND_BARE,)),
        ((BLEND, MUTE, BASE, FINISH), (HELD_INSIDE, BLEND_BARE)),
        ((BASE, MUTE, FINISH, BLEND), (FINISH_LAST,)),
        ((FINISH, BASE, MUTE, BLEND), (LIGHT_FIRST, HELD_INSIDE, FINISH_LAST)),
    ],
)
def test_the_working_rules(moves: tuple[Move, ...], broken: tuple[str, ...]) -> None:
    assert rules_of(*moves) == broken


@over_sets
def test_the_rules_are_read_the_same_in_every_order_asked(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        for order in data.errors:
            assert len(broken_by(data, order)) == broken_as_taught(data, order)


# Grades


@over_sets
def test_right_is_what_the_eye_can_t_tell_from_the_best_and_breaks_no_rule(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        for order, error in data.errors.items():
            grade = graded(question, order)
            assert grade.error == error
            expected = error < VISIBLE_STEP and broken_as_taught(data, order) == 0
            assert grade.right == expected
            assert (grade.score == 1.0) == expected
        assert graded(question, data.intended).right


@over_sets
def test_a_rule_broken_lowers_the_score_whatever_the_colour(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        told = [
            (data.errors[o], broken_as_taught(data, o), graded(question, o).score)
            for o in data.errors
        ]
        for error, broken, score in told:
            worse = [s for e, b, s in told if e >= error and b > broken]
            assert all(other < score for other in worse)


@over_sets
def test_a_colour_farther_off_earns_less_where_as_many_rules_are_kept(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        for count in range(4):
            told = sorted(
                (data.errors[o], -graded(question, o).score)
                for o in data.errors
                if broken_as_taught(data, o) == count
            )
            losses = [loss for _, loss in told]
            assert losses == pytest.approx(sorted(losses))


def test_a_shuffled_order_earns_far_less_than_the_planned_one() -> None:
    means = [
        np.mean([graded(question, order).score for order in data_of(question).errors])
        for question in questions("demo")
    ]
    assert np.mean(means) < 0.62
    assert min(graded(q, o).score for q in questions("demo") for o in data_of(q).errors) < 0.15


def test_the_verdict_tells_colour_from_rules() -> None:
    verdicts = {
        (error < VISIBLE_STEP, not broken_by(data_of(q), order)): graded(q, order).verdict
        for q in questions("demo")
        for order, error in data_of(q).errors.items()
    }
    assert verdicts[True, True].startswith("Yes")
    assert "rule is broken" in verdicts[True, False]
    assert "ΔE00" in verdicts[False, False]


# Trade meaning and the reveal


def test_red_held_inside_a_green_and_not_on_top_of_it() -> None:
    # Common practice, no source: on top the red takes the green over.
    palette = palette_with(
        pencil("Red", "#c33935"), pencil("Green", "#348f54"), pencil("Black", "#202020"), BLENDER
    )
    question = draw(KIND, palette, "green", 2.7, 3)
    data = data_of(question)
    assert (palette.names[data.main], palette.names[data.muter]) == ("Green", "Red")
    on_top = [o for o in data.errors if data.moves[o[-1]].pencil == data.muter]
    assert on_top
    for order in on_top:
        grade = graded(question, order)
        assert HELD_INSIDE in broken_by(data, order)
        assert grade.error > VISIBLE_STEP
        assert grade.score < 0.7


@over_sets
def test_the_reveal_compares_the_learner_s_order_with_orders_that_teach(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        for mine in (data.intended, max(data.errors, key=lambda order: data.errors[order])):
            reveal = KIND.reveal(question, (tuple(map(str, mine)),))
            first = reveal.results[0]
            assert first.label == f"your order, ΔE00 {data.errors[mine]:.1f}"
            assert " → ".join(data.words[i] for i in mine) in first.words
            shown = [row.swatch.lab for row in reveal.results if row.swatch]
            assert data.results[data.intended] in shown
            assert all(lab in data.results.values() for lab in shown)
            routes = [row.words.split(". It ")[0] for row in reveal.results]
            assert len(set(routes)) == len(routes)
            for rule in broken_by(data, mine):
                assert f"Rule broken: {rule}." in reveal.because
