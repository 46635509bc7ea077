"""Plans one layer off the best: what the search let go of on the way is found again."""

from __future__ import annotations

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.spaces import xyz_to_lab
from drills.layering.doubt.quick_layers import eight, nominal
from drills.layering.moves import Move
from drills.layering.predict import predict
from drills.planning.plan_limits import Limits
from drills.planning.request import make_job, task_of
from drills.planning.rules import broken_rules
from drills.planning.search import neighbours as n
from drills.planning.search.half_made import PRESSURES
from drills.planning.search.likely_search import likely_search
from drills.planning.search.recipes import lawful, recipes_of
from tests.palettes import palette_of

DEMO, POCKET = palette_of("demo"), palette_of("pocket")
TARGET = (45.0, 25.0, 12.0)


def a_task(palette=DEMO, target=TARGET, **limits):
    return task_of(make_job(palette, target, Limits(**limits), 0, None))


def moves_of(task, recipes, i) -> tuple[Move, ...]:
    return tuple(
        Move("lay", int(task.places[pencil]), float(PRESSURES[press]))
        for pencil, press in zip(recipes.pencil[i], recipes.press[i], strict=True)
        if pencil >= 0
    )


def one_layer_off(one: tuple[Move, ...], other: tuple[Move, ...]) -> bool:
    if len(one) == len(other):
        return sum(a != b for a, b in zip(one, other, strict=True)) <= 1
    return any(other[:at] + other[at + 1 :] == one for at in range(len(other)))


@pytest.fixture(scope="module")
def looked_at():
    """A task, seeds, and their neighbours as they stand before any law."""
    task = a_task()
    some, expected = recipes_of(task, likely_search(task, rounds=()))
    order = np.argsort(expected, kind="stable")
    of_each = [order[some.length[order] == layers][:2] for layers in (2, 3, 4, 5)]
    seeds = some.take(np.concatenate(of_each))
    return task, seeds, n.one_off(task, seeds, np.arange(len(task.places)))


def test_a_neighbour_differs_by_one_layer(looked_at):
    task, seeds, near = looked_at
    lengths = set()
    for i in range(0, len(near), 97):
        own = moves_of(task, seeds, int(near.parent[i]))
        other = moves_of(task, near.recipes, i)
        lengths.add(len(other) - len(own))
        assert one_layer_off(own, other)
    assert lengths == {0, 1}


def test_no_neighbour_has_more_layers_than_may_be(looked_at):
    task, _, near = looked_at
    assert int(near.recipes.length.max()) == task.max_layers


def test_every_pencil_and_every_hand_is_tried_in_every_place(looked_at):
    task, seeds, near = looked_at
    first = near.parent == 0
    length = int(seeds.length[0])
    more = length < task.max_layers
    assert first.sum() == len(task.places) * len(PRESSURES) * (length + more * (length + 1))


def test_lawful_means_what_the_rules_say_move_by_move(looked_at):
    """``broken_rules`` reads the same rules another way; borders are left out, where the search's
    every other band may fall either side."""
    task, seeds, near = looked_at
    plain = nominal(task.palette, task.places)
    allowed = lawful(task, near.recipes)
    foretold = n.prefixes(plain, seeds)
    _, leads = n.foretold(task, plain, foretold, near)
    kept = np.zeros(len(near), dtype=np.bool_)
    kept[leads] = True
    kept &= allowed
    agree = []
    for i in np.random.default_rng(3).choice(len(near), 260, replace=False).tolist():
        moves = moves_of(task, near.recipes, i)
        agree.append((broken_rules(DEMO, moves, TARGET) == ()) == bool(kept[i]))
    assert np.mean(agree) > 0.97
    for i in np.flatnonzero(kept)[::37].tolist():
        assert broken_rules(DEMO, moves_of(task, near.recipes, i), TARGET) == ()


def test_what_is_foretold_is_what_the_films_give(looked_at):
    task, seeds, near = looked_at
    near = near.take(np.flatnonzero(lawful(task, near.recipes))[::61])
    plain = nominal(task.palette, task.places)
    ends, leads = n.foretold(task, plain, n.prefixes(plain, seeds), near)
    assert len(leads) > 5
    for i in leads.tolist():
        exact = predict(DEMO, moves_of(task, near.recipes, i))
        assert float(delta_e00(xyz_to_lab(ends[i].astype(np.float64)), exact)) < 0.1


def test_to_go_on_from_a_seed_is_to_lay_it_all(looked_at):
    """Neighbours share their seed's first layers: laid from bare paper they come to the same."""
    task, seeds, near = looked_at
    near = near.take(np.flatnonzero(lawful(task, near.recipes))[::61])
    films = eight(task.palette, task.places)
    shared = n.all_draws(films, n.prefixes(films, seeds), near)
    alone = n.Neighbours(near.recipes, np.zeros(len(near), dtype=np.int64), np.zeros_like(near.at))
    np.testing.assert_allclose(
        shared, n.all_draws(films, n.prefixes(films, seeds.take(np.arange(1))), alone), rtol=1e-4
    )


@pytest.mark.parametrize(
    "limits", [{"max_layers": 3, "max_pencils": 2}, {"insist": frozenset({4})}]
)
def test_neighbours_keep_the_limits(limits):
    task = a_task(**limits)
    alone, more = likely_search(task, rounds=()), likely_search(task)
    fresh = more[len(alone) :]
    assert fresh
    for some in fresh:
        assert some.pencil.shape[1] <= task.max_layers
        assert int(some.pencils.max()) <= task.max_pencils
        for one in np.flatnonzero(task.insist):
            assert (some.pencil == task.places[one]).any(axis=1).all()


def test_they_find_what_the_search_let_go_of():
    gains = []
    for target in [(46.6, 39.8, 40.6), (79.2, -13.1, 21.0), (45.1, 19.3, 9.3), (60.0, -10.0, 12.0)]:
        task = a_task(target=target)
        alone, more = likely_search(task, rounds=()), likely_search(task)
        least = [min(float(some.expected.min()) for some in one) for one in (alone, more)]
        assert least[1] <= least[0]
        gains.append(least[0] - least[1])
    assert np.mean(gains) > 0.1


def test_no_plan_is_found_twice():
    task = a_task()
    found = likely_search(task)
    every = [some.moves(i) for some in found for i in range(len(some))]
    assert len(set(every)) == len(every)


def test_one_pencil_alone_is_no_trouble():
    task = a_task(POCKET, tray=frozenset({int(POCKET.colour_indices[0])}))
    assert likely_search(task)
