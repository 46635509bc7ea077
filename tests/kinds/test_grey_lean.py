"""Which way does the grey lean: warm or cool, then toward one of six hues."""

from __future__ import annotations

import random
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.colour.hue import wheel_position, wheel_steps
from drills.colour.reading import read_colour
from drills.colour.spaces import lab_to_lch, screen_rgb, shown_lab, srgb_to_lab
from drills.kinds import draw
from drills.kinds.grey_lean import HUES, KIND, LEANS, LeaningGrey
from drills.questions.protocol import Answers, CannotAskError, Question
from scores.skill.skill_words import region_words
from tests.palettes import palette_of, palette_with, pencil

REGIONS = ("light greys", "middle greys", "dark greys")
LEVELS = st.floats(KIND.steps[1], KIND.steps[0])
SEEDS = st.integers(0, 2**32)
SETS = st.sampled_from(("demo", "pocket", "120"))


def drawn(region: str, step: float, seed: int, name: str = "demo") -> tuple[Question, LeaningGrey]:
    question = draw(KIND, palette_of(name), region, step, seed)
    assert isinstance(question.data, LeaningGrey)
    return question, question.data


def saying(hue: str) -> Answers:
    return (("warm" if hue in LEANS["warm"] else "cool",), (hue,))


@given(SETS, st.sampled_from(REGIONS), LEVELS, SEEDS)
@settings(max_examples=80, deadline=None)
def test_the_key_is_how_the_shown_grey_reads(
    name: str, region: str, step: float, seed: int
) -> None:
    question, data = drawn(region, step, seed, name)
    assert np.allclose(shown_lab(data.lab), data.lab, atol=1e-9)
    reading = read_colour(data.lab)
    assert reading.neutral
    assert not reading.hueless
    assert question.facts["key"] == [reading.temperature, reading.lean]
    assert f"{reading.value_word} greys" == region
    assert question.step == pytest.approx(float(lab_to_lch(data.lab)[1]))


@given(SETS, st.sampled_from(REGIONS), LEVELS, SEEDS)
@settings(max_examples=60, deadline=None)
def test_one_level_of_the_screen_never_turns_the_answer(
    name: str, region: str, step: float, seed: int
) -> None:
    _, data = drawn(region, step, seed, name)
    for channel in range(3):
        for by in (-1, 1):
            levels = screen_rgb(data.lab)
            levels[channel] += by
            near = read_colour(srgb_to_lab(levels / 255))
            place = round(near.position / 2.0) % 6
            assert HUES[place] == HUES[data.hue]


def test_every_lean_is_as_likely() -> None:
    for region in REGIONS:
        seen = Counter(HUES[drawn(region, 4.0, seed)[1].hue] for seed in range(300))
        assert set(seen) == set(HUES)
        assert max(seen.values()) < 80, (region, seen)


def test_the_pencils_own_greys_come_before_tints() -> None:
    greys = [drawn("middle greys", 5.0, seed)[0].facts for seed in range(60)]
    blues = [str(one["made_with"]) for one in greys if one["key"] == ["cool", "blue"]]
    assert blues
    assert not any("tinted" in made for made in blues)


def test_pencils_that_make_no_grey_have_theirs_tinted() -> None:
    palette = palette_with(pencil("Ember", "#d02020"), pencil("Coral", "#f07060"))
    regions = KIND.regions(palette)
    assert regions
    question = KIND.make(palette, regions[0], 5.0, random.Random(1))
    assert str(question.facts["made_with"]).endswith("tinted")


def test_no_greys_of_a_band_without_a_colour_so_light_or_dark() -> None:
    palette = palette_with(pencil("Chalk", "#fafafa"), pencil("Bone", "#f0ece0"))
    assert "dark greys" not in KIND.regions(palette)
    with pytest.raises(CannotAskError, match="dark greys"):
        KIND.make(palette, "dark greys", 5.0, random.Random(1))
    with pytest.raises(CannotAskError):
        KIND.make(palette, "blue", 5.0, random.Random(1))


def test_nearer_answers_score_better_and_only_the_lean_itself_is_right() -> None:
    question, data = drawn("light greys", 5.0, 3)
    grades = [KIND.grade(question, saying(hue)) for hue in HUES]
    by_error = sorted(grades, key=lambda grade: grade.error)
    scores = [grade.score for grade in by_error]
    assert scores == sorted(scores, reverse=True)
    assert scores[0] == 1.0
    assert 0.5 < scores[1] < 1.0
    assert scores[-1] == 0.0
    assert [hue for hue, grade in zip(HUES, grades, strict=True) if grade.right] == [HUES[data.hue]]


def test_warm_or_cool_first_then_the_hues_of_what_was_said() -> None:
    question, _ = drawn("dark greys", 5.0, 3)
    first = KIND.ask(question, ())
    assert first is not None
    assert [choice.key for choice in first.choices] == ["warm", "cool"]
    second = KIND.ask(question, (("cool",),))
    assert second is not None
    assert [choice.key for choice in second.choices] == ["violet", "blue", "green"]
    assert KIND.ask(question, saying("blue")) is None


@given(st.sampled_from(REGIONS), LEVELS, SEEDS, st.sampled_from(HUES))
@settings(max_examples=40, deadline=None)
def test_the_reveal_turns_the_colour_up_and_takes_it_out(
    region: str, step: float, seed: int, said: str
) -> None:
    question, data = drawn(region, step, seed)
    reveal = KIND.reveal(question, saying(said))
    *hues, plain = reveal.results
    swatches = [row.swatch.lab for row in hues if row.swatch]
    assert len(swatches) == len(hues)
    assert plain.swatch is not None
    assert plain.beside is not None
    assert np.ptp([lab[0] for lab in (*swatches, plain.beside.lab)]) < 1e-6
    assert lab_to_lch(plain.swatch.lab)[1] >= 2.0 * question.step
    assert wheel_steps(wheel_position(plain.swatch.lab), data.wheel) < 0.1
    assert lab_to_lch(swatches)[:, 1] == pytest.approx(question.step)
    assert lab_to_lch(plain.beside.lab)[1] == 0.0
    names = {row.label: row.mark for row in reveal.results}
    assert names[said].startswith("yours")
    assert names[HUES[data.hue]].endswith("best")


def test_a_region_is_spoken_of_as_it_is_named() -> None:
    assert [region_words(region) for region in KIND.regions(palette_of("demo"))] == list(REGIONS)
