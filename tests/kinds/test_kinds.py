"""Every drill kind keeps the protocol: whatever stands in drills/kinds is held to these laws."""

from __future__ import annotations

import json
import math
import random
import textwrap
from collections.abc import Iterator
from functools import cache
from typing import get_args, get_type_hints

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coach.widgets.choices import KEYS
from drills.basics.errors import plain
from drills.colour.spaces import in_screen_gamut, shown_lab
from drills.kinds import all_kinds, draw
from drills.layering.palette import prepare
from drills.pencils.sets import demo_set
from drills.questions.protocol import (
    Ask,
    CannotAskError,
    Grade,
    Kind,
    Lab,
    Question,
    Reveal,
    Swatch,
)
from tests.palettes import palette_of
from tests.replies import any_answer, every_answer, is_built, key_answer

KINDS = tuple(all_kinds())
SETS = ("demo", "pocket")
WIDTH = 76
"""Columns for words on a screen of 80, with its margins."""

over_kinds = pytest.mark.parametrize("name", KINDS)
over_sets = pytest.mark.parametrize("pencils", SETS)


def steps_of(kind: Kind) -> tuple[float, float, float]:
    """The easiest step, one in the middle, and the hardest."""
    easiest, hardest = kind.steps
    return easiest, math.sqrt(easiest * hardest), hardest


@cache
def drawn(name: str, pencils: str) -> tuple[tuple[Question, ...], int]:
    """A question at each of three steps in every region; and how many were refused."""
    kind, palette = all_kinds()[name], palette_of(pencils)
    questions, refused = [], 0
    for turn, region in enumerate(kind.regions(palette)):
        for seed, step in enumerate(steps_of(kind), start=3 * turn):
            try:
                questions.append(draw(kind, palette, region, step, seed))
            except CannotAskError:
                refused += 1
    return tuple(questions), refused


def each(name: str, pencils: str) -> Iterator[tuple[Kind, Question]]:
    """Every question drawn, with its kind."""
    for question in drawn(name, pencils)[0]:
        yield all_kinds()[name], question


@cache
def graded(
    name: str, pencils: str
) -> tuple[tuple[Question, tuple[tuple[object, Grade], ...]], ...]:
    """Every question that is not built, with every answer to it and its grade."""
    return tuple(
        (question, tuple((a, kind.grade(question, a)) for a in every_answer(kind, question)))
        for kind, question in each(name, pencils)
        if not is_built(kind, question)
    )


def asks_of(kind: Kind, question: Question, seed: int = 0) -> list[Ask]:
    """What is asked on the way to one answer, drawn by ``seed``."""
    answers = any_answer(kind, question, random.Random(seed).choice)
    asks = [kind.ask(question, answers[:stage]) for stage in range(len(answers))]
    assert None not in asks
    return [ask for ask in asks if ask is not None]


# What a kind says of itself


@over_kinds
def test_a_kind_says_what_it_is(name: str) -> None:
    kind = all_kinds()[name]
    assert kind.name == name == name.lower().replace(" ", "-")
    assert kind.version >= 1
    for words in (kind.title, kind.trains):
        assert words
        assert words == plain(words)
    easiest, hardest = kind.steps
    if not kind.unit:
        # Nothing perceived is measured, so there is no threshold to seek.
        assert easiest == hardest > 0
        assert not kind.needs_colour
    else:
        assert easiest > hardest > 0, "smaller is harder"
    assert 0 <= kind.chance < 1
    assert 1 <= kind.seconds <= 300
    assert kind.unit == plain(kind.unit, 20)


@over_kinds
@over_sets
def test_both_shipped_sets_can_be_drilled(name: str, pencils: str) -> None:
    regions = all_kinds()[name].regions(palette_of(pencils))
    assert regions
    assert len(set(regions)) == len(regions)
    for region in regions:
        assert_plain(region)


# Making a question


@over_kinds
@over_sets
def test_a_region_offered_is_a_region_that_can_be_asked(name: str, pencils: str) -> None:
    questions, refused = drawn(name, pencils)
    assert refused <= 0.05 * (len(questions) + refused)
    kind = all_kinds()[name]
    assert {question.region for question in questions} == set(kind.regions(palette_of(pencils)))


