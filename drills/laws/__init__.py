"""The laws that every kind of drill keeps, ours or another package's.

Each of ``LAWS`` is called with a kind and a palette; an AssertionError says what is broken:

    @pytest.mark.parametrize("law", LAWS)
    def test_my_kind_keeps(law):
        law(KIND, prepare(demo_set()))
"""

from __future__ import annotations

import json
import math
import random
import textwrap
from functools import lru_cache
from typing import get_args, get_type_hints

from drills.basics.errors import plain
from drills.colour.spaces import in_screen_gamut, shown_lab
from drills.kinds import draw
from drills.laws.blind import no_answer_without_looking_wins
from drills.laws.replies import any_answer, every_answer, is_built, is_set, key_answer
from drills.layering.palette import Palette, prepare
from drills.pencils.pencil import PencilSet
from drills.questions.protocol import Answers, Ask, CannotAskError, Grade, Kind, Question, Swatch

WIDTH = 76
"""Columns for words on a screen of 80, with its margins."""
MOST_CHOICES = 30
"""As many as there are keys to choose by (``coach.widgets.choices.KEYS``)."""

Graded = tuple[tuple[Answers, Grade], ...]


def steps_of(kind: Kind) -> tuple[float, float, float]:
    """The easiest step, one in the middle, and the hardest."""
    return kind.steps[0], math.sqrt(kind.steps[0] * kind.steps[1]), kind.steps[1]


@lru_cache(maxsize=64)
def regions_of(kind: Kind, palette: Palette) -> tuple[str, ...]:
    """What a kind offers of these pencils, asked once for all laws."""
    return kind.regions(palette)


@lru_cache(maxsize=4)
def _anew(pencils: PencilSet) -> Palette:
    """A second palette of the same pencils, of which no kind remembers anything."""
    return prepare(pencils)


@lru_cache(maxsize=64)
def drawn(kind: Kind, palette: Palette) -> tuple[tuple[Question, ...], int]:
    """A question at each of three steps in every region; and how many were refused."""
    questions, refused = [], 0
    for turn, region in enumerate(regions_of(kind, palette)):
        for seed, step in enumerate(steps_of(kind), start=3 * turn):
            try:
                questions.append(draw(kind, palette, region, step, seed))
            except CannotAskError:
                refused += 1
    return tuple(questions), refused


@lru_cache(maxsize=64)
def graded(kind: Kind, palette: Palette) -> tuple[tuple[Question, Graded], ...]:
    """Every question that is not built, with every answer to it and its grade."""
    made = []
    for question in drawn(kind, palette)[0]:
        if not is_built(kind, question):
            answers = every_answer(kind, question)
            key = key_answer(kind, question)
            if key is not None and key not in answers:
                # Of a colour to set only some settings are tried.
                answers.append(key)
            made.append((question, tuple((a, kind.grade(question, a)) for a in answers)))
    return tuple(made)


def asks_of(kind: Kind, question: Question, seed: int = 0) -> list[Ask]:
    """What is asked on the way to one answer, drawn by ``seed``."""
    answers = any_answer(kind, question, random.Random(seed).choice)
    asks = [kind.ask(question, answers[:stage]) for stage in range(len(answers))]
    assert None not in asks
    return [ask for ask in asks if ask is not None]


# What a kind says of itself


def says_what_it_is(kind: Kind, palette: Palette) -> None:
    assert kind.name == kind.name.lower().replace(" ", "-")
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


def has_regions(kind: Kind, palette: Palette) -> None:
    regions = kind.regions(palette)
    assert regions
    assert len(set(regions)) == len(regions)
    for region in regions:
        assert_plain(region)


# Making a question


def asks_what_it_offers(kind: Kind, palette: Palette) -> None:
    questions, refused = drawn(kind, palette)
    assert refused <= 0.05 * (len(questions) + refused)
    assert {question.region for question in questions} == set(regions_of(kind, palette))


