"""Drills in which a colour is set: an answer is a measurement, and its parts are told."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.spaces import lab_to_lch
from drills.kinds import all_kinds, draw
from drills.layering.moves import LIGHT, MIDDLE, Move, pressure_word
from drills.layering.predict import predict_steps
from drills.questions.adjusting import PARTS, Part, Setting, key_of, lab_of
from drills.questions.draw import as_shown
from drills.questions.given_colour import asks_about_given, draw_for
from drills.questions.protocol import Answers, Grade, Lab, Question
from tests.palettes import palette_of

KINDS = ("predict-the-mix", "set-from-memory", "set-the-colour")
NAMED = {"lightness": "value", "chroma": "dullness", "hue": "hue"}


@cache
def questions(name: str, seeds: int = 2) -> tuple[Question, ...]:
    kind, palette = all_kinds()[name], palette_of("demo")
    return tuple(
        draw(kind, palette, region, step, 100 * turn + seed)
        for turn, region in enumerate(kind.regions(palette))
        for step in kind.steps
        for seed in range(seeds)
    )


def before(name: str) -> Answers:
    """What is answered before the colour is set."""
    return (("held",),) if name == "set-from-memory" else ()


def set_to(question: Question, lab: Lab) -> Grade:
    kind = all_kinds()[question.kind]
    return kind.grade(question, (*before(question.kind), (key_of(lab),)))


def wanted(question: Question) -> Lab:
    assert question.target is not None
    return question.target


@pytest.mark.parametrize("name", KINDS)
def test_the_error_is_the_difference_of_what_was_set_and_nearer_earns_more(name: str) -> None:
    for question in questions(name):
        target = Setting.of(wanted(question))
        for part in PARTS:
            way = -1.0 if part == "lightness" and target.lightness > 50.0 else 1.0
            grades = [set_to(question, target.moved(part, way * by).lab) for by in (0, 4, 9, 18)]
            off = [grade.error for grade in grades]
            for grade, by in zip(grades, (0, 4, 9, 18), strict=True):
                lab = lab_of(key_of(target.moved(part, way * by).lab))
                assert grade.error == pytest.approx(float(delta_e00(lab, wanted(question))))
                assert grade.right == (grade.error <= question.step)
            if sorted(off) == off:
                scores = [grade.score for grade in grades]
                assert scores == sorted(scores, reverse=True)
                assert scores[0] == 1.0


@pytest.mark.parametrize("name", KINDS)
def test_left_as_it_is_found_it_is_never_right(name: str) -> None:
    for question in questions(name):
        kind = all_kinds()[name]
        ask = kind.ask(question, before(name))
        assert ask is not None
        assert ask.start is not None
        assert not set_to(question, ask.start).right
        assert float(delta_e00(ask.start, wanted(question))) >= 1.3 * question.step


@pytest.mark.parametrize("part", PARTS)
def test_the_part_that_is_off_is_named_first(part: Part) -> None:
    named = 0
    for question in questions("set-the-colour"):
        target = Setting.of(wanted(question))
        moved = as_shown(target.moved(part, 9.0).lab)
        lch = np.abs(lab_to_lch(moved) - lab_to_lch(wanted(question)))
        alone = {"lightness": lch[1:2], "chroma": lch[:1], "hue": lch[:2]}[part]
        # Only where the screen shows the move in that part alone.
        if (alone < 0.8).all() and float(delta_e00(moved, wanted(question))) > 4.0:
            assert f"{NAMED[part]} is off most" in set_to(question, moved).verdict
            named += 1
    assert named >= 5


def test_the_figures_tell_how_far_off_each_part_is() -> None:
    question = questions("set-the-colour")[0]
    L, a, b = wanted(question)
    figures = set_to(question, (L - 8.0, a, b)).figures
    value = float(delta_e00((L - 8.0, a, b), (L, a, b)))
    assert figures == f"ΔE00 {value:.1f} off: value {value:.1f}, dullness 0.0, hue 0.0"


def test_from_memory_the_target_is_gone_before_it_is_set() -> None:
    kind = all_kinds()["set-from-memory"]
    for question in questions("set-from-memory"):
        first, second = kind.ask(question, ()), kind.ask(question, (("held",),))
        assert first is not None
        assert second is not None
        assert [swatch.lab for swatch in first.scene] == [wanted(question)]
        assert first.look_s
        assert not second.scene


def test_side_by_side_the_target_stands_beside_it() -> None:
    kind = all_kinds()["set-the-colour"]
    for question in questions("set-the-colour"):
        ask = kind.ask(question, ())
        assert ask is not None
        assert [swatch.lab for swatch in ask.scene] == [wanted(question)]


def test_a_mix_to_predict_is_what_the_layers_named_come_to_and_neither_pencil_alone() -> None:
    palette = palette_of("demo")
    hands = {f"{pressure_word(p)} pressure": p for p in (LIGHT, MIDDLE, 1.0)}
    for question in questions("predict-the-mix"):
        names, words = question.facts["pencils"], question.facts["hands"]
        assert isinstance(names, list)
        assert isinstance(words, list)
        moves = tuple(
            Move("lay", palette.names.index(str(name)), hands[str(hand)])
            for name, hand in zip(names, words, strict=True)
        )
        alone, both = predict_steps(palette, moves)
        assert float(delta_e00(both, wanted(question))) < 1.0
        assert question.facts["start"] == key_of(as_shown(alone))
        for move in moves:
            swatch = palette.lab[move.pencil]
            assert float(delta_e00(swatch, wanted(question))) > question.step


def test_a_given_colour_can_be_set() -> None:
    kind = all_kinds()["set-the-colour"]
    assert asks_about_given(kind)
    question = draw_for(kind, palette_of("demo"), (52.0, 20.0, -18.0), 4.0, 1)
    assert question.target == as_shown((52.0, 20.0, -18.0))
    assert set_to(question, wanted(question)).right


@pytest.mark.parametrize("key", ["", "50 1", "50 a 2", "nan 0 0", "50 1 999", "-1 0 0", "1 2 3 4"])
def test_what_is_no_colour_is_refused(key: str) -> None:
    with pytest.raises(ValueError, match=r".*"):
        lab_of(key)


def test_a_key_holds_the_colour_to_a_thousandth() -> None:
    lab = (52.31234, -0.0001, 17.5)
    assert all(
        math.isclose(*pair, abs_tol=6e-4) for pair in zip(lab_of(key_of(lab)), lab, strict=True)
    )