@over_kinds
@over_sets
def test_a_question_carries_what_made_it(name: str, pencils: str) -> None:
    for kind, question in each(name, pencils):
        assert (question.kind, question.version) == (kind.name, kind.version)
        assert math.isfinite(question.step)
        assert question.step > 0


@over_kinds
def test_the_same_pencils_region_step_and_seed_ask_the_same(name: str) -> None:
    # The second palette is made anew, so that nothing remembered helps.
    kind, mine, yours = all_kinds()[name], palette_of("demo"), prepare(demo_set())
    for turn, region in enumerate(kind.regions(mine)):
        step = steps_of(kind)[turn % 3]
        assert _told(kind, mine, region, step, turn) == _told(kind, yours, region, step, turn)
    # And in another order, after other questions.
    region = kind.regions(mine)[-1]
    draw(kind, yours, region, steps_of(kind)[0], 99)
    assert _told(kind, mine, region, kind.steps[1], 2) == _told(
        kind, yours, region, kind.steps[1], 2
    )


def _told(kind: Kind, palette: object, region: str, step: float, seed: int) -> object:
    """All of a question that shows: facts, step, target, asks, a grade and a reveal."""
    try:
        question = draw(kind, palette, region, step, seed)
    except CannotAskError as error:
        return str(error)
    answers = any_answer(kind, question, random.Random(seed).choice)
    return (
        question.facts,
        question.step,
        question.target,
        asks_of(kind, question, seed),
        answers,
        kind.grade(question, answers),
        kind.reveal(question, answers),
    )


@over_kinds
def test_other_seeds_ask_other_questions(name: str) -> None:
    kind, palette = all_kinds()[name], palette_of("demo")
    region, step = kind.regions(palette)[0], steps_of(kind)[1]
    told = set()
    for seed in range(12):
        try:
            told.add(json.dumps(dict(draw(kind, palette, region, step, seed).facts)))
        except CannotAskError:
            continue
    assert len(told) >= 6


@over_kinds
@over_sets
def test_facts_are_json_and_not_much_of_it(name: str, pencils: str) -> None:
    for _, question in each(name, pencils):
        text = json.dumps(dict(question.facts), allow_nan=False, ensure_ascii=False)
        assert json.loads(text) == question.facts
        assert len(text) < 8_000


@over_kinds
@over_sets
def test_the_target_is_what_8_bits_show(name: str, pencils: str) -> None:
    for _, question in each(name, pencils):
        if question.target is not None:
            assert in_screen_gamut(question.target)
            assert question.target == pytest.approx(tuple(shown_lab(question.target)), abs=1e-9)


# Asking


@over_kinds
@over_sets
def test_what_is_asked_fits_the_screen(name: str, pencils: str) -> None:
    for kind, question in list(each(name, pencils))[::2]:
        for ask in asks_of(kind, question):
            assert len(textwrap.wrap(ask.prompt, WIDTH)) <= 3
            assert 1 <= len(ask.choices) <= len(KEYS)
            assert len({choice.key for choice in ask.choices}) == len(ask.choices)
            assert len({choice.text for choice in ask.choices}) == len(ask.choices)
            for words in (ask.prompt, *(choice.text for choice in ask.choices)):
                assert_plain(words)
            swatches = [choice.swatch for choice in ask.choices if choice.swatch is not None]
            for swatch in (*ask.scene, *swatches):
                assert_shown(swatch)


# Grading


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_every_answer_that_can_be_given_is_graded_and_revealed(data: st.DataObject) -> None:
    name, pencils = data.draw(st.sampled_from(KINDS)), data.draw(st.sampled_from(SETS))
    kind, question = all_kinds()[name], data.draw(st.sampled_from(drawn(name, pencils)[0]))
    answers = any_answer(kind, question, lambda keys: data.draw(st.sampled_from(keys)))
    grade = kind.grade(question, answers)
    assert 0.0 <= grade.score <= 1.0
    assert math.isfinite(grade.error)
    assert grade.error >= 0.0
    assert grade.unit in get_args(get_type_hints(Grade)["unit"])
    assert_plain(grade.verdict)
    assert len(textwrap.wrap(grade.verdict, WIDTH)) <= 3
    assert_told(kind.reveal(question, answers), grade)


