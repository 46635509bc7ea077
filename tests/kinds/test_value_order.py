"""Put in value order: five of mixed hue and chroma, graded by the pairs put the wrong way round."""

from __future__ import annotations

import random
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import kendalltau, spearmanr

from drills.colour.munsell import munsell_value
from drills.colour.spaces import shown_lab
from drills.colour.words import NEUTRAL_BELOW, strength, value_word
from drills.kinds import draw
from drills.kinds.value_order import KIND, LEAST_STEP, LETTERS, MISLEADS, ValueRow
from drills.questions.protocol import CannotAskError, Question
from drills.questions.results import wrong_way_round
from scores.skill.skill_words import region_words
from tests.palettes import palette_of, palette_with, pencil

REGIONS = ("light colours", "middle colours", "dark colours")
STEPS = st.floats(KIND.steps[1], KIND.steps[0])
SEEDS = st.integers(0, 2**32)
SETS = st.sampled_from(("demo", "pocket", "120"))
ROWS = st.lists(st.floats(0, 100).map(lambda x: round(x, 2)), min_size=2, max_size=6, unique=True)


def drawn(region: str, step: float, seed: int, name: str = "demo") -> tuple[Question, ValueRow]:
    question = draw(KIND, palette_of(name), region, step, seed)
    assert isinstance(question.data, ValueRow)
    return question, question.data


def truth(data: ValueRow) -> tuple[str, ...]:
    return tuple(sorted(LETTERS, key=lambda letter: -data.labs[LETTERS.index(letter)][0]))


# The measure of disorder


@given(ROWS)
def test_a_row_in_order_costs_nothing_and_reversed_all(row: list[float]) -> None:
    row = sorted(row)
    assert wrong_way_round(row) == (0.0, 0.0)
    share, widest = wrong_way_round(row[::-1])
    assert share == pytest.approx(1.0)
    assert widest == pytest.approx(row[-1] - row[0])


@given(st.permutations(range(6)), st.floats(0.5, 20))
def test_with_even_gaps_it_is_spearmans_rank_correlation(order: list[int], gap: float) -> None:
    share, _ = wrong_way_round([gap * place for place in order])
    assert 1.0 - 2.0 * share == pytest.approx(float(spearmanr(range(6), order).statistic))


@given(st.permutations(range(5)))
def test_it_is_nothing_just_where_kendalls_tau_is_one(order: list[int]) -> None:
    tau = kendalltau(range(5), order).statistic
    share, _ = wrong_way_round([float(place) for place in order])
    assert (share == 0.0) == (tau == pytest.approx(1.0))
    assert (share == pytest.approx(1.0)) == (tau == pytest.approx(-1.0))


# The question


@given(SETS, st.sampled_from(REGIONS), STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_the_key_is_the_lightness_really_shown(
    name: str, region: str, step: float, seed: int
) -> None:
    question, data = drawn(region, step, seed, name)
    labs = np.array(data.labs)
    assert np.allclose(shown_lab(labs), labs, atol=1e-9)
    assert question.facts["key"] == list(truth(data))
    gaps = -np.diff(sorted(labs[:, 0], reverse=True))
    assert question.step == pytest.approx(gaps.min())
    assert question.step >= LEAST_STEP
    assert KIND.grade(question, (truth(data),)).right


@given(SETS, st.sampled_from(REGIONS), STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_hue_and_chroma_are_mixed_and_mislead(
    name: str, region: str, step: float, seed: int
) -> None:
    _, data = drawn(region, step, seed, name)
    in_order = np.array([data.labs[LETTERS.index(letter)] for letter in truth(data)])
    about = strength(in_order)
    assert (np.diff(about) >= MISLEADS).any(), "the darker of some two neighbours is the brighter"
    assert about.max() >= NEUTRAL_BELOW
    grey = munsell_value([(in_order[2, 0], 0.0, 0.0)])[0]
    assert f"{value_word(float(grey))} colours" == region


def test_the_step_is_near_the_one_wanted_where_the_band_has_room() -> None:
    for region in REGIONS:
        for step in (2.0, 4.0):
            asked = [drawn(region, step, seed)[0].step for seed in range(5)]
            assert np.median(asked) == pytest.approx(step, rel=0.2), region


# Grading


def test_swapping_near_ones_costs_little_and_far_ones_much() -> None:
    question, data = drawn("middle colours", 4.0, 7)
    right = truth(data)
    near = KIND.grade(question, ((right[0], right[2], right[1], *right[3:]),))
    far = KIND.grade(question, ((right[4], *right[1:4], right[0]),))
    wild = KIND.grade(question, (right[::-1],))
    assert 1.0 > near.score > 0.8
    assert near.score > far.score > wild.score == 0.0
    assert near.error < far.error == pytest.approx(wild.error)
    assert not near.right


def test_an_order_by_chance_earns_about_a_quarter() -> None:
    question, _ = drawn("middle colours", 4.0, 7)
    grades = [KIND.grade(question, (order,)) for order in permutations(LETTERS)]
    assert np.mean([grade.score for grade in grades]) == pytest.approx(0.28, abs=0.06)
    assert sum(grade.right for grade in grades) / len(grades) == pytest.approx(KIND.chance)


# The reveal


@given(st.sampled_from(REGIONS), STEPS, SEEDS, st.permutations(LETTERS))
@settings(max_examples=40, deadline=None)
def test_the_reveal_shows_each_beside_its_grey_lightest_first(
    region: str, step: float, seed: int, order: list[str]
) -> None:
    question, data = drawn(region, step, seed)
    reveal = KIND.reveal(question, (tuple(order),))
    labels = [row.label for row in reveal.results]
    assert [label[5] for label in labels] == list(truth(data))
    for row in reveal.results:
        assert row.swatch is not None
        assert row.beside is not None
        assert row.beside.lab == (row.swatch.lab[0], 0.0, 0.0)
    assert all("rightly placed" in label for label in labels) == (tuple(order) == truth(data))


def test_one_colour_cannot_be_put_in_order() -> None:
    palette = palette_with(pencil("Ember", "#d02020"))
    assert KIND.regions(palette) == ()
    with pytest.raises(CannotAskError):
        KIND.make(palette, "middle colours", 4.0, random.Random(1))
    with pytest.raises(CannotAskError):
        KIND.make(palette_of("demo"), "red", 4.0, random.Random(1))


def test_a_region_is_spoken_of_as_it_is_named() -> None:
    assert [region_words(region) for region in KIND.regions(palette_of("demo"))] == list(REGIONS)


def test_what_misled_is_said_alike_of_bright_and_of_rich_colours() -> None:
    """A bright colour looks lighter than it is; that one looks darker is never said beside it."""
    said = set()
    for seed in range(12):
        question, _ = drawn(REGIONS[seed % len(REGIONS)], 4.0, seed)
        for order in list(permutations(LETTERS))[::7]:
            told = KIND.reveal(question, (order,)).because[0]
            said |= {end for end in ("rich is not always dark.", "than it is.") if end in told}
            assert "look dark" not in told
            assert "misled you" not in told
    assert len(said) == 2