def refuses_what_is_no_region(kind: Kind, palette: Palette) -> None:
    for region in ("", "mauve", "[bold]", "yellow "):
        refusal = ""
        try:
            draw(kind, palette, region, kind.steps[0], 1)
        except CannotAskError as error:
            refusal = str(error)
        assert refusal, f"“{region}” is no region, and was asked"
        assert refusal == plain(refusal, 200)


def questions_carry_what_made_them(kind: Kind, palette: Palette) -> None:
    for question in drawn(kind, palette)[0]:
        assert (question.kind, question.version) == (kind.name, kind.version)
        assert math.isfinite(question.step)
        assert question.step > 0


def the_same_seed_asks_the_same(kind: Kind, palette: Palette) -> None:
    anew = _anew(palette.set)
    regions = regions_of(kind, palette)
    for turn, region in enumerate(regions):
        step = steps_of(kind)[turn % 3]
        assert _told(kind, palette, region, step, turn) == _told(kind, anew, region, step, turn)
    # And in another order, after other questions.
    _told(kind, anew, regions[-1], steps_of(kind)[0], 99)
    last = (regions[-1], kind.steps[1], 2)
    assert _told(kind, palette, *last) == _told(kind, anew, *last)


def _told(kind: Kind, palette: Palette, region: str, step: float, seed: int) -> object:
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


def other_seeds_ask_others(kind: Kind, palette: Palette) -> None:
    # One region may have few: some of all must do.
    most = 0
    for region in regions_of(kind, palette):
        facts = set()
        for seed in range(12):
            try:
                question = draw(kind, palette, region, steps_of(kind)[1], seed)
            except CannotAskError:
                continue
            facts.add(json.dumps(dict(question.facts)))
        most = max(most, len(facts))
        if most >= 6:
            return
    raise AssertionError(f"twelve seeds ask {most} different questions at most")


def facts_are_json_and_not_much_of_it(kind: Kind, palette: Palette) -> None:
    for question in drawn(kind, palette)[0]:
        text = json.dumps(dict(question.facts), allow_nan=False, ensure_ascii=False)
        assert json.loads(text) == question.facts
        assert len(text) < 8_000


def the_target_is_what_8_bits_show(kind: Kind, palette: Palette) -> None:
    for question in drawn(kind, palette)[0]:
        if question.target is not None:
            assert in_screen_gamut(question.target)
            assert _near(question.target, shown_lab(question.target).tolist())


# Asking


def what_is_asked_fits_the_screen(kind: Kind, palette: Palette) -> None:
    for question in drawn(kind, palette)[0][::2]:
        for ask in asks_of(kind, question):
            assert len(textwrap.wrap(ask.prompt, WIDTH)) <= 3
            if ask.form == "set":
                assert not ask.choices
                assert ask.start is not None
                assert _near(ask.start, shown_lab(ask.start).tolist())
            else:
                assert 1 <= len(ask.choices) <= MOST_CHOICES
            assert len({choice.key for choice in ask.choices}) == len(ask.choices)
            assert len({choice.text for choice in ask.choices}) == len(ask.choices)
            for words in (ask.prompt, *(choice.text for choice in ask.choices)):
                assert_plain(words)
            swatches = [choice.swatch for choice in ask.choices if choice.swatch is not None]
            for swatch in (*ask.scene, *swatches):
                assert_shown(swatch)


# Grading


def any_answer_is_graded_and_revealed(kind: Kind, palette: Palette) -> None:
    for turn, question in enumerate(drawn(kind, palette)[0]):
        grades_and_reveals(kind, question, any_answer(kind, question, random.Random(turn).choice))


def grades_and_reveals(kind: Kind, question: Question, answers: Answers) -> None:
    """One answer has a sound grade, and a reveal that can be shown, in six rows at most."""
    grade, reveal = kind.grade(question, answers), kind.reveal(question, answers)
    assert 0.0 <= grade.score <= 1.0
    assert math.isfinite(grade.error)
    assert grade.error >= 0.0
    assert grade.unit in get_args(get_type_hints(Grade)["unit"])
    assert_plain(grade.verdict)
    assert len(textwrap.wrap(grade.verdict, WIDTH)) <= 3
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


