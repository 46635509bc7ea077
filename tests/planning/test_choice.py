"""Which plan of those found is the one to follow, which others are offered, and in what words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.predict import predict
from drills.planning.choose import CRAFT, PAID, UNSURE, Weighed, perhaps_enough, to_show, weighed
from drills.planning.explain import under
from drills.planning.other_light import FALLS_APART, LAMPS, misses
from drills.planning.plan_limits import Limits
from drills.planning.plan_words import hand_note, lamp_note
from drills.planning.pressure_spread import spread, wandering
from drills.planning.request import Job, likely, make_job
from drills.planning.search.finished_plans import (
    KEPT,
    Candidate,
    FinishedPlan,
    best,
    candidates,
    worth_keeping,
)
from drills.planning.teaching import BEGIN_NEAR, HOME, LIGHT_FIRST, Teaching
from drills.planning.ways import AS_GOOD, WAYS, way_of, ways
from tests.palettes import palette_of

POCKET = palette_of("pocket")
COLOURS = POCKET.colour_indices.tolist()


def recipe(*pencils: int, pressure: float = MIDDLE) -> tuple[Move, ...]:
    return tuple(Move("lay", COLOURS[at], pressure) for at in pencils)


def one(off: float, *pencils: int, more: tuple[Move, ...] = ()) -> Candidate:
    return Candidate((*recipe(*pencils), *more), off)


def job(target: Sequence[float], **limits: Any) -> Job:
    return make_job(POCKET, tuple(target), Limits(**limits), 0, None)  # type: ignore[arg-type]


GOAL = predict(POCKET, recipe(0, 1))
BLEND, BURNISH = Move("blend", -1, LIGHT), Move("burnish")


# -- what is kept of many --------------------------------------------------------------------


def test_the_least_come_first_and_ties_by_place() -> None:
    scores = np.array([3.0, 1.0, 2.0, 1.0, 5.0])
    assert best(scores, 3).tolist() == [1, 3, 2]
    assert best(scores, 5).tolist() == best(scores, 9).tolist() == [1, 3, 2, 0, 4]
    assert best(scores, 1).tolist() == [1]


def test_of_many_plans_the_nearest_the_steadiest_and_each_set_of_pencils_are_kept() -> None:
    n = 400
    off = np.arange(n) / 200.0
    none, same = np.zeros(n), np.zeros(n, dtype=np.int64)
    assert worth_keeping(off, none, same, same).tolist() == list(range(KEPT))
    # One far down whose last stride is short, where all others' are long: 0.06 each unit.
    stride = np.full(n, 20.0)
    stride[[250, 251]] = (5.0, 6.0)  # 1.55 and 1.62 against 1.20 for the first, 1.44 for the last
    kept = worth_keeping(off, stride, same, same)
    assert kept.tolist() == list(range(KEPT))
    stride[:] = 40.0
    stride[[250, 251]] = (0.0, 25.0)
    kept = worth_keeping(off, stride, same, same)
    assert kept.tolist() == [*range(KEPT), 250]
    # Sets of pencils of their own, and numbers of pencils, are kept apart.
    kits = np.arange(n) // 3
    kept = worth_keeping(off, none, same, kits)
    assert kept.tolist() == sorted({*range(KEPT), *range(0, 3 * KEPT, 3)})
    counts = np.arange(n) // 200
    assert worth_keeping(off, none, counts, same).tolist() == [
        *range(KEPT),
        *range(200, 200 + KEPT),
    ]


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


# -- the plan to show --------------------------------------------------------------------------


def weigh(expected: float, *pencils: int, aside: tuple[str, ...] = ()) -> Weighed:
    return Weighed(one(0.0, *pencils), expected, aside)


def test_what_an_eye_can_not_tell_is_not_paid_for() -> None:
    for aside, paid in (((), PAID + CRAFT), ((HOME,), PAID)):
        long = weigh(1.0, 0, 1, 2, 0, aside=aside)
        short, far = (
            weigh(miss + paid, *of, aside=aside) for miss, of in ((1, (0, 1)), (1.01, (0,)))
        )
        assert to_show([long, short, far]) is short
        assert to_show([long, far]) is long


def test_of_as_many_moves_the_fewer_pencils_and_then_the_nearer() -> None:
    two, single, nearer = weigh(1.0, 0, 1), weigh(1.4, 0, 0), weigh(1.3, 1, 1)
    assert to_show([two, single]) is single
    assert to_show([two, single, nearer]) is nearer


def test_what_keeps_the_craft_goes_first_unless_that_costs_over_its_bound() -> None:
    aside, keeping = weigh(1.0, 0, aside=(HOME,)), weigh(1.0 + PAID + CRAFT, 0, 1, 0)
    assert to_show([aside, keeping]) is keeping
    dear = weigh(1.01 + PAID + CRAFT, 0, 1, 0)
    assert to_show([aside, dear]) is aside


def test_a_rule_set_aside_counts_as_a_move_among_those_that_set_some_aside() -> None:
    two, one_longer = weigh(1.0, 0, 1, aside=(HOME, LIGHT_FIRST)), weigh(1.3, 0, 1, aside=(HOME,))
    assert to_show([two, one_longer]) is one_longer
    much_longer = weigh(1.0, 0, 1, 0, 1, aside=(HOME,))
    assert to_show([two, much_longer]) is two


def test_a_lesser_plan_that_few_draws_put_too_far_off_is_weighed_once_more() -> None:
    shown = weigh(1.0, 0, 1, 2)
    nearly, far = weigh(0.9 + PAID + CRAFT + UNSURE, 0, 1), weigh(1.1 + PAID + CRAFT + UNSURE, 0)
    as_long = weigh(0.9 + PAID + CRAFT + UNSURE, 2, 1, 0)
    plans = [shown, nearly, far, as_long]
    assert to_show(plans) is shown
    assert perhaps_enough(plans, shown) == [nearly]


def test_a_plan_that_keeps_the_craft_may_be_so_weighed_too_and_none_that_does_not_after_it() -> (
    None
):
    aside = weigh(1.0, 0, aside=(LIGHT_FIRST,))
    nearly = weigh(0.9 + PAID + CRAFT + UNSURE, 0, 1, 2)
    assert to_show([aside, nearly]) is aside
    assert perhaps_enough([aside, nearly], aside) == [nearly]
    keeping = weigh(1.0, 0, 1, 2)
    assert perhaps_enough([aside, keeping], keeping) == []


def test_plans_are_weighed_over_films_and_hands_and_the_nearest_by_number_may_lose() -> None:
    asked = job(GOAL)
    plans = weighed(asked, likely(asked))
    assert plans
    least = min(plans, key=lambda each: each.expected)
    assert least.expected > min(each.candidate.delta_e00 for each in plans) + 0.5
    assert to_show(plans).expected <= least.expected + PAID + CRAFT
    again = weighed(asked, likely(asked))
    assert [each.expected for each in again] == [each.expected for each in plans]


# -- as a teacher would lay it ------------------------------------------------------------------

DEMO = palette_of("demo")
RED, ORANGE, GREEN, GREY = (
    DEMO.names.index(name)
    for name in ("Flagloft Red", "Bellbuoy Orange", "Eelgrass Hard", "Wetslate Roof")
)


@pytest.mark.parametrize(
    ("moves", "aside"),
    [
        ([(RED, FIRM)], ()),
        ([(RED, LIGHT), (GREEN, LIGHT), (RED, MIDDLE)], ()),
        ([(GREEN, LIGHT), (RED, MIDDLE)], (BEGIN_NEAR,)),
        ([(GREY, LIGHT), (RED, MIDDLE)], (BEGIN_NEAR,)),
        ([(RED, MIDDLE), (RED, MIDDLE)], (LIGHT_FIRST,)),
        ([(RED, LIGHT), (GREEN, LIGHT)], (HOME,)),
        ([(RED, LIGHT), (GREY, LIGHT)], (HOME,)),
        ([(GREEN, MIDDLE), (GREEN, LIGHT)], (BEGIN_NEAR, LIGHT_FIRST, HOME)),
        ([], ()),
    ],
)
def test_the_rules_of_teaching_one_by_one(moves: Any, aside: tuple[str, ...]) -> None:
    teaching = Teaching.of(DEMO, DEMO.lab[RED])
    recipe = [Move("lay", pencil, pressure) for pencil, pressure in moves]
    assert teaching.set_aside(recipe) == aside


def test_a_greyed_target_may_begin_with_a_grey() -> None:
    greyed = Teaching.of(DEMO, np.array([45.0, 6.0, 3.0]))
    assert greyed.set_aside([Move("lay", GREY, LIGHT), Move("lay", RED, LIGHT)]) == ()


# -- other ways ------------------------------------------------------------------------------


def by_demo(expected: float, *pencils: int) -> Weighed:
    return Weighed(Candidate(tuple(Move("lay", at, LIGHT) for at in pencils), 0.0), expected, ())


def test_each_way_is_what_it_is_called_and_no_plan_comes_twice() -> None:
    shown = by_demo(2.0, RED, RED, ORANGE, ORANGE)
    muted, greyed = by_demo(3.0, RED, GREEN, RED), by_demo(3.5, RED, GREY, RED)
    single, best_one = by_demo(3.2, RED, RED), by_demo(1.8, RED, ORANGE, ORANGE, RED, RED)
    found = {
        one.way: one.plan for one in ways(DEMO, [shown, muted, greyed, single, best_one], shown)
    }
    assert found == {
        "by the complement": muted,
        "by greys and earths": greyed,
        "with the fewest pencils": single,
        "nearest": best_one,
    }
    assert list(found) == list(WAYS)
    assert way_of(DEMO, muted) == "by the complement"
    assert way_of(DEMO, greyed) == "by greys and earths"
    assert way_of(DEMO, single) == ""
    assert ways(DEMO, [shown], shown) == []
    assert ways(DEMO, [muted], muted) == []


def test_a_way_that_misses_by_far_more_is_not_shown() -> None:
    shown = by_demo(2.0, RED, ORANGE)
    near, far = by_demo(2.0 + AS_GOOD, RED, GREEN, RED), by_demo(2.01 + AS_GOOD, RED, GREEN, RED)
    assert [one.plan for one in ways(DEMO, [shown, near], shown)] == [near]
    assert ways(DEMO, [shown, far], shown) == []


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


def test_the_spread_is_where_nine_of_ten_stay() -> None:
    greys = np.array([[50.0 + n / 10, 0.0, 0.0] for n in range(11)])
    at = np.array([50.0, 0.0, 0.0])
    assert spread(at, greys) == pytest.approx(0.9, abs=0.01)


def test_a_match_that_worsens_by_two_under_a_lamp_is_called_out() -> None:
    assert FALLS_APART == 2.0
    assert lamp_note({}) is None
    assert lamp_note({"D50": 0.5, "A": 2.4, "D65": 1.0}) is None
    said = lamp_note({"D50": 0.5, "A": 2.6, "D65": 2.5})
    assert said is not None
    assert said.startswith("This match falls apart under a warm lamp (A): ΔE00 2.6 there.")


def test_a_plan_that_strays_by_four_asks_for_a_steady_hand() -> None:
    assert hand_note(3.99) is None
    said = hand_note(4.0)
    assert said is not None
    assert said.startswith("A touchy plan")


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
