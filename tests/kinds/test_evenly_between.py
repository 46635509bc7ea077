"""Fill the row: five swatches between two hues, nothing but hue to tell them apart."""

from __future__ import annotations

import random
from itertools import permutations

import numpy as np
import pytest
from hypothesis import example, given, reject, settings
from hypothesis import strategies as st

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family, wheel_position, wheel_steps
from drills.colour.spaces import in_screen_gamut, lab_to_lch, lch_to_lab, shown_lab
from drills.kinds import draw
from drills.kinds.fill_the_row import KIND, LEAST_CHROMA, LETTERS, HueRow
from drills.questions.draw import VISIBLE_STEP, shown_pool
from drills.questions.protocol import CannotAskError, Question
from tests.palettes import palette_of, palette_with, pencil

STEPS = st.floats(KIND.steps[1], KIND.steps[0])
SEEDS = st.integers(0, 2**32)
SETS = st.sampled_from(("demo", "pocket", "120"))
REGIONS = st.sampled_from(FAMILIES)


def drawn(region: str, step: float, seed: int, name: str = "demo") -> tuple[Question, HueRow]:
    try:
        question = draw(KIND, palette_of(name), region, step, seed)
    except CannotAskError:
        # One in some thousands is refused; tests/kinds/test_kinds.py holds the share.
        reject()
    assert isinstance(question.data, HueRow)
    return question, question.data


def key_of(question: Question) -> tuple[str, ...]:
    key = question.facts["key"]
    assert isinstance(key, list)
    return tuple(str(letter) for letter in key)


def whole_row(question: Question, data: HueRow) -> np.ndarray:
    """Lab (7, 3): the ends, and the five between them in the key's order."""
    five = [data.labs[LETTERS.index(letter)] for letter in key_of(question)]
    return np.array([data.ends[0], *five, data.ends[1]])


@given(SETS, REGIONS, STEPS, SEEDS)
@example("120", "orange", 0.109375, 12356962)
@settings(max_examples=60, deadline=None)
def test_the_row_goes_one_way_round_the_wheel_in_steps_like_the_one_asked(
    name: str, region: str, step: float, seed: int
) -> None:
    question, data = drawn(region, step, seed, name)
    row = whole_row(question, data)
    assert np.allclose(shown_lab(row), row, atol=1e-9)
    place = wheel_position(row)
    turns = (np.diff(place) + 6.0) % 12.0 - 6.0
    assert abs(np.sign(turns).sum()) == 6
    assert question.step == pytest.approx(np.abs(turns[1:-1]).min())
    # Each end is as far off as the others, so that the whole spans less than half the wheel.
    assert abs(turns.sum()) < 6.0
    assert np.abs(turns).min() > 0.5 * np.abs(turns).mean()


@given(SETS, REGIONS, STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_lightness_and_chroma_are_one_as_far_as_8_bits_go(
    name: str, region: str, step: float, seed: int
) -> None:
    question, data = drawn(region, step, seed, name)
    row = whole_row(question, data)
    lch = lab_to_lch(row)
    # One level of one channel is up to about half an L* and one C*.
    assert np.ptp(lch[:, 0]) < 1.0
    assert np.ptp(lch[:, 1]) < 2.5
    assert lch[:, 1].min() > LEAST_CHROMA - 1.0
    assert in_screen_gamut(row).all()
    assert family(row[3]) == region or wheel_steps(
        wheel_position(row[3]), FAMILIES.index(region)
    ) == pytest.approx(0.5, abs=0.1)


@given(SETS, REGIONS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_neighbours_never_pass_for_one(name: str, region: str, seed: int) -> None:
    question, data = drawn(region, KIND.steps[1], seed, name)
    row = whole_row(question, data)
    assert delta_e00(row[:-1], row[1:]).min() >= VISIBLE_STEP


@given(SETS, REGIONS, STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_chroma_is_the_most_that_all_can_have(
    name: str, region: str, step: float, seed: int
) -> None:
    """With a little more some swatch leaves the screen, or the row outdoes the colour it is of."""
    question, data = drawn(region, step, seed, name)
    row = whole_row(question, data)
    pool = shown_pool(palette_of(name))
    L, C, _ = lab_to_lch(row[3])
    made = lab_to_lch(pool.lab)
    same_hue = wheel_steps(pool.wheel, wheel_position(row[3])) < 0.15
    whole = same_hue & (np.abs(made[:, 0] - L) < 0.8) & (np.abs(made[:, 1] - C) < 1.5)
    more = lab_to_lch(row)
    # Fitted in twenty-fifths of the middle colour's own chroma, up to about 110.
    more[:, 1] = 1.1 * more[:, 1] + 5.0
    assert whole.any() or not in_screen_gamut(lch_to_lab(more)).all()


def test_the_step_is_near_the_one_wanted() -> None:
    for region in FAMILIES:
        for step in (0.7, 0.3):
            asked = [drawn(region, step, seed)[0].step for seed in range(5)]
            assert np.median(asked) == pytest.approx(step, rel=0.2), region


def test_rows_run_both_ways_round_the_wheel() -> None:
    turns = []
    for seed in range(30):
        _, data = drawn("red", 0.4, seed)
        start, end = wheel_position(np.array(data.ends))
        turns.append((end - start + 6.0) % 12.0 < 6.0)
    assert 6 < sum(turns) < 24


def test_swapping_neighbours_costs_little_and_running_backward_all() -> None:
    question, _ = drawn("green", 0.4, 3)
    right = key_of(question)
    best = KIND.grade(question, (right,))
    assert (best.score, best.right, best.error) == (1.0, True, 0.0)
    near = KIND.grade(question, ((right[1], right[0], *right[2:]),))
    far = KIND.grade(question, ((right[4], *right[1:4], right[0]),))
    back = KIND.grade(question, (right[::-1],))
    assert 1.0 > near.score > 0.8 > far.score > back.score == 0.0
    assert near.error == pytest.approx(0.4, rel=0.3)
    assert far.error == pytest.approx(1.6, rel=0.2)
    assert "backward" in back.verdict
    grades = [KIND.grade(question, (order,)) for order in permutations(LETTERS)]
    assert sum(grade.right for grade in grades) == 1


def test_the_ends_are_shown_and_the_five_are_only_letters() -> None:
    question, data = drawn("violet", 0.4, 3)
    asked = KIND.ask(question, ())
    assert asked is not None
    assert asked.form == "arrange"
    assert [swatch.lab for swatch in asked.scene] == list(data.ends)
    assert [choice.text for choice in asked.choices] == list(LETTERS)


@given(REGIONS, STEPS, SEEDS, st.permutations(LETTERS))
@settings(max_examples=40, deadline=None)
def test_the_reveal_lays_the_row_beside_the_learners(
    region: str, step: float, seed: int, order: list[str]
) -> None:
    question, data = drawn(region, step, seed)
    reveal = KIND.reveal(question, (tuple(order),))
    key = key_of(question)
    for row, true, mine in zip(reveal.results, key, order, strict=True):
        assert row.swatch is not None
        assert row.beside is not None
        assert row.swatch.lab == data.labs[LETTERS.index(true)]
        assert row.beside.lab == data.labs[LETTERS.index(mine)]
        assert ("as you had it" in row.label) == (true == mine)


def test_greys_make_no_row() -> None:
    palette = palette_with(pencil("Ash", "#808080"), pencil("Soot", "#202020"))
    assert KIND.regions(palette) == ()
    with pytest.raises(CannotAskError, match="no red"):
        KIND.make(palette, "red", 0.4, random.Random(1))
