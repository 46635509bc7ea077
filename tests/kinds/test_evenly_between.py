"""Evenly between: one of four hues lies midway between two, and nothing but hue differs."""

from __future__ import annotations

import random
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, wheel_position, wheel_steps
from drills.colour.spaces import in_screen_gamut, lab_to_lch, shown_lab
from drills.kinds import draw
from drills.kinds.evenly_between import BEYOND, KIND, LEAST_CHROMA, LETTERS, MIDWAY, Between
from drills.questions.draw import VISIBLE_STEP
from drills.questions.protocol import CannotAskError, Question
from tests.palettes import palette_of, palette_with, pencil

STEPS = st.floats(KIND.steps[1], KIND.steps[0])
SEEDS = st.integers(0, 2**32)
SETS = st.sampled_from(("demo", "pocket", "120"))
REGIONS = st.sampled_from(FAMILIES)


def drawn(region: str, step: float, seed: int, name: str = "demo") -> tuple[Question, Between]:
    question = draw(KIND, palette_of(name), region, step, seed)
    assert isinstance(question.data, Between)
    return question, question.data


@given(SETS, REGIONS, STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_the_key_is_midway_on_the_wheel_and_the_others_lie_off_by_the_step(
    name: str, region: str, step: float, seed: int
) -> None:
    question, data = drawn(region, step, seed, name)
    shown = np.array([*data.ends, *data.labs])
    assert np.allclose(shown_lab(shown), shown, atol=1e-9)
    first, second, *places = wheel_position(shown).tolist()
    half = ((second - first + 6.0) % 12.0 - 6.0) / 2.0
    # Seen from the middle, each choice between the ends.
    off = (np.array(places) - (first + half) + 6.0) % 12.0 - 6.0
    assert (np.abs(off) < abs(half) - 0.5 * BEYOND).all()
    least, rival, *_ = np.sort(np.abs(off))
    assert question.facts["key"] == LETTERS[int(np.argmin(np.abs(off)))]
    assert question.step == pytest.approx(rival - least)
    assert least <= MIDWAY * question.step + 1e-9
    assert np.sign(half) * off == pytest.approx(np.array(data.past))


@given(SETS, REGIONS, STEPS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_nothing_but_hue_differs_and_neighbours_never_pass_for_one(
    name: str, region: str, step: float, seed: int
) -> None:
    _, data = drawn(region, step, seed, name)
    lch = lab_to_lch(np.array([*data.ends, *data.labs]))
    # One level of one channel is up to about half an L* and one C*.
    assert np.ptp(lch[:, 0]) < 1.0
    assert np.ptp(lch[:, 1]) < 2.5
    assert lch[:, 1].min() > LEAST_CHROMA - 1.0
    row = np.array(data.labs)[np.argsort(data.past)]
    assert delta_e00(row[:-1], row[1:]).min() >= VISIBLE_STEP
    assert in_screen_gamut(row).all()


def test_the_step_is_near_the_one_asked() -> None:
    for region in FAMILIES:
        for step in (0.6, 0.25):
            asked = [drawn(region, step, seed)[0].step for seed in range(5)]
            assert np.median(asked) == pytest.approx(step, rel=0.2), region


def test_the_one_midway_is_any_of_the_four_in_hue_and_stands_in_any_place() -> None:
    ranks: Counter[int] = Counter()
    places: Counter[int] = Counter()
    ways = []
    for seed in range(120):
        _, data = drawn(FAMILIES[seed % 12], 0.4, seed)
        ranks[int(np.argsort(np.argsort(data.past))[data.best])] += 1
        places[data.best] += 1
        start, end = wheel_position(np.array(data.ends)).tolist()
        ways.append((end - start + 6.0) % 12.0 < 6.0)
    for counts in (ranks, places):
        assert set(counts) == {0, 1, 2, 3}
        assert max(counts.values()) < 0.4 * counts.total()
    assert 40 < sum(ways) < 80


def test_the_farther_from_midway_the_less_it_earns_and_the_verdict_says_which_way() -> None:
    for seed in range(12):
        question, data = drawn("green", 0.4, seed)
        grades = {i: KIND.grade(question, ((LETTERS[i],),)) for i in range(4)}
        by_error = sorted(grades, key=lambda i: abs(data.past[i]))
        scores = [grades[i].score for i in by_error]
        assert scores == sorted(scores, reverse=True)
        assert scores[0] == 1.0
        assert [grades[i].right for i in by_error] == [True, False, False, False]
        for i in by_error[1:]:
            assert grades[i].error == pytest.approx(abs(data.past[i]))
            nearer = wheel_steps(*wheel_position(np.array([data.labs[i], data.ends[0]]))) < (
                wheel_steps(*wheel_position(np.array([data.labs[i], data.ends[1]])))
            )
            assert f"nearer the {'first' if nearer else 'second'}" in grades[i].verdict


def test_two_are_shown_and_four_letters_offered() -> None:
    question, data = drawn("violet", 0.4, 3)
    asked = KIND.ask(question, ())
    assert asked is not None
    assert asked.form == "choose"
    assert [swatch.lab for swatch in asked.scene] == list(data.ends)
    assert [choice.text for choice in asked.choices] == list(LETTERS[:4])
    assert KIND.ask(question, (("A",),)) is None


def test_the_reveal_lays_all_six_in_the_order_of_their_hues() -> None:
    question, data = drawn("orange", 0.4, 5)
    wrong = LETTERS[(data.best + 1) % 4]
    rows = KIND.reveal(question, ((wrong,),)).results
    shown = [row.swatch.lab for row in rows if row.swatch]
    inner = [data.labs[i] for i in np.argsort(data.past)]
    assert shown == [data.ends[0], *inner, data.ends[1]]
    marks = {row.label: row.mark for row in rows if row.mark}
    assert marks == {wrong: "yours", LETTERS[data.best]: "best"}


def test_greys_give_no_hues() -> None:
    palette = palette_with(pencil("Ash", "#808080"), pencil("Soot", "#202020"))
    assert KIND.regions(palette) == ()
    with pytest.raises(CannotAskError, match="no red"):
        KIND.make(palette, "red", 0.4, random.Random(1))
