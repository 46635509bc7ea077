"""The decks shipped: sound, named by invention, and asking sound questions of both sets."""

from __future__ import annotations

import random

import pytest

from coach.session.assigned.deck_questions import preview, ready_deck
from decks.deck_file import read_deck
from decks.pack import pack
from decks.starters import (
    starter,
    starter_course,
    starter_courses,
    starter_names,
    title_and_purpose,
)
from drills.colour.difference import delta_e00
from drills.kinds import all_kinds, draw
from drills.laws.replies import any_answer, is_built, key_answer
from drills.questions.adjusting import key_of
from drills.questions.given_colour import asks_about_given, draw_for
from drills.questions.protocol import Answers, Kind, Question
from tests.palettes import palette_of

EVERY = [(name, pencils) for name in starter_names() for pencils in ("pocket", "demo")]


def test_the_seven_make_two_courses_that_use_every_kind_of_drill():
    courses = [starter_course(name) for name in starter_courses()]
    assert [one.title for one in courses] == ["A first month", "A second month"]
    decks = [deck for course in courses for deck in course.decks]
    assert sorted(one.name for one in decks) == list(starter_names())
    assert {kind for one in decks for kind in one.deck.kinds} == set(all_kinds())
    for course in courses:
        assert [one.needs for one in course.decks[1:]] == [(d.name,) for d in course.decks[:-1]]
        assert {level.name for level in course.levels} == {"less time", "more practice"}
        assert title_and_purpose(starter_courses()[courses.index(course)])[0] == course.title


@pytest.mark.parametrize("name", starter_names())
def test_every_step_says_something_to_try_on_paper_and_the_week_grows(name: str):
    deck = starter(name)
    assert len(deck.steps) >= 2
    assert all(step.word and step.on_paper and step.kinds for step in deck.steps)
    days = [step.day for step in deck.steps]
    assert days[0] == 1
    assert days[-1] > 1
    hardest = [step.hardest for step in deck.steps]
    grows = [deck.items_on(day) for day in range(1, deck.days + 1)]
    assert hardest[0] < 1.0
    assert grows == sorted(grows)
    assert grows[0] < grows[-1]
    assert {kind for step in deck.steps for kind in step.kinds} == set(deck.kinds)


def test_at_least_six_are_shipped_each_of_its_own():
    made = [starter(name) for name in starter_names()]
    assert len(made) >= 6
    assert len({deck.fingerprint for deck in made}) == len(made)
    assert all(deck.author.endswith("(invented)") for deck in made)
    assert all(deck.purpose and deck.note for deck in made)
    assert len(starter("five-colours").targets) == 5


@pytest.mark.parametrize("name", starter_names())
def test_a_starter_packs_and_reads_back(name: str):
    assert read_deck(pack(starter(name)).encode(), name).deck == starter(name)


@pytest.mark.parametrize(("name", "pencils"), EVERY)
def test_every_task_gives_a_question_that_can_be_answered(name: str, pencils: str):
    deck, palette, kinds = starter(name), palette_of(pencils), all_kinds()
    ready = ready_deck(deck, palette, kinds)
    assert {task.kind for task in ready.tasks} == set(deck.kinds)
    asked = list(preview(ready, kinds, seed=7))
    assert len(asked) == len(ready.tasks)
    for task, question in zip(ready.tasks, asked, strict=True):
        assert (question.kind, question.region) == (task.kind, task.region)
        kind = kinds[question.kind]
        answers = answered_in_full(kind, question)
        assert 0.0 <= kind.grade(question, answers).score <= 1.0
        best = best_answer(question) if is_built(kind, question) else key_answer(kind, question)
        assert kind.grade(question, best).right, (question.kind, best)
        if not task.target:
            again = draw(kind, palette, task.region, question.step, question.seed)
            assert again.region == task.region


def answered_in_full(kind: Kind, question: Question) -> Answers:
    """Some answer to every stage. Each stage is a choice of two at least, or a colour to set from
    a start; only where a colour is to be remembered is there nothing to choose, and more follows.
    """
    answers = any_answer(kind, question, random.Random(5).choice)
    stages = [kind.ask(question, answers[:at]) for at in range(len(answers))]
    assert kind.ask(question, answers) is None
    for at, stage in enumerate(stages):
        assert stage is not None
        if stage.form == "set":
            assert stage.start is not None
        elif len(stage.choices) < 2:
            assert stage.look_s is not None
            assert at + 1 < len(stages)
    return answers


@pytest.mark.parametrize(("name", "pencils"), EVERY)
def test_every_target_is_asked_about_by_some_kind_and_is_the_colour_shown(name: str, pencils: str):
    """Within the half of a level of a screen's 8 bits, a question about a target shows it."""
    deck, kinds = starter(name), all_kinds()
    ready = ready_deck(deck, palette_of(pencils), kinds)
    asked = {task.target for task in ready.tasks if task.target}
    assert asked == {target.name for target in deck.targets}
    labs = {target.name: target.lab for target in deck.targets}
    for question in preview(ready, kinds, seed=3):
        named = question.facts.get("named")
        if named is not None:
            assert question.target is not None
            assert float(delta_e00(question.target, labs[str(named)])) < 0.5


def best_answer(question: Question) -> tuple[tuple[str, ...], ...]:
    """The computed key of a question about a given colour, as answers."""
    from drills.kinds.hue_and_lean import HueAndLean
    from drills.kinds.make_the_match import ColourToMatch
    from drills.kinds.setting.set_the_colour import SetTheColour
    from drills.layering.moves import pressure_word

    if question.kind == HueAndLean().name:
        family, lean = question.facts["key"]
        return ((family,), (lean,))
    if question.kind == SetTheColour().name:
        assert question.target is not None
        return ((key_of(question.target),),)
    if not isinstance(question.data, ColourToMatch):
        return ((str(question.facts["key"]),),)
    laid = [
        reply
        for move in question.data.best
        for reply in ((str(move.pencil),), (pressure_word(move.pressure),))
    ]
    return (*laid, ("done",))


@pytest.mark.parametrize("pencils", ["pocket", "demo"])
def test_the_key_of_a_question_about_a_given_colour_is_graded_best(pencils: str):
    palette = palette_of(pencils)
    for kind in all_kinds().values():
        if not asks_about_given(kind):
            continue
        for target in starter("five-colours").targets:
            for seed in range(3):
                question = draw_for(kind, palette, target.lab, kind.steps[0], seed)
                assert draw_for(kind, palette, target.lab, kind.steps[0], seed).facts == (
                    question.facts
                )
                grade = kind.grade(question, best_answer(question))
                assert grade.right, (kind.name, target.name, grade)
                assert grade.score > 0.9


def test_a_starter_s_line_is_its_deck_s() -> None:
    for name in starter_names():
        deck = starter(name)
        assert title_and_purpose(name) == (deck.title, deck.purpose)
