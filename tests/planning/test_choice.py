"""Which plan of those found is the one to follow, which others are offered, and in what words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from drills.layering.moves import LIGHT, MIDDLE, Move
from drills.layering.predict import predict
from drills.planning.alternatives import alternatives
from drills.planning.choose import effort, finalists, main_plan, near_enough
from drills.planning.explain import under
from drills.planning.other_light import FALLS_APART, LAMPS, misses
from drills.planning.plan_limits import Limits
from drills.planning.plan_words import as_lab, hand_note, lamp_note
from drills.planning.pressure_spread import expected_miss, spread, wandering
from drills.planning.request import Job, make_job
from drills.planning.rules import MUTER_BARE, broken_rules
from drills.planning.search.finished_plans import (
    Candidate,
    FinishedPlan,
    best,
    candidates,
    worth_keeping,
)
from tests.palettes import palette_of

POCKET = palette_of("pocket")
COLOURS = POCKET.colour_indices.tolist()


def recipe(*pencils: int, pressure: float = MIDDLE) -> tuple[Move, ...]:
    return tuple(Move("lay", COLOURS[at], pressure) for at in pencils)


def one(off: float, *pencils: int, more: tuple[Move, ...] = ()) -> Candidate:
    return Candidate((*recipe(*pencils), *more), off)


def job(target: Sequence[float], **limits: Any) -> Job:
    return make_job(POCKET, tuple(target), Limits(**limits), 0, None)  # type: ignore[arg-type]


BLEND, BURNISH = Move("blend", -1, LIGHT), Move("burnish")


# -- what is kept of many --------------------------------------------------------------------


def test_the_least_come_first_and_ties_by_place() -> None:
    scores = np.array([3.0, 1.0, 2.0, 1.0, 5.0])
    assert best(scores, 3).tolist() == [1, 3, 2]
    assert best(scores, 5).tolist() == best(scores, 9).tolist() == [1, 3, 2, 0, 4]
    assert best(scores, 1).tolist() == [1]


def test_of_many_plans_the_nearest_the_steadiest_and_each_set_of_pencils_are_kept() -> None:
    n = 200
    off = np.arange(n) / 100.0
    none, same = np.zeros(n), np.zeros(n, dtype=np.int64)
    assert worth_keeping(off, none, same, same).tolist() == list(range(24))
    # One far down whose last stride is short, where all others' are long: 0.06 each unit.
    stride = np.full(n, 20.0)
    stride[[150, 151]] = (0.0, 3.0)  # 1.50 and 1.69 against 1.20 for the first, 1.43 for the last
    kept = worth_keeping(off, stride, same, same)
    assert kept.tolist() == list(range(24))
    stride[:] = 40.0
    stride[[150, 151]] = (0.0, 25.0)
    kept = worth_keeping(off, stride, same, same)
    assert kept.tolist() == [*range(24), 150]
    # Sets of pencils of their own, and numbers of pencils, are kept apart.
    kits = np.arange(n) // 3
    kept = worth_keeping(off, none, same, kits)
    assert kept.tolist() == sorted({*range(24), *range(0, 72, 3)})
    counts = np.arange(n) // 100
    assert worth_keeping(off, none, counts, same).tolist() == [*range(24), *range(100, 124)]


def found(*plans: Candidate) -> list[FinishedPlan]:
    made = []
    for each in plans:
        pencil = np.array([[move.pencil for move in each.moves]])
        pressure = np.array([[move.pressure for move in each.moves]])
        action = np.array([[("lay", "blend", "burnish").index(m.action) for m in each.moves]])
        made.append(
            FinishedPlan(
                pencil, pressure, action, np.array([each.delta_e00]), *[np.zeros(1, int)] * 2
            )
        )
    return made


def test_candidates_come_nearest_first_the_shorter_of_equals_each_once() -> None:
    plans = [one(2.0, 0), one(1.0, 0, 1), one(1.0, 2), one(3.0, 0), one(2.0, 3, more=(BLEND,))]
    ordered = candidates(found(*plans))
    assert ordered == [plans[2], plans[1], plans[0], plans[4]]
    assert candidates(found(*plans), 2) == ordered[:2]


def test_a_candidate_knows_its_pencils_and_whether_it_blends_or_burnishes() -> None:
    plain, rubbed = one(1.0, 0, 1, 0), one(1.0, 0, more=(BLEND,))
    assert plain.kit == {COLOURS[0], COLOURS[1]}
    assert rubbed.kit == {COLOURS[0]}
    assert [each.blends for each in (plain, rubbed)] == [False, True]
    assert [each.burnishes for each in (plain, one(1.0, 0, more=(BURNISH,)))] == [False, True]


# -- the plan to follow ------------------------------------------------------------------------


def test_a_move_a_pencil_and_a_burnishing_each_cost_so_much() -> None:
    assert effort(one(0.0, 0)) == pytest.approx(0.35)
    assert effort(one(0.0, 0, 0)) == pytest.approx(0.55)
    assert effort(one(0.0, 0, 1)) == pytest.approx(0.7)
    assert effort(one(0.0, 0, more=(BLEND,))) == pytest.approx(0.55)
    assert effort(one(0.0, 0, more=(BURNISH,))) == pytest.approx(0.75)


def test_how_near_a_plan_must_come() -> None:
    long = (0, 1, 0, 1)
    # Under 0.8 all pass for exact; else 0.15 more than the nearest, or a tenth of a large miss.
    assert near_enough([one(0.1, *long)]) == 0.8
    assert near_enough([one(0.7, *long)]) == pytest.approx(0.85)
    assert near_enough([one(1.0, *long)]) == pytest.approx(1.15)
    assert near_enough([one(4.0, *long)]) == pytest.approx(4.4)
    # Never 0.15 more than the nearest of three moves.
    assert near_enough([one(0.1, *long), one(0.3, 0, 1, 0), one(0.35, 0)]) == pytest.approx(0.45)
    assert near_enough([one(0.1, *long), one(0.3, *long)]) == 0.8
    assert near_enough([one(4.0, *long), one(4.3, 0)]) == pytest.approx(4.4)


def test_finalists_are_spread_over_lengths_and_misses() -> None:
    of_two = [one(n / 1000, 0, 1) for n in range(100)]
    of_one = [one(n / 1000, 0) for n in range(10)]
    chosen = finalists([*of_two, *of_one], 0.0905)
    lengths = [len(each.moves) for each in chosen]
    assert lengths == [1] * 10 + [2] * 24
    assert [each.delta_e00 for each in chosen[10:13]] == [0.0, 0.003, 0.006]
    assert [each.delta_e00 for each in finalists(of_two, 0.0)] == [0.0]
    assert finalists(of_two[:5], 0.002) == of_two[:3]


def test_a_shorter_plan_that_does_as_well_is_taken() -> None:
    # A light layer more on a middle one moves nearly nothing.
    moves = (Move("lay", COLOURS[0], LIGHT), Move("lay", COLOURS[0], MIDDLE))
    goal = predict(POCKET, moves)
    asked = job(goal)
    longer = Candidate((*moves, moves[0]), 0.1)
    assert main_plan(asked, [longer]).moves == moves
    # Unless the pencil left out was insisted on.
    kept = job(goal, insist=frozenset({COLOURS[1]}))
    with_other = Candidate((*moves, Move("lay", COLOURS[1], LIGHT)), 0.5)
    assert COLOURS[1] in main_plan(kept, [with_other]).kit


def test_a_shorter_plan_that_breaks_the_craft_is_not_taken() -> None:
    """The target is what muting without covering gives, so that leaving the cover off is nearer."""
    palette = palette_of("demo")
    main, muter = (palette.names.index(name) for name in ("Oilskin Row", "Heatherholm Haze"))
    bare = (Move("lay", main, LIGHT), Move("lay", muter, LIGHT))
    covered = (*bare, Move("lay", main, LIGHT))
    asked = make_job(palette, as_lab(predict(palette, bare)), Limits(), 0, None)
    assert MUTER_BARE in broken_rules(palette, bare, as_lab(asked.target))
    taken = main_plan(asked, [Candidate(covered, 3.0)])
    assert taken.moves != bare


# -- others -----------------------------------------------------------------------------------


def labels(asked: Job, ranked: list[Candidate], main: Candidate) -> dict[str, Candidate]:
    return {each.label: each.candidate for each in alternatives(asked, ranked, main)}


GOAL = predict(POCKET, recipe(0, 1))


def test_fewer_pencils_are_offered_where_they_do_nearly_as_well() -> None:
    asked = replace(job(GOAL), spectrum=None)
    main = one(1.0, 0, 1, 2)
    two, single, far = one(2.9, 0, 3), one(2.5, 4), one(3.1, 5)
    assert labels(asked, [main, two, single], main)["fewer pencils"] == single
    assert labels(asked, [main, two, far], main)["fewer pencils"] == two
    assert labels(asked, [main, far], main)["fewer pencils"] == far
    assert "fewer pencils" not in labels(asked, [main, one(1.0, 0, 1, 3)], main)


def test_no_alternative_has_the_pencils_of_the_plan_or_of_another() -> None:
    asked = replace(job(GOAL), spectrum=None)
    main = one(1.0, 0, 1)
    assert labels(asked, [main, one(1.0, 1, 0), one(1.0, 0, 1, 0)], main) == {}
    offered = labels(asked, [main, one(1.5, 0), one(1.6, 0, 0), one(2.0, 2, 3)], main)
    assert offered == {"fewer pencils": one(1.5, 0), "with other pencils": one(2.0, 2, 3)}
    # A plan that blends is another plan; without the blender is offered then.
    blends = one(1.0, 0, 1, more=(BLEND,))
    assert labels(asked, [blends, one(1.2, 0, 1)], blends) == {"no blender": one(1.2, 0, 1)}


def test_other_pencils_are_those_without_the_first_or_else_any() -> None:
    asked = replace(job(GOAL), spectrum=None)
    main = one(0.0, 0, 1)
    near, without = one(1.0, 0, 2), one(1.5, 3, 2)
    assert labels(asked, [main, near, without], main) == {"with other pencils": without}
    assert labels(asked, [main, near], main) == {"with other pencils": near}
    # The easiest of them: the least of miss and effort.
    longer = one(1.4, 3, 2, 3)
    assert labels(asked, [main, longer, without], main) == {"with other pencils": without}


def test_three_alternatives_are_the_most() -> None:
    main = one(1.0, 0, 1, 2, more=(BLEND,))
    asked = job(GOAL)
    plans = [main, *(one(1.0 + n / 50, n, (n + 5) % 11) for n in range(11))]
    plans += [one(2.0, 7), one(2.0, 8)]
    assert len(alternatives(asked, plans, main)) == 3


# -- hands and light ------------------------------------------------------------------------------


def test_hands_wander_by_fifteen_in_a_hundred_layer_by_layer_and_in_pairs() -> None:
    recipes = [recipe(0), recipe(0, 1), recipe(2)]
    hands = wandering(POCKET, recipes, 3)
    assert [hand.shape for hand in hands] == [(40, 3)] * 3
    assert wandering(POCKET, [], 3) == []
    assert wandering(POCKET, recipes, 3, 8)[1].shape == (8, 3)
    firm, meant, light = (
        predict(POCKET, [Move("lay", COLOURS[0], by * MIDDLE)])[0] for by in (1.15, 1.0, 0.85)
    )
    spread_L = 0.5 * (light - firm)
    many = wandering(POCKET, recipes, 3, 2000)
    L = many[0][:, 0]
    assert L.std() == pytest.approx(abs(spread_L), rel=0.15)
    # Each hand has one that errs as far the other way.
    pairs = 0.5 * (L[:1000] + L[1000:]) - meant
    assert np.abs(pairs).mean() < 0.4 * abs(spread_L)
    # A second layer's error is its own: two layers of a pencil wander less than one error twice.
    both = [Move("lay", COLOURS[0], MIDDLE)] * 2
    twice = wandering(POCKET, [both], 3, 2000)[0][:, 0].std()
    as_one = [predict(POCKET, [Move("lay", COLOURS[0], by * MIDDLE)] * 2)[0] for by in (1.15, 0.85)]
    assert twice < 0.85 * 0.5 * abs(as_one[1] - as_one[0])


def test_the_spread_is_where_nine_of_ten_stay_and_the_miss_is_the_mean() -> None:
    greys = np.array([[50.0 + n / 10, 0.0, 0.0] for n in range(11)])
    at = np.array([50.0, 0.0, 0.0])
    assert spread(at, greys) == pytest.approx(0.9, abs=0.01)
    assert expected_miss(at, greys) == pytest.approx(0.5, abs=0.01)


def test_a_match_that_worsens_by_two_under_a_lamp_is_called_out() -> None:
    assert FALLS_APART == 2.0
    assert lamp_note({}) is None
    assert lamp_note({"D50": 0.5, "A": 2.4, "D65": 1.0}) is None
    said = lamp_note({"D50": 0.5, "A": 2.6, "D65": 2.5})
    assert said is not None
    assert said.startswith("This match falls apart under a warm lamp (A): ΔE00 0.5 in")
    assert "becomes 2.6." in said


def test_a_plan_that_strays_by_four_asks_for_a_steady_hand() -> None:
    assert hand_note(3.99) is None
    said = hand_note(4.0)
    assert said is not None
    assert "ΔE00 4.0 away" in said


def test_misses_are_told_for_every_lamp_or_daylight_alone() -> None:
    asked = job(GOAL)
    moves = [recipe(0, 1), recipe(2)]
    ends = [np.array(predict(POCKET, each)) for each in moves]
    first, second = under(asked, moves, ends)
    assert tuple(first) == LAMPS
    assert first["D50"] < 0.2 < second["D50"]
    only = under(replace(asked, spectrum=None), moves, ends)
    assert [tuple(each) for each in only] == [("D50",), ("D50",)]
    assert only[0]["D50"] == pytest.approx(0.0, abs=1e-6)
    flat = np.full(31, 0.4)
    assert float(misses(flat, flat)["A"]) == 0.0
