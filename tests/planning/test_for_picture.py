"""Pencils for a picture: the right few, what they make, and what one more would bring."""

from __future__ import annotations

import numpy as np
import pytest

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.colour.munsell import munsell_value
from drills.layering.palette import prepare
from drills.layering.predict import predict
from drills.pencils.sets import demo_set, pocket_set
from drills.pictures.greys import value_study
from drills.pictures.main_colours import MainColour
from drills.planning.for_picture.choose_pencils import best_addition, choose, least_misses
from drills.planning.for_picture.outcome import as_drawn
from drills.planning.for_picture.pencils_for import pencils_for
from drills.planning.for_picture.recipe_lists import layers_of, lists_of
from tests.planning.exact_choice import exact_mean_miss

POCKET = prepare(pocket_set())
DEMO = prepare(demo_set())


def colours(palette: object, count: int, seed: int) -> list[MainColour]:
    """Colours near what these pencils make, with shares, as a picture's might be."""
    rng = np.random.default_rng(seed)
    labs = palette.pool.lab[rng.integers(0, len(palette.pool), count)] + rng.normal(
        0, 5, (count, 3)
    )
    shares = rng.dirichlet(np.ones(count))
    return [MainColour(tuple(lab), float(s)) for lab, s in zip(labs.tolist(), shares, strict=True)]


def lists_for(palette: object, found: list[MainColour]) -> object:
    targets = np.array([one.lab for one in found])
    weights = np.sqrt([one.share for one in found])
    return lists_of(layers_of(palette, palette.colour_indices, targets), palette, targets, weights)


@pytest.mark.parametrize(("seed", "most"), [(1, 3), (2, 6)])
def test_the_choice_is_within_two_per_cent_of_the_exact_one(seed: int, most: int) -> None:
    lists = lists_for(DEMO, colours(DEMO, 5, seed))
    chosen = choose(lists, DEMO.colour_indices, most)
    assert len(chosen.pencils) <= most
    exact = exact_mean_miss(lists, DEMO.colour_indices, most)
    assert exact - 1e-9 <= chosen.mean_miss <= 1.02 * exact
    assert lists.weights @ least_misses(lists, chosen.pencils) == pytest.approx(chosen.mean_miss)


def test_the_same_lists_give_the_same_choice() -> None:
    lists = lists_for(POCKET, colours(POCKET, 5, 4))
    assert choose(lists, POCKET.colour_indices, 4) == choose(lists, POCKET.colour_indices, 4)


def test_a_recipe_comes_to_what_is_said_and_keeps_to_the_pencils() -> None:
    found = pencils_for(POCKET, colours(POCKET, 6, 5), 4)
    assert len(found.pencils) <= 4
    for one in found.reached:
        assert {move.pencil for move in one.moves} <= set(found.pencils)
        assert float(delta_e00(predict(POCKET, one.moves), one.lab)) < 1e-6
        assert float(delta_e00(one.lab, one.colour.lab)) == pytest.approx(one.miss)
        assert one.likely.low <= one.likely.expected <= one.likely.high


def test_one_pencil_alone_is_a_choice_too() -> None:
    found = pencils_for(POCKET, colours(POCKET, 6, 5), 1)
    assert len(found.pencils) == 1
    assert {move.pencil for one in found.reached for move in one.moves} <= set(found.pencils)
    assert found.one_more is not None


def test_more_pencils_miss_by_no_more_and_one_more_is_the_best_there_is() -> None:
    lists = lists_for(POCKET, colours(POCKET, 6, 6))
    usable = POCKET.colour_indices
    misses = [choose(lists, usable, most).mean_miss for most in (1, 2, 4, 8, 12)]
    assert misses == sorted(misses, reverse=True)
    pencils = choose(lists, usable, 3).pencils
    more = best_addition(lists, usable, pencils)
    others = [p for p in usable.tolist() if p not in pencils]
    costs = {p: float(lists.weights @ least_misses(lists, (*pencils, p))) for p in others}
    assert costs[more.pencils[0]] == pytest.approx(min(costs.values()))
    assert more.mean_miss == pytest.approx(min(costs.values()))


