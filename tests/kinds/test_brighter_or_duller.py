"""Brighter or duller: one hue, two values, and only the chroma asked."""

from __future__ import annotations

import random
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.colour.hue import FAMILIES, cam_chroma, wheel_position, wheel_steps
from drills.colour.spaces import lab_to_lch, shown_lab
from drills.kinds import draw
from drills.kinds.brighter_or_duller import HUE_APART, KIND, VALUE_APART, OneHuePair
from drills.questions.protocol import CannotAskError, Question
from tests.palettes import palette_of, palette_with, pencil

STEPS = st.floats(KIND.steps[1], KIND.steps[0])
SEEDS = st.integers(0, 2**32)


def drawn(region: str, step: float, seed: int, name: str = "demo") -> tuple[Question, OneHuePair]:
    question = draw(KIND, palette_of(name), region, step, seed)
    assert isinstance(question.data, OneHuePair)
    return question, question.data


@given(st.sampled_from(FAMILIES), STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_hue_is_one_and_value_differs(region: str, step: float, seed: int) -> None:
    _, data = drawn(region, step, seed)
    pair = np.array([data.target, data.laid])
    assert float(wheel_steps(*wheel_position(pair))) <= HUE_APART
    # Half an 8-bit level may be lost at either end.
    low, high = VALUE_APART
    assert low - 1.0 <= abs(data.target[0] - data.laid[0]) <= high + 1.0


@given(st.sampled_from(FAMILIES), STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_the_key_is_the_chroma_really_shown_by_two_scales(
    region: str, step: float, seed: int
) -> None:
    question, data = drawn(region, step, seed)
    pair = np.array([data.target, data.laid])
    assert np.allclose(shown_lab(pair), pair, atol=1e-9)
    by_lab = float(np.diff(lab_to_lch(pair)[:, 1])[0])
    by_cam = float(np.diff(cam_chroma(pair))[0])
    assert by_lab * by_cam > 0
    assert question.facts["key"] == ("brighter" if by_lab > 0 else "duller")
    assert question.step == pytest.approx(abs(by_lab))


def test_neither_value_nor_place_tells_the_answer() -> None:
    """The lighter is the brighter about as often as not, and so is what was laid down."""
    seen: Counter[tuple[bool, bool]] = Counter()
    for seed in range(600):
        question, data = drawn(FAMILIES[seed % 12], 3.0 + seed % 15, seed)
        brighter = question.facts["key"] == "brighter"
        seen[data.laid[0] > data.target[0], brighter] += 1
    assert all(110 <= count <= 190 for count in seen.values()), seen


def test_the_step_is_near_the_one_wanted() -> None:
    for region in FAMILIES:
        for step in (20.0, 10.0, 5.0):
            asked = [drawn(region, step, seed)[0].step for seed in range(5)]
            assert np.median(asked) == pytest.approx(step, rel=0.25), region


def test_a_right_answer_scores_one_and_a_miss_over_a_small_step_is_nearer() -> None:
    scores = []
    for step in (2.0, 20.0):
        question, _ = drawn("red", step, 4)
        truth = str(question.facts["key"])
        wrong = "duller" if truth == "brighter" else "brighter"
        right = KIND.grade(question, ((truth,),))
        assert (right.score, right.right, right.error) == (1.0, True, 0.0)
        missed = KIND.grade(question, ((wrong,),))
        assert not missed.right
        assert missed.error == pytest.approx(question.step)
        scores.append(missed.score)
    assert 0.5 > scores[0] > scores[1] > 0.0


@given(st.sampled_from(FAMILIES), STEPS, SEEDS)
@settings(max_examples=40, deadline=None)
def test_the_reveal_brings_both_to_one_value(region: str, step: float, seed: int) -> None:
    question, data = drawn(region, step, seed)
    truth = str(question.facts["key"])
    *rows, first = KIND.reveal(question, ((truth,),)).results
    assert first.swatch is not None
    if first.beside is None:
        pair = [data.target, first.swatch.lab]
    else:
        pair = [first.swatch.lab, first.beside.lab]
    level = lab_to_lch(pair)
    assert level[0, 0] == pytest.approx(level[1, 0])
    assert level[:, 1] == pytest.approx(lab_to_lch([data.target, data.laid])[:, 1])
    assert [row.label for row in rows if row.mark == "yours, best"] == [truth]


def test_pencils_without_a_hue_are_told_so() -> None:
    palette = palette_with(pencil("Ash", "#808080"), pencil("Soot", "#202020"))
    assert KIND.regions(palette) == ()
    with pytest.raises(CannotAskError, match="no red"):
        KIND.make(palette, "red", 5.0, random.Random(1))