def what_facts_call_the_key_is_the_best_answer(kind: Kind, palette: Palette) -> None:
    for question in drawn(kind, palette)[0]:
        assert question.facts["key"], "every question keeps its computed key"
        key = key_answer(kind, question)
        if key is not None:
            grade = kind.grade(question, key)
            assert math.isclose(grade.score, 1.0, rel_tol=1e-6)
            assert grade.right


def a_near_miss_earns_more_than_a_wild_one(kind: Kind, palette: Palette) -> None:
    """And no answer more than the best."""
    for question, answers in graded(kind, palette):
        key = key_answer(kind, question)
        best = next(grade for answer, grade in answers if answer == key)
        assert best.score == max(grade.score for _, grade in answers)
        wrong = sorted((g for _, g in answers if not g.right), key=lambda grade: grade.error)
        assert wrong, "a question with no wrong answer asks nothing"
        assert wrong[0].score >= wrong[-1].score
        assert best.error <= wrong[0].error + 1.0
        assert min(grade.score for grade in wrong) < 0.9


def chance_is_what_guessing_gets(kind: Kind, palette: Palette) -> None:
    shares = [
        sum(grade.right for _, grade in answers) / len(answers)
        for question, answers in graded(kind, palette)
        # What settings a guess makes, nobody knows.
        if not is_set(kind, question)
    ]
    if shares:
        assert math.isclose(sum(shares) / len(shares), kind.chance, rel_tol=0.15)


def the_place_of_the_key_tells_nothing(kind: Kind, palette: Palette) -> None:
    places = []
    for question in drawn(kind, palette)[0]:
        answers = key_answer(kind, question)
        for stage, reply in enumerate(answers or ()):
            ask = kind.ask(question, (answers or ())[:stage])
            if ask is not None and len(ask.choices) > 1:
                places.append([choice.key for choice in ask.choices].index(reply[0]))
                break
    if places:
        share = max(places.count(place) for place in set(places)) / len(places)
        assert len(set(places)) >= 2
        assert share < 0.7


# Revealing


def a_reveal_marks_what_was_answered_and_what_was_best(kind: Kind, palette: Palette) -> None:
    for question, answers in graded(kind, palette)[::2]:
        for answer, grade in random.Random(question.seed).sample(answers, min(4, len(answers))):
            marks = [row.mark for row in kind.reveal(question, answer).results]
            if any(marks):
                assert sum("yours" in mark for mark in marks) == 1
                assert any("best" in mark for mark in marks)
                assert ("yours, best" in marks) == grade.right


def assert_plain(words: str) -> None:
    """Words that a terminal shows as they are."""
    assert words.strip()
    assert words == plain(words, 600)


def assert_shown(swatch: Swatch) -> None:
    """A swatch that the screen shows truly."""
    for lab in (swatch.lab, swatch.surround or swatch.lab):
        assert in_screen_gamut(lab)
    assert swatch.label == plain(swatch.label)


def _near(first: tuple[float, ...], second: list[float]) -> bool:
    return all(math.isclose(*pair, abs_tol=1e-9) for pair in zip(first, second, strict=True))


LAWS = (
    *(says_what_it_is, has_regions, asks_what_it_offers, refuses_what_is_no_region),
    *(questions_carry_what_made_them, the_same_seed_asks_the_same, other_seeds_ask_others),
    *(facts_are_json_and_not_much_of_it, the_target_is_what_8_bits_show),
    *(what_is_asked_fits_the_screen, any_answer_is_graded_and_revealed),
    *(what_facts_call_the_key_is_the_best_answer, a_near_miss_earns_more_than_a_wild_one),
    *(chance_is_what_guessing_gets, the_place_of_the_key_tells_nothing),
    no_answer_without_looking_wins,
    a_reveal_marks_what_was_answered_and_what_was_best,
)
