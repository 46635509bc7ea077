"""Hue family and lean: the key is the reading, and grades go by steps round the wheel."""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import pairwise, product

import pytest

from drills.colour.hue import FAMILIES, family_index, wheel_position, wheel_steps
from drills.colour.munsell import munsell_to_lab
from drills.colour.reading import read_colour
from drills.colour.spaces import hex_of, in_screen_gamut
from drills.colour.words import NEUTRAL_BELOW, lean_strength, strength
from drills.kinds import draw
from drills.kinds.hue_and_lean import KIND, OFFERED, SQUARE
from drills.questions.protocol import Answers, Question
from tests.palettes import palette_of, palette_with, pencil

SEEDS = 20


@cache
def questions(
    step: float = 0.15, pencils: str = "demo", seeds: int = SEEDS
) -> tuple[Question, ...]:
    palette = palette_of(pencils)
    return tuple(
        draw(KIND, palette, region, step, 1000 * turn + seed)
        for turn, region in enumerate(KIND.regions(palette))
        for seed in range(seeds)
    )


def offset(question: Question) -> float:
    """Wheel steps of the colour from the centre of its region, onward positive."""
    place = float(wheel_position(question.target))
    return (place - FAMILIES.index(question.region) + 6.0) % 12.0 - 6.0


def truth(question: Question) -> Answers:
    family, lean = question.facts["key"]
    return ((str(family),), (str(lean),))


def claims() -> list[tuple[str, str]]:
    """Every family with each lean that can be said of it."""
    return [
        (name, lean)
        for i, name in enumerate(FAMILIES)
        for lean in (FAMILIES[i - 1], "squarely", FAMILIES[(i + 1) % 12])
    ]


# The key


def test_the_region_is_the_family_of_the_colour() -> None:
    for question in questions():
        assert FAMILIES[int(family_index(question.target))] == question.region


def test_the_key_is_the_family_and_the_side_it_leans_to() -> None:
    for question in questions():
        family, lean = truth(question)
        off, index = offset(question), FAMILIES.index(question.region)
        sides = {1: FAMILIES[(index + 1) % 12], -1: FAMILIES[index - 1]}
        expected = "squarely" if abs(off) < 0.1 else sides[1 if off > 0 else -1]
        assert (family, lean) == ((question.region,), (expected,))


def test_the_key_is_what_coach_read_says() -> None:
    for question in questions():
        reading = read_colour(question.target)
        assert question.facts["family"] == reading.family
        assert question.facts["lean"] == reading.lean


def test_squarely_means_the_same_here_as_in_a_reading() -> None:
    assert lean_strength(SQUARE - 1e-9) == "squarely"
    assert lean_strength(SQUARE) != "squarely"


def test_no_grey_is_asked_for_its_family() -> None:
    for question in (*questions(), *questions(pencils="pocket")):
        assert strength(question.target) >= NEUTRAL_BELOW


def test_every_munsell_brown_is_asked_as_the_dull_orange_it_is() -> None:
    # 5YR at low value and chroma: what everyone calls a brown (trade meaning; Munsell's 5YR).
    browns = [f"5YR {value}/{chroma}" for value in (3, 4, 5) for chroma in (4, 6)]
    palette = palette_with(*(pencil(text, hex_of(munsell_to_lab(text))) for text in browns))
    assert "orange" in KIND.regions(palette)
    assert not {"red", "yellow", "green", "violet", "blue"} & set(KIND.regions(palette))
    for seed in range(10):
        question = draw(KIND, palette, "orange", 0.3, seed)
        assert question.facts["family"] == "orange"


# Difficulty


def test_the_step_is_how_far_the_colour_stands_from_the_nearer_border() -> None:
    for question in (*questions(), *questions(0.5), *questions(0.04)):
        assert question.step == pytest.approx(0.5 - abs(offset(question)))
        assert question.step >= 0.02, "nearer than this, no family is the right one"


def test_harder_questions_stand_nearer_the_border() -> None:
    means = [sum(q.step for q in questions(step)) for step in (0.5, 0.15, 0.04)]
    assert means == sorted(means, reverse=True)


# What is offered


def test_five_families_in_a_row_are_offered_the_true_one_among_them() -> None:
    for question in questions():
        ask = KIND.ask(question, ())
        assert ask is not None
        offered = [FAMILIES.index(choice.key) for choice in ask.choices]
        assert len(offered) == OFFERED
        assert all((b - a) % 12 == 1 for a, b in pairwise(offered))
        assert FAMILIES.index(question.region) in offered


def test_the_neighbour_across_the_nearer_border_is_always_offered() -> None:
    for question in (*questions(), *questions(0.04)):
        index = FAMILIES.index(question.region)
        neighbour = FAMILIES[(index + (1 if offset(question) > 0 else -1)) % 12]
        assert neighbour in question.facts["choices"]