@over_kinds
@over_sets
def test_what_facts_call_the_key_is_the_best_answer(name: str, pencils: str) -> None:
    for kind, question in each(name, pencils):
        assert question.facts["key"], "every question keeps its computed key"
        key = key_answer(kind, question)
        if key is not None:
            grade = kind.grade(question, key)
            assert grade.score == pytest.approx(1.0)
            assert grade.right


@over_kinds
@over_sets
def test_no_answer_beats_the_best_and_a_near_miss_earns_more_than_a_wild_one(
    name: str, pencils: str
) -> None:
    kind = all_kinds()[name]
    for question, answers in graded(name, pencils):
        key = key_answer(kind, question)
        best = next(grade for answer, grade in answers if answer == key)
        assert best.score == max(grade.score for _, grade in answers)
        wrong = sorted((g for _, g in answers if not g.right), key=lambda grade: grade.error)
        assert wrong, "a question with no wrong answer asks nothing"
        assert wrong[0].score >= wrong[-1].score
        assert best.error <= wrong[0].error + 1.0
        assert min(grade.score for grade in wrong) < 0.9


@over_kinds
def test_chance_is_what_guessing_gets(name: str) -> None:
    shares = [
        sum(grade.right for _, grade in answers) / len(answers)
        for pencils in SETS
        for _, answers in graded(name, pencils)
    ]
    if shares:
        assert sum(shares) / len(shares) == pytest.approx(all_kinds()[name].chance, rel=0.15)


@over_kinds
def test_the_place_of_the_key_tells_nothing(name: str) -> None:
    kind = all_kinds()[name]
    places = []
    for question in drawn(name, "demo")[0]:
        answers = key_answer(kind, question)
        if answers is None:
            continue
        for stage, reply in enumerate(answers):
            ask = kind.ask(question, answers[:stage])
            if ask is not None and len(ask.choices) > 1:
                places.append([choice.key for choice in ask.choices].index(reply[0]))
                break
    if places:
        share = max(places.count(place) for place in set(places)) / len(places)
        assert len(set(places)) >= 2
        assert share < 0.7


# Revealing


@over_kinds
@over_sets
def test_a_reveal_marks_what_was_answered_and_what_was_best(name: str, pencils: str) -> None:
    kind = all_kinds()[name]
    for question, answers in graded(name, pencils)[::2]:
        for answer, grade in random.Random(question.seed).sample(answers, min(4, len(answers))):
            marks = [row.mark for row in kind.reveal(question, answer).results]
            if any(marks):
                assert sum("yours" in mark for mark in marks) == 1
                assert any("best" in mark for mark in marks)
                assert ("yours, best" in marks) == grade.right


def assert_told(reveal: Reveal, grade: Grade) -> None:
    """A reveal that can be shown, in six rows at most."""
    assert reveal.because
    assert len(reveal.results) <= 6
    for row in reveal.results:
        assert_plain(row.label)
        assert_plain(row.words)
        for swatch in (row.swatch, row.beside):
            if swatch is not None:
                assert all(math.isfinite(part) for part in swatch.lab)
    for words in reveal.because:
        assert_plain(words)
    assert reveal.limits == plain(reveal.limits, 400)
    if reveal.target is not None:
        assert_shown(reveal.target)
    if any(row.mark == "yours, best" for row in reveal.results):
        assert grade.right


def assert_plain(words: str) -> None:
    """Words that a terminal shows as they are."""
    assert words.strip()
    assert words == plain(words, 600)


def assert_shown(swatch: Swatch) -> None:
    """A swatch that the screen shows truly."""
    labs: list[Lab] = [swatch.lab] + ([swatch.surround] if swatch.surround else [])
    for lab in labs:
        assert in_screen_gamut(lab)
    assert swatch.label == plain(swatch.label)
