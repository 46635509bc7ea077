"""Make the match: the tray, the moves, and a score worked out again by hand."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.hue import wheel_steps
from drills.kinds import draw
from drills.kinds.make_the_match import (
    COLOUR_SHARE,
    DONE,
    KIND,
    MOST_LAYERS,
    RULES_SHARE,
    THRIFT_SHARE,
    TRAY,
    WITHIN_REACH,
    WORTH_MIXING,
    ColourToMatch,
)
from drills.layering.moves import Move, move_words, pressure_word
from drills.layering.predict import predict
from drills.planning.choose import PAID
from drills.planning.planner import quick_plan, taught_plan
from drills.planning.pressure_spread import likely_miss
from drills.planning.rules import IDLE, broken_rules
from drills.questions.draw import VISIBLE_STEP
from drills.questions.protocol import Answers, CannotAskError, Question
from drills.questions.results import (
    MODEL_LIMITS,
    added_miss,
    doubt_words,
    grain_words,
    near_miss,
)
from tests.palettes import palette_of

SETS = ("demo", "pocket")
STEPS = (8.0, 1.5)


@cache
def questions(pencils: str) -> tuple[Question, ...]:
    palette = palette_of(pencils)
    return tuple(
        draw(KIND, palette, region, step, 100 * turn + 7)
        for turn, region in enumerate(KIND.regions(palette))
        for step in STEPS
    )


def data_of(question: Question) -> ColourToMatch:
    assert isinstance(question.data, ColourToMatch)
    return question.data


def answers_of(moves: tuple[Move, ...]) -> Answers:
    """The keys that lay these moves and then say done."""
    keys = [key for move in moves for key in (str(move.pencil), pressure_word(move.pressure))]
    return tuple((key,) for key in (*keys, DONE))


def planned(question: Question) -> Answers:
    """The planner's own moves, typed; its blender is the one in the tray."""
    data = data_of(question)
    blender = data.palette.blender
    moves = tuple(
        Move(one.action, blender if one.action == "blend" else one.pencil, one.pressure)  # type: ignore[arg-type]
        for one in data.best
    )
    return answers_of(moves)


over_sets = pytest.mark.parametrize("pencils", SETS)


@over_sets
def test_the_target_takes_mixing_and_lies_within_reach_of_the_tray(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils):
        data = data_of(question)
        # Of those in the tray: what lies outside it can't be laid.
        singles = palette.lab[[i for i in data.tray if i != palette.blender]]
        assert float(delta_e00(singles, np.asarray(question.target)).min()) >= WORTH_MIXING
        assert data.best_off == likely_miss(palette, data.best, np.asarray(question.target), 0)
        assert {one.pencil for one in data.best if one.pencil >= 0} <= set(data.tray)


@over_sets
def test_the_tray_is_full_once_each_with_one_from_across_the_wheel(pencils: str) -> None:
    palette = palette_of(pencils)
    for question in questions(pencils):
        tray = data_of(question).tray
        assert len(set(tray)) == len(tray) == min(TRAY, len(palette))
        assert palette.blender is None or tray[-1] == palette.blender
        wheel = palette.wheel[[i for i in tray if i != palette.blender]]
        assert float(wheel_steps(wheel[:, None], wheel[None, :]).max()) >= 4.5


def test_the_trays_order_gives_nothing_away() -> None:
    first = [data_of(question).tray[0] in used(question) for question in questions("demo")]
    assert 0.1 < np.mean(first) < 0.7


def used(question: Question) -> set[int]:
    return {one.pencil for one in data_of(question).best}


@over_sets
def test_the_planners_own_moves_match_and_score_full(pencils: str) -> None:
    for question in questions(pencils):
        grade = KIND.grade(question, planned(question))
        assert grade.right
        assert grade.error == pytest.approx(data_of(question).best_off.expected)
        assert grade.score == pytest.approx(1.0)
        assert grade.verdict.startswith("Yes: that is as near")


def score(question: Question, moves: tuple[Move, ...]) -> float:
    """The score by the shares that the module gives, worked out apart from it."""
    data = data_of(question)
    least = data.best_off.expected
    mine = likely_miss(data.palette, moves, np.asarray(question.target), 0).expected
    excess = (mine**2 - least**2) ** 0.5 if mine > least + PAID else 0.0
    broken = broken_rules(data.palette, moves, data.target, data.tray)
    extra = max(0, len(moves) - len(data.best))
    return (
        COLOUR_SHARE * near_miss(excess - VISIBLE_STEP, 6.0)
        + RULES_SHARE / (1 + len(broken))
        + THRIFT_SHARE / (1 + extra)
    )


@over_sets
def test_the_score_is_colour_rules_and_thrift_in_their_shares(pencils: str) -> None:
    assert pytest.approx(1.0) == COLOUR_SHARE + RULES_SHARE + THRIFT_SHARE
    for question in questions(pencils)[::2]:
        best = data_of(question).best
        for moves in (best[:1], (*best, *best[-1:]), best[::-1]):
            colours = tuple(one for one in moves if one.action == "lay")
            if colours:
                given = KIND.grade(question, answers_of(colours))
                assert given.score == pytest.approx(score(question, colours))