def test_the_true_family_stands_anywhere_alike() -> None:
    places = Counter(q.facts["choices"].index(q.region) for q in questions(seeds=60))
    fair = places.total() / OFFERED
    assert len(places) == OFFERED
    # Chi-square for four degrees of freedom; the seeds are fixed.
    assert sum((count - fair) ** 2 / fair for count in places.values()) < 13.3


def test_the_lean_is_asked_of_the_family_that_was_said() -> None:
    question = questions()[0]
    for family in FAMILIES:
        ask = KIND.ask(question, ((family,),))
        assert ask is not None
        index = FAMILIES.index(family)
        keys = [choice.key for choice in ask.choices]
        assert keys == [FAMILIES[index - 1], "squarely", FAMILIES[(index + 1) % 12]]
        assert family in ask.prompt


# Grades


def test_the_true_family_and_lean_are_no_steps_off() -> None:
    for question in questions():
        grade = KIND.grade(question, truth(question))
        assert (grade.score, grade.right) == (1.0, True)
        assert grade.error == pytest.approx(0.0, abs=1e-9)
        assert grade.verdict.startswith("Yes")


def test_the_more_steps_off_the_less_an_answer_earns() -> None:
    for question in questions():
        grades = [KIND.grade(question, ((f,), (lean,))) for f, lean in claims()]
        grades.sort(key=lambda grade: grade.error)
        scores = [grade.score for grade in grades]
        assert scores == sorted(scores, reverse=True)
        assert scores[0] == 1.0
        assert scores[1] < 1.0


def test_the_error_is_the_way_to_the_nearest_place_the_answer_covers() -> None:
    # Brute force: the wheel in thousandths, each answer covering its stretch.
    for question in questions()[::7]:
        place = float(wheel_position(question.target))
        for family, lean in claims():
            index = FAMILIES.index(family)
            side = {"squarely": (-0.1, 0.1), FAMILIES[(index + 1) % 12]: (0.1, 0.5)}
            low, high = side.get(lean, (-0.5, -0.1))
            covered = [index + low + (high - low) * i / 400 for i in range(401)]
            expected = float(wheel_steps(place, covered).min())
            assert KIND.grade(question, ((family,), (lean,))).error == pytest.approx(
                expected, abs=2e-3
            )


def test_only_the_family_makes_an_answer_right() -> None:
    for question, (family, lean) in product(questions()[::9], claims()):
        assert KIND.grade(question, ((family,), (lean,))).right == (family == question.region)


def test_a_hair_over_the_border_is_a_near_miss_and_across_the_wheel_is_nothing() -> None:
    for question in questions(0.04):
        if question.step > 0.1:
            continue
        index = FAMILIES.index(question.region)
        over = FAMILIES[(index + (1 if offset(question) > 0 else -1)) % 12]
        near = KIND.grade(question, ((over,), (question.region,)))
        far = KIND.grade(question, ((FAMILIES[(index + 6) % 12],), ("squarely",)))
        assert not near.right
        assert near.score > 0.8
        assert far.score == 0.0
        assert near.error < 0.2 < 5.0 < far.error


def test_the_verdict_names_the_truth_and_how_far_off_the_family_was() -> None:
    question = next(q for q in questions() if q.facts["lean"])
    index = FAMILIES.index(question.region)
    said = {
        0: "The family is right",
        1: "No, but near",
        2: "Two families off",
        3: "Far off",
    }
    for away, words in said.items():
        family = FAMILIES[(index + away) % 12]
        grade = KIND.grade(question, ((family,), ("squarely",)))
        assert grade.verdict.startswith(words)
        assert f"{question.region}, leaning to {question.facts['lean']}" in grade.verdict


# The reveal


def test_the_reveal_shows_each_family_as_itself_at_the_swatch_s_own_value() -> None:
    for question in questions()[::3]:
        for row in KIND.reveal(question, truth(question)).results:
            assert row.swatch is not None
            assert in_screen_gamut(row.swatch.lab)
            assert row.swatch.lab[0] == pytest.approx(question.target[0])
            if strength(row.swatch.lab) > 0.3:
                away = wheel_steps(wheel_position(row.swatch.lab), FAMILIES.index(row.label))
                assert away < 0.03


def test_the_reveal_marks_the_family_said_and_the_true_one() -> None:
    for question in questions()[::5]:
        choices = [str(name) for name in question.facts["choices"]]
        for said in choices:
            rows = KIND.reveal(question, ((said,), ("squarely",))).results
            marks = {row.label: row.mark for row in rows}
            assert list(marks) == choices
            wanted = {question.region: "best"} | {said: "yours"}
            if said == question.region:
                wanted = {said: "yours, best"}
            assert {name: mark for name, mark in marks.items() if mark} == wanted
