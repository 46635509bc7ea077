"""The decks shipped: sound, named by invention, and asking sound questions of both sets."""

from __future__ import annotations

import pytest

from coach.session.assigned.deck_questions import preview, ready_deck
from decks.deck_file import read_deck
from decks.pack import pack
from decks.starters import starter, starter_names, title_and_purpose
from drills.colour.difference import delta_e00
from drills.kinds import all_kinds, draw
from drills.questions.given_colour import asks_about_given, draw_for
from drills.questions.protocol import Question
from tests.palettes import palette_of

EVERY = [(name, pencils) for name in starter_names() for pencils in ("pocket", "demo")]


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
        first = kind.ask(question, ())
        assert first is not None
        assert len(first.choices) >= 2
        if not task.target:
            again = draw(kind, palette, task.region, question.step, question.seed)
            assert again.region == task.region


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
    from drills.layering.moves import pressure_word

    if question.kind == HueAndLean().name:
        family, lean = question.facts["key"]
        return ((family,), (lean,))
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