def test_a_near_miss_earns_more_than_a_wild_one_and_both_more_than_nothing() -> None:
    """Of two that break as many rules: far from the target, rules are all that still counts."""
    compared = 0
    for question in questions("demo"):
        data = data_of(question)
        ends = {
            i: likely_miss(data.palette, [Move("lay", i, 0.6)], np.asarray(data.target), 0).expected
            for i in data.tray
            if i != data.palette.blender
        }
        near, wild = min(ends, key=ends.__getitem__), max(ends, key=ends.__getitem__)
        nearer = KIND.grade(question, answers_of((Move("lay", near, 0.6),)))
        wilder = KIND.grade(question, answers_of((Move("lay", wild, 0.6),)))
        assert nearer.error < wilder.error
        faults = [
            len(broken_rules(data.palette, (Move("lay", i, 0.6),), data.target, data.tray))
            for i in (near, wild)
        ]
        if faults[0] <= faults[1]:
            compared += 1
            assert nearer.score > wilder.score
        nothing = KIND.grade(question, ((DONE,),))
        assert not nothing.right
    assert compared > 0.8 * len(questions("demo"))


def test_a_broken_rule_costs_and_is_named() -> None:
    """Laying the last layer once more brings nothing: the rule is told, and the score falls."""
    told = 0
    for question in questions("demo"):
        data = data_of(question)
        lays = tuple(one for one in data.best if one.action == "lay")
        more = (*lays, Move("lay", lays[-1].pencil, lays[-1].pressure))
        broken = broken_rules(data.palette, more, data.target, data.tray)
        said = " ".join(KIND.reveal(question, answers_of(more)).because)
        assert all(rule in said for rule in broken)
        told += IDLE in broken
    assert told


def test_right_is_within_the_step_of_the_best_that_the_tray_could_do() -> None:
    seen = set()
    for question in questions("demo")[::4]:
        data = data_of(question)
        tried = [planned(question)]
        for i in data.tray:
            if i != data.palette.blender:
                tried += [answers_of((Move("lay", i, hard),)) for hard in (0.35, 0.6, 1.0)]
        for answers in tried:
            grade = KIND.grade(question, answers)
            excess = added_miss(grade.error, data.best_off.expected)
            assert grade.right is (excess <= max(question.step, VISIBLE_STEP))
            seen.add(grade.right)
    assert seen == {True, False}


def test_it_is_asked_pencil_by_pencil_and_how_hard_until_done_or_full() -> None:
    question = questions("demo")[0]
    data = data_of(question)
    first = KIND.ask(question, ())
    assert first is not None
    assert {choice.key for choice in first.choices} == {str(i) for i in data.tray}
    assert [swatch.label for swatch in first.scene][-1] == "bare paper"
    pencil = (str(data.tray[0]),)
    second = KIND.ask(question, (pencil,))
    assert second is not None
    assert [choice.key for choice in second.choices] == ["light", "middle", "firm"]
    laid = (pencil, ("light",))
    third = KIND.ask(question, laid)
    assert third is not None
    assert third.scene[-1].label == "1 laid"
    assert KIND.ask(question, (*laid, (DONE,))) is None
    full = KIND.ask(question, laid * MOST_LAYERS)
    assert full is not None
    assert [choice.key for choice in full.choices] == [DONE]


def test_the_reveal_sets_the_way_laid_beside_the_planners() -> None:
    for question in questions("demo")[::5]:
        data = data_of(question)
        reveal = KIND.reveal(question, planned(question))
        yours, best = reveal.results
        assert [yours.mark, best.mark] == ["yours", "best"]
        assert reveal.target is not None
        assert reveal.target.lab == question.target
        assert MODEL_LIMITS in reveal.limits
        for row in reveal.results:
            assert row.swatch is not None
            assert row.swatch.lab == pytest.approx(predict(data.palette, data.best))
            laid = ", then ".join(move_words(data.palette, m) for m in data.best)
            assert row.words.startswith(f"{laid}; ")
            assert grain_words(data.palette, data.best) in row.words
            assert doubt_words(data.best_off) in row.words
        bare = KIND.reveal(question, ((DONE,),)).results[0]
        assert bare.words == "bare paper"
        assert bare.swatch is not None
        assert bare.swatch.lab == data.paper


def test_a_given_colour_is_asked_with_pencils_that_reach_it_and_refused_where_none_do() -> None:
    import random

    palette = palette_of("demo")
    made = KIND.make_for(palette, (45.0, 20.0, 15.0), 3.0, random.Random(1))
    data = data_of(made)
    assert made.target is not None
    assert used(made) - {palette.blender, -1} <= set(data.tray)
    best, off = quick_plan(palette, made.target, range(len(palette.names)), 4)
    assert off <= WITHIN_REACH
    assert {one.pencil for one in best if one.pencil != palette.blender} <= set(data.tray)
    assert (data.best, data.best_off) == taught_plan(palette, made.target, data.tray)
    with pytest.raises(CannotAskError, match="no nearer"):
        KIND.make_for(palette, (60.0, -90.0, 60.0), 3.0, random.Random(1))