def test_lists_keep_what_any_recipe_of_the_same_pencils_reaches() -> None:
    """Leaving out what fewer pencils do as well takes nothing from any set of pencils."""
    found = colours(POCKET, 2, 7)
    targets = np.array([one.lab for one in found])
    layers = layers_of(POCKET, POCKET.colour_indices, targets)
    lists = lists_for(POCKET, found)
    rng = np.random.default_rng(0)
    for _ in range(20):
        some = rng.choice(POCKET.colour_indices, 4, replace=False)
        can = np.isin(layers.pencils, [*some, -1]).all(axis=1)
        whole = [float(delta_e00(layers.lab[can], target).min()) for target in targets]
        assert least_misses(lists, tuple(some.tolist())) == pytest.approx(whole)


def test_bare_paper_is_left_bare() -> None:
    paper = MainColour(predict(POCKET, ()), 1.0)
    found = pencils_for(POCKET, [paper], 3)
    assert found.reached[0].moves == ()
    assert found.reached[0].miss == pytest.approx(0, abs=1e-9)


def test_paper_that_layers_would_hardly_bring_nearer_is_left_bare() -> None:
    """A white pencil comes a little nearer to paper in a warm light: less than an eye can tell."""
    L, a, b = predict(DEMO, ())
    found = pencils_for(
        DEMO, [MainColour((L, a, b + 2.2), 0.6), MainColour((45.0, 30.0, 5.0), 0.4)], 5
    )
    paper, paint = found.reached
    assert paper.moves == ()
    assert paper.likely.expected == pytest.approx(paper.miss)
    assert paint.moves != ()
    far = pencils_for(DEMO, [MainColour((L - 6.0, a, b + 12.0), 0.6)], 5).reached[0]
    assert far.moves != ()
    assert far.likely.expected < float(delta_e00(predict(DEMO, ()), np.array(far.colour.lab)))


@pytest.mark.parametrize(("seed", "most"), [(1, 3), (2, 5), (9, 4)])
def test_one_more_begins_from_the_miss_that_is_told(seed: int, most: int) -> None:
    """Both were looked for alike: with the pencil, it is as when that one is taken out too."""
    some = colours(DEMO, 6, seed)
    found = pencils_for(DEMO, some, most)
    more = found.one_more
    assert more is not None
    weights = np.sqrt([one.share for one in some])
    least = [min(delta_e00(found.layers.lab, np.array(one.lab)).tolist()) for one in some]
    assert more.before == pytest.approx(least[some.index(more.helps)])
    assert more.after < more.before
    assert more.mean_miss < found.mean_miss
    assert found.mean_miss == pytest.approx(np.average(least, weights=weights))


@pytest.mark.parametrize("most", [0, 25])
def test_a_number_out_of_range_is_refused(most: int) -> None:
    with pytest.raises(InputError, match="out of range"):
        pencils_for(POCKET, colours(POCKET, 2, 1), most)


def test_the_picture_as_drawn_holds_only_what_the_pencils_make() -> None:
    found = pencils_for(POCKET, colours(POCKET, 4, 8), 5)
    rng = np.random.default_rng(1)
    copy = np.stack([rng.uniform(10, 95, (12, 9)), *rng.uniform(-50, 50, (2, 12, 9))], -1)
    drawn = as_drawn(copy, found.layers)
    assert drawn.shape == copy.shape
    made = {tuple(lab) for lab in found.layers.lab.tolist()}
    assert {tuple(lab) for lab in drawn.reshape(-1, 3).tolist()} <= made
    again = as_drawn(drawn, found.layers)
    assert delta_e00(again, drawn).max() < 2.5


@pytest.mark.parametrize("count", [3, 5, 7])
def test_a_value_study_has_so_many_greys_at_equal_steps_of_value(count: int) -> None:
    copy = np.zeros((4, 50, 3))
    copy[..., 0] = np.linspace(0, 100, 50)
    copy[1:, :, 1] = 30
    study = value_study(copy, count)
    assert np.abs(study[..., 1:]).max() < 1e-6
    values = np.unique(munsell_value(study).round(6))
    assert len(values) == count
    assert np.ptp(np.diff(values)) < 1e-4
    # The nearest grey in value, whatever the hue.
    off = np.abs(munsell_value(study) - munsell_value(copy))
    inside = (munsell_value(copy) > values[0]) & (munsell_value(copy) < values[-1])
    assert off[inside].max() <= np.diff(values)[0] / 2 + 1e-6


def test_another_number_of_greys_is_refused() -> None:
    with pytest.raises(InputError, match="3, 5 and 7"):
        value_study(np.zeros((2, 2, 3)), 4)
