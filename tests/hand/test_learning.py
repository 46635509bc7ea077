"""What is learned from patches: against truths that are known, and against scipy."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares

from drills.colour.difference import delta_e00, metric
from drills.colour.spaces import reflectance_to_lab
from drills.hand.choose import candidates, choose, targets
from drills.hand.fit import FEWEST, fit, noise_of, surest
from drills.hand.model import N_SHARED, SHARED, as_hand, prior, slopes
from drills.hand.patch import Patch, Recipe
from drills.layering import constants as c
from drills.layering.calibrate import swatch
from drills.layering.doubt.drawn_films import draw_films
from drills.layering.laying import LearnedHand
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import prepare
from drills.layering.paper import black_paper, deeper, drawing_paper
from drills.layering.predict import predict
from tests.palettes import palette_of, pencil

POCKET = palette_of("pocket")
DEMO = palette_of("demo")


def another_hand(seed: int, palette=POCKET) -> LearnedHand:
    """A hand drawn from the prior."""
    drawn = np.random.default_rng(seed).multivariate_normal(
        np.zeros(N_SHARED + len(palette.colour_indices)), prior(palette)
    )
    return as_hand(palette, drawn, 0)


def theta_of(hand: LearnedHand, palette=POCKET):
    shared = [
        np.log(hand.tooth), np.log(hand.capacity / c.CAPACITY), np.log(hand.power / c.LOAD_POWER),
        np.log(hand.light), np.log(hand.middle), hand.scatter_power - c.SCATTER_POWER,
        np.log(hand.shine),
    ]  # fmt: skip
    return np.array([*shared, *np.log(np.array(hand.scales)[palette.colour_indices])])


def lay(*layers: tuple[int, float]) -> tuple[Move, ...]:
    return tuple(Move("lay", at, press) for at, press in layers)


def painted(hand: LearnedHand, recipes, palette=POCKET) -> list[Patch]:
    """Patches as that hand means them, measured without fault."""
    on = {
        "white": prepare(palette.set, None, hand),
        "black": prepare(palette.set, black_paper(), hand),
    }
    return [Patch(one, predict(on[one.paper], one.moves)) for one in recipes]


@pytest.mark.parametrize("seed", range(4))
def test_a_learned_hand_gives_every_swatch_back(seed):
    """A firm swatch is what the pencils file says, whatever is learned."""
    ready = prepare(POCKET.set, None, another_hand(seed))
    for at in POCKET.colour_indices.tolist():
        assert float(delta_e00(predict(ready, lay((at, FIRM))), POCKET.lab[at])) < 0.05


def test_what_is_in_doubt_about_a_learned_hand_gives_swatches_back_too():
    hand = replace(another_hand(1), tooth=1.3, shine=1.5, scatter_power=1.0)
    ready = prepare(POCKET.set, None, hand)
    of = ready.colour_indices
    drawn = draw_films(ready, of, 10, np.random.default_rng(1))
    paper = deeper(drawing_paper(), np.repeat(hand.tooth * drawn.tooth, len(of)))
    back = reflectance_to_lab(swatch(drawn.K, drawn.S, paper, drawn.surface))
    assert np.quantile(delta_e00(back.reshape(10, -1, 3), ready.lab[of]), 0.9) < 0.35


@pytest.mark.parametrize("seed", range(4))
def test_what_is_fitted_is_what_a_palette_then_predicts(seed):
    hand = another_hand(seed)
    recipes = [
        Recipe(lay((0, LIGHT), (0, LIGHT))),
        Recipe(lay((1, MIDDLE), (4, FIRM), (2, LIGHT))),
        Recipe(lay((3, FIRM)), "black"),
        Recipe((*lay((5, MIDDLE)), Move("blend", -1, LIGHT))),
    ]
    fitted = slopes(POCKET, theta_of(hand), recipes).lab
    assert delta_e00(fitted, [p.lab for p in painted(hand, recipes)]).max() < 0.1


def test_pencils_with_a_swatch_on_black_are_learned_alike():
    one = replace(pencil("Chalk", "#c8b49a"), on_black="#4a443c")
    palette = prepare(replace(DEMO.set, pencils=(one, pencil("Brick", "#a04030"))))
    hand = LearnedHand((1.4, 0.8), shine=2.0, tooth=1.1)
    recipes = [Recipe(lay((0, MIDDLE), (1, LIGHT))), Recipe(lay((0, FIRM)), "black")]
    fitted = slopes(palette, theta_of(hand, palette), recipes).lab
    assert delta_e00(fitted, [p.lab for p in painted(hand, recipes, palette)]).max() < 0.1


def test_slopes_are_those_of_central_differences():
    recipes = [Recipe(lay((0, MIDDLE), (3, LIGHT), (0, LIGHT))), Recipe(lay((3, FIRM)), "black")]
    at = np.zeros(N_SHARED + len(POCKET.colour_indices))
    found = slopes(POCKET, at, recipes).by_unknown
    for p in range(len(at)):
        by = np.zeros_like(at)
        by[p] = 0.05
        ends = [slopes(POCKET, at + sign * by, recipes).lab for sign in (1, -1)]
        assert found[:, :, p] == pytest.approx((ends[0] - ends[1]) / 0.1, rel=0.05, abs=0.8), p


def test_the_fit_is_where_scipy_finds_it():
    """scipy.optimize.least_squares on the same misses and prior."""
    rng = random.Random(5)
    patches = painted(another_hand(5), rng.sample(candidates(POCKET, rng), 14))
    found = fit(POCKET, patches)
    recipes, lab = [p.recipe for p in patches], np.array([p.lab for p in patches])
    roots = np.linalg.solve(
        np.linalg.cholesky(noise_of(slopes(POCKET, found.theta, recipes), lab, c.PATCH_SD)),
        metric(lab),
    )
    of_prior = np.linalg.inv(np.linalg.cholesky(prior(POCKET)))

    def off(theta):
        miss = np.einsum("bij,bj->bi", roots, lab - slopes(POCKET, theta, recipes).lab)
        return np.concatenate([miss.ravel(), of_prior @ theta])

    best = least_squares(off, np.zeros_like(found.theta), diff_step=0.01)
    assert 0.5 * (off(found.theta) ** 2).sum() == pytest.approx(best.cost, rel=0.01)
    assert np.median(delta_e00(found.predicted, slopes(POCKET, best.x, recipes).lab)) < 0.1


@pytest.mark.parametrize("seed", range(3))
def test_learning_comes_nearer_than_the_default_for_recipes_never_painted(seed):
    rng = random.Random(seed)
    hand = another_hand(seed + 20)
    patches = painted(hand, rng.sample(candidates(POCKET, rng), 24))
    found = fit(POCKET, patches)
    wanted = targets(POCKET, rng, 40)
    true = [p.lab for p in painted(hand, wanted)]
    learned = [predict(prepare(POCKET.set, None, found.hand), one.moves) for one in wanted]
    default = [predict(POCKET, one.moves) for one in wanted]
    assert found.better
    assert np.median(delta_e00(learned, true)) < 0.6 * np.median(delta_e00(default, true))


def test_a_pencil_never_painted_borrows_from_its_class():
    of = [i for i, one in enumerate(DEMO.set.pencils) if one.opacity == "semi"]
    scales = [1.0] * len(DEMO)
    for at in of:
        scales[at] = 2.0
    recipes = [Recipe(lay((at, FIRM)), "black") for at in of[:8]]
    found = fit(DEMO, painted(LearnedHand(tuple(scales)), recipes, DEMO))
    for at, one in enumerate(DEMO.set.pencils):
        if at in of[8:]:
            assert found.hand.scales[at] > 1.15
        elif one.opacity == "opaque":
            assert found.hand.scales[at] == pytest.approx(1.0, abs=0.1)


def test_a_held_out_error_is_that_of_a_fit_without_the_patch():
    rng = random.Random(8)
    patches = painted(another_hand(8), rng.sample(candidates(POCKET, rng), 12))
    found = fit(POCKET, patches)
    for at in range(12):
        without = fit(POCKET, patches[:at] + patches[at + 1 :])
        said = slopes(POCKET, without.theta, [patches[at].recipe]).lab[0]
        assert found.held_out[at] == pytest.approx(float(delta_e00(said, patches[at].lab)), abs=0.5)


def test_the_default_stays_without_patches_with_few_and_where_they_are_noise():
    assert not fit(POCKET, []).better
    rng, noise = random.Random(2), np.random.default_rng(2)
    recipes = rng.sample(candidates(POCKET, rng), 14)
    few = painted(another_hand(20), recipes[: FEWEST - 1])
    assert not fit(POCKET, few).better
    as_default = [
        replace(one, lab=tuple(np.array(one.lab) + 2.0 * noise.standard_normal(3)))
        for one in painted(LearnedHand((1.0,) * len(POCKET)), recipes)
    ]
    assert not fit(POCKET, as_default).better


def test_each_patch_leaves_less_in_doubt():
    rng = random.Random(3)
    some = painted(another_hand(3), rng.sample(candidates(POCKET, rng), 20))
    before, after = surest(fit(POCKET, some[:4])), surest(fit(POCKET, some))
    assert set(before) == set(SHARED)
    assert sum(after.values()) < sum(before.values())


def test_the_patches_chosen_are_the_same_again_and_none_painted_twice():
    found = fit(POCKET, [])
    first = choose(POCKET, found, 6)
    assert first == choose(POCKET, found, 6)
    assert len({one.recipe for one in first}) == 6
    done = [one.recipe for one in first]
    assert not set(done) & {one.recipe for one in choose(POCKET, found, 6, done)}


def test_patches_chosen_narrow_targets_more_than_patches_at_random():
    found = fit(DEMO, [])
    rng = random.Random(4)
    at = slopes(DEMO, found.theta, targets(DEMO, rng))
    G = metric(at.lab) @ at.by_unknown

    def left(recipes) -> float:
        cov = fit(DEMO, painted(LearnedHand((1.0,) * len(DEMO)), recipes, DEMO)).cov
        return float(np.einsum("tip,pq,tiq->", G, cov, G))

    chosen = left([one.recipe for one in choose(DEMO, found, 12)])
    at_random = [left(rng.sample(candidates(DEMO, rng), 12)) for _ in range(5)]
    assert chosen < min(at_random)
