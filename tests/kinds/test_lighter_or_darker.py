"""Lighter or darker: the key is L*, and brightness tells nothing about it."""

from __future__ import annotations

from functools import cache

import pytest

from drills.colour.hue import FAMILIES, family_index
from drills.colour.spaces import in_screen_gamut, lab_to_lch
from drills.colour.words import strength
from drills.kinds import draw
from drills.kinds.lighter_or_darker import CHROMA_APART, KIND, LEAST_STEP
from drills.questions.beside import Beside
from drills.questions.protocol import Lab, Question
from tests.palettes import palette_of

STEPS = (20.0, 4.0, 0.8)


@cache
def questions(step: float, pencils: str = "demo", seeds: int = 30) -> tuple[Question, ...]:
    palette = palette_of(pencils)
    return tuple(
        draw(KIND, palette, region, step, 1000 * turn + seed)
        for turn, region in enumerate(KIND.regions(palette))
        for seed in range(seeds)
    )


def every() -> list[Question]:
    return [q for s in STEPS for pencils in ("demo", "pocket") for q in questions(s, pencils)]


def pair(question: Question) -> tuple[Lab, Lab]:
    """The target and what was laid down, as they are shown."""
    ask = KIND.ask(question, ())
    assert ask is not None
    target, laid = ask.scene
    assert (target.label, laid.label) == ("the target", "laid down")
    return target.lab, laid.lab


def asked(target: Lab, laid: Lab) -> Question:
    """A question about these two colours."""
    return Question(
        KIND.name, 1, "red", 0, 1.0, target, {}, Beside(target, laid, laid[0] - target[0], "")
    )


def other(word: str) -> str:
    return "darker" if word == "lighter" else "lighter"


# The key


def test_the_key_is_which_of_the_two_has_the_greater_lightness() -> None:
    for question in every():
        target, laid = pair(question)
        assert question.target == target
        assert question.facts["key"] == ("lighter" if laid[0] > target[0] else "darker")


def test_the_step_is_the_difference_of_lightness_that_the_screen_shows() -> None:
    for question in every():
        target, laid = pair(question)
        assert question.step == pytest.approx(abs(laid[0] - target[0]))
        assert question.step >= LEAST_STEP
        assert question.facts["delta_l"] == pytest.approx(laid[0] - target[0], abs=1e-3)


def test_a_real_set_is_asked_near_the_wanted_step() -> None:
    for step in STEPS:
        for question in questions(step):
            assert question.step == pytest.approx(step, rel=0.3, abs=0.6)


# Value apart from brightness


def test_both_are_of_one_family_and_one_is_plainly_brighter() -> None:
    for question in every():
        for lab in pair(question):
            assert FAMILIES[int(family_index(lab))] == question.region
        target, laid = pair(question)
        assert abs(strength(target) - strength(laid)) >= CHROMA_APART - 1e-9
        assert abs(lab_to_lch(target)[1] - lab_to_lch(laid)[1]) > 4.0


def test_lighter_and_darker_come_alike() -> None:
    for step in STEPS:
        keys = [question.facts["key"] for question in questions(step)]
        assert 0.42 < keys.count("lighter") / len(keys) < 0.58


@pytest.mark.parametrize("step", STEPS)
def test_the_brighter_is_the_lighter_one_half_of_the_time_in_every_family(step: float) -> None:
    # Else a learner could answer by brightness: of oranges 20 L* apart, nearly all the
    # brighter are the lighter, of violets nearly all the darker.
    for region in KIND.regions(palette_of("demo")):
        pairs = [pair(q) for q in questions(step) if q.region == region]
        agree = [(strength(a) > strength(b)) == (a[0] > b[0]) for a, b in pairs]
        assert 0.25 < sum(agree) / len(agree) < 0.75, region


def test_either_may_be_the_brighter() -> None:
    brighter = [bool(strength(a) > strength(b)) for a, b in map(pair, questions(4.0))]
    assert 0.4 < sum(brighter) / len(brighter) < 0.6


def test_a_bright_red_no_lighter_than_a_dull_one_is_no_lighter() -> None:
    # The bright one looks lighter (Helmholtz and Kohlrausch); its value is what counts.
    bright, dull = (46.0, 62.0, 38.0), (49.0, 14.0, 7.0)
    assert KIND.grade(asked(dull, bright), (("darker",),)).right
    assert not KIND.grade(asked(dull, bright), (("lighter",),)).right
    assert KIND.grade(asked(bright, dull), (("lighter",),)).right


# Grades


def test_right_is_1_and_wrong_earns_less_the_plainer_the_step() -> None:
    scores = []
    for apart in (0.5, 1.0, 3.0, 8.0, 20.0):
        question = asked((50.0, 40.0, 20.0), (50.0 + apart, 10.0, 5.0))
        right, wrong = (KIND.grade(question, ((word,),)) for word in ("lighter", "darker"))
        assert (right.score, right.right, right.error) == (1.0, True, 0.0)
        assert not wrong.right
        assert wrong.error == pytest.approx(apart)
        scores.append(wrong.score)
    assert scores == sorted(scores, reverse=True)
    assert scores[0] < 0.5
    assert scores[-1] < 0.05


def test_the_figures_give_the_step_in_lightness_and_in_value() -> None:
    # Munsell value is about a tenth of L* (ASTM D1535); the colour of the pair does not count.
    question = asked((50.0, 60.0, 30.0), (60.0, 5.0, 2.0))
    assert KIND.grade(question, (("lighter",),)).figures == "ΔL* 10.0, or 1.0 of a value step"


@pytest.mark.parametrize(
    ("apart", "words"), [(1.0, "a touch lighter"), (5.0, "it is lighter"), (15.0, "much lighter")]
)
def test_the_verdict_says_how_much_in_words(apart: float, words: str) -> None:
    question = asked((50.0, 60.0, 30.0), (50.0 + apart, 5.0, 2.0))
    assert words in KIND.grade(question, (("darker",),)).verdict


# The reveal


def test_the_reveal_takes_the_colour_out_and_leaves_the_lightness() -> None:
    for question in every()[::11]:
        target, laid = pair(question)
        row = KIND.reveal(question, (("lighter",),)).results[-1]
        for swatch, lab in zip((row.swatch, row.beside), (target, laid), strict=True):
            assert swatch is not None
            assert swatch.lab == (lab[0], 0.0, 0.0)


def test_the_reveal_shows_what_each_word_would_have_been() -> None:
    for question in every()[::5]:
        target, laid = pair(question)
        truth = str(question.facts["key"])
        for said in ("lighter", "darker"):
            rows = {row.label: row for row in KIND.reveal(question, ((said,),)).results}
            assert rows[truth].swatch is not None
            assert rows[truth].swatch.lab == laid
            mirrored = rows[other(truth)].swatch
            if mirrored is None:
                # So far on the other side that there is no such colour.
                assert not 0.0 < 2 * target[0] - laid[0] < 100.0
            else:
                assert in_screen_gamut(mirrored.lab)
                assert mirrored.lab[0] - target[0] == pytest.approx(target[0] - laid[0])
            assert "yours" in rows[said].mark
            assert "best" in rows[truth].mark
