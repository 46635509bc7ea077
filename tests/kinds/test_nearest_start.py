"""Nearest start: the pencil of the target's hue, among ones that look more like it."""

from __future__ import annotations

import random
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, wheel_position, wheel_steps
from drills.colour.spaces import lab_to_lch, shown_lab
from drills.colour.words import strength
from drills.kinds import draw
from drills.kinds.nearest_start import (
    CLEARLY,
    HUED,
    KIND,
    LEAST_GAP,
    LETTERS,
    NOT_IT,
    SAME_HUE,
    StartsOffered,
)
from drills.questions.protocol import CannotAskError, Question
from tests.palettes import BLENDER, palette_of, palette_with, pencil

STEPS = st.floats(KIND.steps[1], KIND.steps[0])
SEEDS = st.integers(0, 2**32)


def drawn(
    region: str, step: float, seed: int, name: str = "demo"
) -> tuple[Question, StartsOffered]:
    question = draw(KIND, palette_of(name), region, step, seed)
    assert isinstance(question.data, StartsOffered)
    return question, question.data


@given(st.sampled_from(("demo", "120")), st.sampled_from(FAMILIES), STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_the_key_is_the_nearest_in_hue_of_the_swatches_really_shown(
    name: str, region: str, step: float, seed: int
) -> None:
    question, data = drawn(region, step, seed, name)
    shown = np.array([data.target, *data.swatches])
    assert np.allclose(shown_lab(shown), shown, atol=1e-9)
    place = wheel_position(shown)
    off = wheel_steps(place[0], place[1:])
    assert question.facts["key"] == LETTERS[int(np.argmin(off))]
    assert off == pytest.approx(np.array(data.off))
    first, second = np.sort(off)[:2]
    assert question.step == pytest.approx(second - first)
    assert question.step >= LEAST_GAP - 1e-9
    assert first <= min(SAME_HUE, CLEARLY * question.step + 1e-9)
    assert (strength(shown) >= HUED - 1e-9).all()


@given(st.sampled_from(("demo", "120")), st.sampled_from(FAMILIES), STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_the_best_is_not_the_colour_itself(name: str, region: str, step: float, seed: int) -> None:
    _, data = drawn(region, step, seed, name)
    apart = delta_e00(np.array(data.swatches), np.array(data.target))
    assert apart[data.best] >= NOT_IT


def test_how_many_look_more_like_it_is_left_to_chance() -> None:
    nearer = Counter(
        sum(one < data.apart[data.best] for one in data.apart)
        for seed in range(200)
        for _, data in [drawn(FAMILIES[seed % 12], 1.0, seed, "120")]
    )
    assert set(nearer) == {0, 1, 2, 3}
    assert max(nearer.values()) < 80


def test_the_step_is_near_the_one_wanted_where_there_are_many_pencils() -> None:
    for region in FAMILIES:
        for step in (2.0, 0.5):
            asked = [drawn(region, step, seed, "120")[0].step for seed in range(5)]
            assert np.median(asked) == pytest.approx(step, rel=0.2), region


def test_hue_is_graded_and_not_looks() -> None:
    question, data = next(
        (question, data)
        for seed in range(40)
        for question, data in [drawn("orange", 1.0, seed)]
        if np.argmin(data.off) != np.argmin(data.apart)
    )
    grades = [KIND.grade(question, ((letter,),)) for letter in LETTERS]
    by_hue = np.argsort(data.off)
    scores = [grades[i].score for i in by_hue]
    assert scores[0] == 1.0
    assert scores == sorted(scores, reverse=True)
    assert [grades[i].right for i in by_hue] == [True, False, False, False]
    tempting = int(np.argmin(data.apart))
    assert grades[tempting].score < 1.0
    assert "is nearer in" in grades[tempting].verdict


def test_who_took_what_looks_like_it_is_told_in_what_it_is_nearer() -> None:
    """Never that a bright yellow looks like a pale pink: it is nearer in value, which is so."""
    said = set()
    for seed in range(30):
        question, data = drawn("red-violet", 1.0, seed)
        for place, letter in enumerate(LETTERS):
            verdict = KIND.grade(question, ((letter,),)).verdict
            mine, best = data.swatches[place], data.swatches[data.best]
            if "nearer in value" in verdict:
                said.add("value")
                assert abs(mine[0] - data.target[0]) < abs(best[0] - data.target[0])
            elif "nearer in chroma" in verdict:
                said.add("chroma")
                off = [abs(float(strength(lab) - strength(data.target))) for lab in (mine, best)]
                assert off[0] < off[1]
            assert "looks more like" not in verdict
    assert said


def test_letters_and_not_names_are_offered() -> None:
    question, _ = drawn("red", 1.0, 4)
    asked = KIND.ask(question, ())
    assert asked is not None
    assert [choice.text for choice in asked.choices] == list(LETTERS)
    assert KIND.ask(question, (("A",),)) is None


@given(st.sampled_from(FAMILIES), STEPS, SEEDS)
@settings(max_examples=40, deadline=None)
def test_the_reveal_brings_each_pencil_to_the_targets_value(
    region: str, step: float, seed: int
) -> None:
    question, data = drawn(region, step, seed)
    reveal = KIND.reveal(question, (("A",),))
    labs = np.array([row.swatch.lab for row in reveal.results if row.swatch])
    assert len(labs) == len(LETTERS)
    lch, target = lab_to_lch(labs), lab_to_lch(data.target)
    assert lch[:, 0] == pytest.approx(float(target[0]))
    assert (lch[:, 1] <= target[1] + 1e-6).all()
    # What is left is the pencils' own error in hue, nearest first; far hues may be made duller.
    left = wheel_steps(wheel_position(labs), wheel_position(data.target))
    assert left[0] == pytest.approx(sorted(data.off)[0], abs=0.05)


def test_few_pencils_of_one_hue_are_refused_and_a_blender_is_never_offered() -> None:
    palette = palette_with(*(pencil(f"Red {i}", f"#c0{i}020") for i in range(4)), BLENDER)
    assert KIND.regions(palette) == ()
    with pytest.raises(CannotAskError):
        KIND.make(palette, "red", 1.0, random.Random(1))
    pocket = palette_of("pocket")
    assert pocket.blender is not None
    assert pocket.names[pocket.blender] not in {
        name for seed in range(20) for name in drawn("green", 1.0, seed, "pocket")[1].names
    }
