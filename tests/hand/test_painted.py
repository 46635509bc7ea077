"""Swatches painted by hand: how strong their pencils are is learned, and told in doubt."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.hand.choose import candidates
from drills.hand.fit import fit
from drills.hand.model import N_SHARED, as_hand, prior, slopes
from drills.hand.patch import Patch, Recipe
from drills.layering import constants as c
from drills.layering.doubt.draws import many_in_doubt
from drills.layering.laying import LearnedHand
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import prepare
from drills.layering.predict import predict
from drills.pencils.file import make_set, parse_pencils, to_csv
from tests.palettes import palette_of

POCKET = palette_of("pocket")
OF = POCKET.colour_indices.tolist()
SET = make_set(
    "painted",
    tuple(replace(one, painted=0 if one.is_blender else 1) for one in POCKET.set.pencils),
)
PAINTED = prepare(SET)


def lay(*layers: tuple[int, float]) -> tuple[Move, ...]:
    return tuple(Move("lay", at, press) for at, press in layers)


def truth(at: int, pressed: float) -> LearnedHand:
    """A usual hand whose swatch of one pencil was laid so hard."""
    by = tuple(pressed if place == at else 1.0 for place in range(len(SET)))
    return LearnedHand((1.0,) * len(SET), pressed=by, pressed_sd=(0.0,) * len(SET))


def test_the_file_says_that_a_swatch_was_painted_and_a_set_of_none_is_written_as_before():
    assert parse_pencils(to_csv(SET).encode(), "kept") == SET
    assert "painted" not in to_csv(POCKET.set)
    assert SET.fingerprint != POCKET.set.fingerprint


@pytest.mark.parametrize("pressed", [0.8, 1.25])
def test_how_hard_a_swatch_was_laid_is_learned_from_more_patches_of_its_pencil(pressed):
    at = OF[2]
    ready = prepare(SET, None, truth(at, pressed))
    recipes = [Recipe(lay(*[(one, press)] * n)) for one in OF for press, n in ((FIRM, 4), (0.6, 4))]
    recipes += [Recipe(lay((at, FIRM))), Recipe(lay((at, MIDDLE), (at, MIDDLE)))]
    found = fit(PAINTED, [Patch(one, predict(ready, one.moves)) for one in recipes])
    learned = np.log(np.array(found.hand.pressed))
    assert learned[at] == pytest.approx(np.log(pressed), abs=0.09)
    assert np.abs(np.delete(learned, at)).max() < 0.5 * abs(learned[at])
    assert found.hand.pressed_sd[at] < 0.75 * c.HAND_SD
    # A firm layer then isn't the swatch as it was painted, but the swatch as the hand means it.
    after = prepare(SET, None, found.hand)
    meant = predict(ready, lay((at, FIRM)))
    assert float(delta_e00(predict(after, lay((at, FIRM))), meant)) < 0.6 * float(
        delta_e00(PAINTED.lab[at], meant)
    )


def test_a_swatch_given_as_exact_is_no_unknown():
    assert len(prior(POCKET)) == N_SHARED + len(OF)
    assert len(prior(PAINTED)) == N_SHARED + 2 * len(OF)
    found = fit(POCKET, [Patch(Recipe(lay((OF[0], FIRM), (OF[0], FIRM))), (30.0, 40.0, 20.0))])
    assert set(found.hand.pressed) == {1.0}
    assert set(found.hand.pressed_sd) == {0.0}


def test_slopes_by_a_swatches_pressure_are_those_of_central_differences_and_as_prepared():
    recipes = [
        Recipe(lay((OF[0], MIDDLE), (OF[3], LIGHT), (OF[0], LIGHT))),
        Recipe(lay((OF[3], FIRM)), "black"),
    ]
    at = np.zeros(len(prior(PAINTED)))
    found = slopes(PAINTED, at, recipes).by_unknown
    for p in range(N_SHARED + len(OF), len(at)):
        by = np.zeros_like(at)
        by[p] = 0.05
        ends = [slopes(PAINTED, at + sign * by, recipes).lab for sign in (1, -1)]
        assert found[:, :, p] == pytest.approx((ends[0] - ends[1]) / 0.1, rel=0.05, abs=0.8), p
    at[-len(OF) :] = 0.2 * np.random.default_rng(1).standard_normal(len(OF))
    ready = prepare(SET, None, as_hand(PAINTED, at, 0))
    said = slopes(PAINTED, at, recipes[:1]).lab[0]
    assert float(delta_e00(said, predict(ready, recipes[0].moves))) < 0.1


def test_a_second_firm_swatch_is_asked_for_where_the_first_was_painted_only():
    firm = {Recipe(lay((at, FIRM))) for at in OF}
    assert firm <= set(candidates(PAINTED, random.Random(1)))
    assert not firm & set(candidates(POCKET, random.Random(1)))


def test_what_a_painted_swatch_leaves_in_doubt_is_drawn_and_less_of_it_once_learned():
    moves = lay((OF[1], FIRM), (OF[1], FIRM), (OF[1], FIRM))

    def spread(palette) -> float:
        labs = many_in_doubt(palette, [moves], 256, 3)[0]
        return float(delta_e00(labs, labs.mean(axis=0)).mean())

    half = tuple(0.5 * sd for sd in PAINTED.pressed_sd.tolist())
    surer = prepare(SET, None, replace(truth(OF[1], 1.0), pressed_sd=half))
    exact = prepare(SET, None, truth(OF[1], 1.0))
    assert spread(POCKET) == pytest.approx(spread(exact), rel=1e-3)
    assert spread(PAINTED) > spread(surer) > spread(POCKET)


def test_the_mean_of_several_swatches_is_in_less_doubt():
    four = prepare(make_set("four", tuple(replace(p, painted=4 * p.painted) for p in SET.pencils)))
    assert four.pressed_sd[OF] == pytest.approx(PAINTED.pressed_sd[OF] / 2.0)
    assert PAINTED.pressed_sd[OF] == pytest.approx(c.HAND_SD)
