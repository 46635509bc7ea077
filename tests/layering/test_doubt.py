"""What isn't known, drawn by lot: every draw gives the swatches back, and a seed is repeated."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.layering import constants as c
from drills.layering.calibrate import swatch
from drills.layering.doubt.drawn_films import draw_films
from drills.layering.doubt.draws import many_in_doubt
from drills.layering.moves import FIRM, LIGHT, Move
from drills.layering.paper import deeper, drawing_paper
from drills.layering.predict import predict
from drills.pencils.pencil import Pencil
from tests.palettes import palette_of, palette_with

DEMO = palette_of("demo")
FAST = settings(max_examples=25, deadline=None)
PRESSURES = st.floats(0.05, 1.5)
PENCILS = st.integers(0, len(DEMO) - 1)
MOVES = st.one_of(
    st.builds(Move, st.just("lay"), PENCILS, PRESSURES),
    st.builds(Move, st.just("blend"), st.sampled_from([-1, DEMO.blender]), PRESSURES),
    st.builds(Move, st.just("burnish"), st.one_of(st.just(-1), PENCILS), PRESSURES),
)


def rng(seed=0):
    return np.random.default_rng(seed)


def in_doubt(palette, moves, seed=0, draws=192):
    return many_in_doubt(palette, [moves], draws, seed)[0]


@pytest.mark.parametrize("name", ["demo", "drawn 1"])
def test_every_draw_gives_each_swatch_back(name):
    palette = palette_of(name)
    pencils = palette.colour_indices
    drawn = draw_films(palette, pencils, 12, rng())
    paper = deeper(drawing_paper(), np.repeat(drawn.tooth, len(pencils)))
    back = reflectance_to_lab(swatch(drawn.K, drawn.S, paper, drawn.surface))
    off = delta_e00(back.reshape(12, -1, 3), palette.lab[pencils])
    assert np.percentile(off, 95) < 0.25
    assert off.max() < 2.0


def test_draws_differ_by_the_spreads_that_stand_in_constants():
    drawn = draw_films(DEMO, np.array([5, 16]), 4000, rng())
    assert np.log(drawn.tooth).std() == pytest.approx(c.TOOTH_SD, rel=0.1)
    assert drawn.habit.std() == pytest.approx(c.HABIT_SD, rel=0.1)
    scale = np.log(drawn.S.max(axis=1)).reshape(4000, 2)
    assert scale.std(axis=0) == pytest.approx(np.full(2, c.SCATTERING_SD), rel=0.1)
    assert abs(np.corrcoef(scale.T)[0, 1]) < 0.1  # each pencil's opacity is its own
    known = palette_with(Pencil("Known", hex="#306db8", on_black="#2c3a4c"))
    scale = np.log(draw_films(known, np.array([0]), 4000, rng()).S.max(axis=1))
    assert scale.std() == pytest.approx(c.MEASURED_SD, rel=0.1)


def test_a_measured_spectrum_is_not_doubted_and_a_colour_is():
    given = DEMO.reflectance[5]
    as_colour = Pencil("Red", lab=tuple(DEMO.lab[5].tolist()))
    as_spectrum = Pencil("Red", reflectance=tuple(given.tolist()))
    off = []
    for pencil in (as_colour, as_spectrum):
        drawn = draw_films(palette_with(pencil), np.array([0]), 100, rng())
        paper = deeper(drawing_paper(), drawn.tooth)
        off.append(np.abs(swatch(drawn.K, drawn.S, paper, drawn.surface) - given).mean())
    assert off[1] < 1e-3 < 0.01 < off[0]


@FAST
@given(st.lists(MOVES, max_size=5), st.integers(0, 99))
def test_any_moves_have_a_spread_about_what_is_foretold_and_the_same_seed_the_same(moves, seed):
    seen = in_doubt(DEMO, moves, seed, draws=72)
    assert seen.shape == (72, 3)
    assert np.all(np.isfinite(seen))
    assert np.array_equal(seen, in_doubt(DEMO, moves, seed, draws=72))
    foretold = np.array(predict(DEMO, moves))
    low, high = seen.min(axis=0) - 4.0, seen.max(axis=0) + 4.0
    assert np.all((low <= foretold) & (foretold <= high))


def test_bare_paper_is_known_and_a_firm_swatch_better_than_a_light_one():
    assert in_doubt(DEMO, []) == pytest.approx(np.tile(predict(DEMO, []), (192, 1)), abs=0.05)
    off = [
        delta_e00(in_doubt(DEMO, [Move("lay", 5, press)]), predict(DEMO, [Move("lay", 5, press)]))
        for press in (LIGHT, FIRM)
    ]
    assert off[0].mean() > off[1].mean() > 0.5  # a hand's firm layer isn't the swatch itself


def test_moves_that_can_not_be_made_are_said_so():
    with pytest.raises(ValueError, match="needs a pencil"):
        in_doubt(DEMO, [Move("lay")])
    with pytest.raises(ValueError, match="no pencil 99"):
        in_doubt(DEMO, [Move("lay", 99)])


@FAST
@given(st.lists(MOVES, max_size=5), st.lists(st.lists(MOVES, max_size=5), max_size=3))
def test_what_is_expected_of_a_recipe_does_not_hang_on_what_it_is_compared_with(moves, others):
    beside = many_in_doubt(DEMO, [*others, moves], 8, 3)[-1]
    np.testing.assert_allclose(beside, in_doubt(DEMO, moves, 3, draws=8), atol=1e-3)


def test_a_pencil_burnishes_with_colour_and_a_blender_or_none_without():
    ground = [Move("lay", 5, FIRM), Move("lay", 5, LIGHT)]
    bare, blender, navy = (
        in_doubt(DEMO, [*ground, Move("burnish", with_)])
        for with_ in (-1, DEMO.blender, DEMO.names.index("Pilotcoat Navy"))
    )
    np.testing.assert_array_equal(bare, blender)
    assert navy[:, 0].mean() < bare[:, 0].mean() - 2.0
