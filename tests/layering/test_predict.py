"""Predicting a swatch: one recipe, every step of it, or thousands; and the pool of mixes."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.colour.hue import cam_chroma, family_at, wheel_position
from drills.colour.spaces import in_screen_gamut, reflectance_to_lab
from drills.layering.craft_faults import (
    AFTER_BURNISH,
    BLEND_BARE,
    BLEND_LAST,
    OVERFULL,
    broken_rules,
)
from drills.layering.moves import (
    BLEND,
    BURNISH,
    FIRM,
    LAY,
    LIGHT,
    MIDDLE,
    Move,
    move_words,
    pressure_word,
)
from drills.layering.palette import prepare
from drills.layering.paper import rough_paper
from drills.layering.pool import PAIRS, SANDWICHES
from drills.layering.predict import (
    as_arrays,
    extend,
    predict,
    predict_many,
    predict_steps,
    sheet_lab,
    start,
)
from drills.pencils.file import make_set, parse_pencils, to_csv
from drills.pencils.pencil import Pencil
from drills.pencils.sets import demo_set, pocket_set

PALETTE = prepare(pocket_set())
BLENDER = PALETTE.blender
FAST = settings(max_examples=40, deadline=None)
PRESSURES = st.floats(0.0, 1.5)
MOVES = st.one_of(
    st.builds(Move, st.just("lay"), st.integers(0, len(PALETTE) - 1), PRESSURES),
    st.builds(Move, st.just("lay"), st.sampled_from(PALETTE.colour_indices.tolist()), PRESSURES),
    st.builds(Move, st.just("blend"), st.sampled_from([-1, BLENDER]), PRESSURES),
    st.builds(Move, st.just("burnish"), st.integers(-1, len(PALETTE) - 1), PRESSURES),
)


@FAST
@given(
    st.integers(0, 5).flatmap(
        lambda n: st.lists(st.lists(MOVES, min_size=n, max_size=n), min_size=1, max_size=8)
    )
)
def test_many_recipes_at_once_are_each_alone(recipes):
    alone = np.array([predict(PALETTE, moves) for moves in recipes])
    assert predict_many(PALETTE, recipes) == pytest.approx(alone, abs=1e-8)
    assert predict_many(PALETTE, as_arrays(recipes)) == pytest.approx(alone, abs=1e-8)


@FAST
@given(st.lists(MOVES, min_size=1, max_size=5))
def test_steps_are_the_prefixes(moves):
    steps = predict_steps(PALETTE, moves)
    for n in range(1, len(moves) + 1):
        assert steps[n - 1] == pytest.approx(predict(PALETTE, moves[:n]), abs=1e-9)


@FAST
@given(st.lists(MOVES, min_size=4, max_size=4))
def test_a_sheet_grown_by_rows_is_the_recipe_done_from_the_start(moves):
    """What a search does: extend, choose rows, extend those."""
    pencil, pressure, action = as_arrays([moves] * 3)
    sheet = start(PALETTE, 3)
    for at in range(4):
        sheet = extend(PALETTE, sheet, pencil[:, at], pressure[:, at], action[:, at])
        sheet = sheet.take(np.array([2, 0, 1]))
    assert sheet_lab(sheet)[0] == pytest.approx(predict(PALETTE, moves), abs=1e-9)


def test_no_moves_is_bare_paper():
    paper = reflectance_to_lab(PALETTE.paper.reflectance)
    assert predict(PALETTE, []) == pytest.approx(paper)
    assert predict_steps(PALETTE, []).shape == (0, 3)
    assert predict_many(PALETTE, []).shape == (0, 3)
    assert predict_many(PALETTE, [[], []]) == pytest.approx(np.array([paper, paper]))


def test_other_paper_other_swatch():
    rough = prepare(pocket_set(), rough_paper())
    assert predict(rough, [Move("lay", 2)])[0] > predict(PALETTE, [Move("lay", 2)])[0] + 1


def test_moves_that_can_not_be_made_are_said_so():
    with pytest.raises(ValueError, match="one length"):
        predict_many(PALETTE, [[Move("lay", 0)], []])
    with pytest.raises(ValueError, match="needs a pencil"):
        predict(PALETTE, [Move("lay")])
    with pytest.raises(ValueError, match="no pencil 99"):
        predict(PALETTE, [Move("lay", 99)])


def test_moves_in_an_artists_words():
    assert move_words(PALETTE, Move("lay", 2, LIGHT)) == "Flagloft Red, light pressure"
    assert move_words(PALETTE, Move("blend", BLENDER, LIGHT)) == "Waxcalm, lightly"
    assert move_words(PALETTE, Move("blend", -1, FIRM)) == "colourless blender, firmly"
    assert move_words(PALETTE, Move("burnish", 10)) == "burnish with Gullfeather"
    assert move_words(PALETTE, Move("burnish")) == "burnish"
    words = [pressure_word(p) for p in (0.1, LIGHT, 0.5, MIDDLE, FIRM, 1.4)]
    assert words == ["light", "light", "middle", "middle", "firm", "heavy"]
    assert (LAY, BLEND, BURNISH) == (0, 1, 2)


# -- craft (common practice, no source) ------------------------------------------------


@pytest.mark.parametrize(
    ("moves", "broken"),
    [
        ([], ()),
        ([Move("lay", 2, MIDDLE), Move("lay", 7, LIGHT), Move("lay", 2)], ()),
        ([Move("lay", 2), Move("blend"), Move("lay", 2, LIGHT)], ()),
        ([Move("lay", 2), Move("burnish"), Move("lay", 2)], (AFTER_BURNISH,)),
        ([Move("lay", 2), Move("burnish"), Move("blend")], (AFTER_BURNISH,)),
        ([Move("lay", 2), Move("burnish", 10)], ()),
        ([Move("blend"), Move("lay", 2)], (BLEND_BARE,)),
        ([Move("lay", 2), Move("blend")], (BLEND_LAST,)),
        ([Move("lay", 2), Move("lay", BLENDER, LIGHT)], (BLEND_LAST,)),
        ([Move("lay", 2)] * 4, ()),
        ([Move("lay", 2)] * 5, (OVERFULL,)),
        ([Move("lay", 2, LIGHT)] * 12, ()),
        (
            [Move("blend")] + [Move("lay", 2)] * 6 + [Move("blend")],
            (BLEND_BARE, OVERFULL, BLEND_LAST),
        ),
    ],
)
def test_what_a_teacher_would_stop_the_hand_for(moves, broken):
    assert broken_rules(PALETTE, moves) == broken


# -- the pool ----------------------------------------------------------------------------


def test_the_pool_says_how_each_of_its_swatches_was_made():
    palette = prepare(demo_set())
    pool = palette.pool
    for i in random.Random(4).sample(range(len(pool)), 60):
        assert pool.lab[i] == pytest.approx(predict(palette, pool.moves(i)), abs=1e-9)
    assert pool.wheel == pytest.approx(wheel_position(pool.lab))
    assert np.array_equal(pool.family, family_at(pool.wheel))
    assert pool.chroma == pytest.approx(cam_chroma(pool.lab))
    assert np.array_equal(pool.on_screen, in_screen_gamut(pool.lab))


def test_the_pool_holds_singles_pairs_and_a_muter_held_inside():
    palette = prepare(demo_set())
    counts = (palette.pool.pencils >= 0).sum(axis=1)
    assert (counts == 1).sum() == 3 * 35
    assert (counts == 2).sum() == PAIRS
    held = palette.pool.pencils[counts == 3]
    assert len(held) == SANDWICHES
    assert np.array_equal(held[:, 0], held[:, 2])
    assert np.all(held[:, 0] != held[:, 1])
    assert palette.blender not in palette.pool.pencils


def test_the_pool_depends_on_nothing_but_the_pencils():
    again = prepare(parse_pencils(to_csv(demo_set()).encode(), "other.csv"))
    assert np.array_equal(prepare(demo_set()).pool.lab, again.pool.lab)


def test_every_family_can_be_drawn_from_the_pool_of_a_pocket_set():
    assert set(PALETTE.pool.family) == set(range(12))


@pytest.mark.parametrize("count", [1, 2, 3])
def test_even_a_pencil_or_two_make_a_pool(count):
    pencils = tuple(Pencil(f"P{i}", hex=f"#{i}05080") for i in range(count))
    pool = prepare(make_set("few", pencils)).pool
    assert len(pool) >= 3 * count
    assert np.isfinite(pool.lab).all()
