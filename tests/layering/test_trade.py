"""What artists see happen must happen in the model (common practice, no source).

Held over every red and pink and every middle green of the demo set, with
nothing tuned for one pencil: the numbers are in drills/layering/constants.py.
"""

from __future__ import annotations

import numpy as np
import pytest

from drills.colour.hue import FAMILIES, family, wheel_position, wheel_steps
from drills.colour.reading import read_colour
from drills.colour.spaces import lab_to_lch
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import prepare
from drills.layering.predict import apply, predict, start
from drills.layering.sheet import fleck
from drills.pencils.sets import demo_set, pocket_set

PALETTE = prepare(demo_set())


def chosen(family_name, least_chroma, values=(0, 100)):
    chroma = lab_to_lch(PALETTE.lab)[:, 1]
    return [
        name
        for i, name in enumerate(PALETTE.names)
        if PALETTE.family[i] == FAMILIES.index(family_name)
        and chroma[i] > least_chroma
        and values[0] < PALETTE.lab[i, 0] < values[1]
    ]


REDS = chosen("red", 20)  # pinks are light reds
GREENS = chosen("green", 30, (45, 60))
every_red = pytest.mark.parametrize("red", REDS)
every_green = pytest.mark.parametrize("green", GREENS)


def lay(name, pressure):
    return Move("lay", PALETTE.names.index(name), pressure)


def seen(*moves):
    """L*, C* and hue family after the moves."""
    lab = predict(PALETTE, moves)
    L, C, _ = lab_to_lch(lab)
    return L, C, family(lab)


def test_there_are_reds_pinks_and_middle_greens_to_hold_it_over():
    assert len(REDS) >= 5
    assert len(GREENS) >= 2
    assert [name for name in REDS if PALETTE.lab[PALETTE.names.index(name), 0] > 60]  # pinks


@every_red
@every_green
def test_a_light_layer_of_middle_green_mutes_a_red(red, green):
    L, C, hue = seen(lay(red, FIRM))
    muted_L, muted_C, muted_hue = seen(lay(red, FIRM), lay(green, LIGHT))
    assert muted_L < L
    assert 0.6 * C < muted_C < C - 3
    assert muted_hue == hue


@every_red
@every_green
@pytest.mark.parametrize("pressure", [MIDDLE, FIRM])
def test_held_between_two_red_layers_it_keeps_more_of_the_reds_chroma(red, green, pressure):
    main, muter = lay(red, pressure), lay(green, LIGHT)
    _, held, _ = seen(main, muter, main)
    _, on_top, _ = seen(main, main, muter)
    assert held > on_top


@every_red
@every_green
def test_laid_heavily_it_destroys_the_red(red, green):
    _, C, hue = seen(lay(red, FIRM))
    _, left, after = seen(lay(red, FIRM), lay(green, FIRM))
    assert after != hue or left < 0.5 * C


@every_red
def test_a_blue_grey_also_darkens_a_red(red):
    L, C, hue = seen(lay(red, FIRM))
    grey_L, grey_C, grey_hue = seen(lay(red, FIRM), lay("Squallwatch Grey", LIGHT))
    assert grey_L < L
    assert grey_C < C
    assert grey_hue == hue


def test_a_dark_greyed_blue_green():
    """From a dark cool grey, a dark blue and a blue-green, eased with a touch of white."""
    made = (
        lay("Wetslate Roof", FIRM),
        lay("Pilotcoat Navy", MIDDLE),
        lay("Copperhull", FIRM),
    )
    eased = (*made, lay("Gullfeather", 0.2))
    reading = read_colour(predict(PALETTE, eased))
    assert reading.family == "blue-green"
    assert reading.value_word == "dark"
    assert reading.chroma_word in ("greyed", "dull")
    assert predict(PALETTE, eased)[0] > predict(PALETTE, made)[0]


def test_a_rose_a_touch_too_cool_is_warmed_by_a_redder_pencil_of_the_same_value():
    """The corrective is a light layer of it: hue turns to red, value hardly moves."""
    rose = (lay("Thriftbank Pink", FIRM), lay("Foxglove Hythe", LIGHT))
    redder = (*rose, lay("Lobsterpot Quay", 0.4))
    before, after = predict(PALETTE, rose), predict(PALETTE, redder)
    red = FAMILIES.index("red")
    assert wheel_position(before) > red
    assert wheel_steps(wheel_position(after), red) < wheel_steps(wheel_position(before), red)
    assert abs(after[0] - before[0]) < 4


def test_firm_layers_cover_and_light_ones_leave_the_paper_to_glint():
    for i in PALETTE.colour_indices:
        if PALETTE.lab[i, 0] < 60:  # on lighter colours white paper hardly shows
            sheets = [
                apply(PALETTE, start(PALETTE), Move("lay", int(i), p))
                for p in (LIGHT, MIDDLE, FIRM)
            ]
            bare = [sheet.paper.areas[sheet.thickness[0] < 0.2].sum() for sheet in sheets]
            assert bare == sorted(bare, reverse=True)
            assert bare[0] == 1.0  # all of it thinly covered
            assert bare[2] <= 0.05  # the pits
            assert fleck(sheets[2])[0] < 0.9 * fleck(sheets[1])[0]


def test_light_layers_build_up_to_the_colour_of_a_firmer_one():
    """Many light layers approach a firmer layer's value, step by step."""
    L = [predict(PALETTE, [lay("Flagloft Red", LIGHT)] * n)[0] for n in range(1, 9)]
    assert np.all(np.diff(L) < 0)
    assert L[-1] < predict(PALETTE, [lay("Flagloft Red", MIDDLE)])[0] + 8


def test_the_pocket_set_mutes_its_red_too():
    palette = prepare(pocket_set())
    red, green = (palette.names.index(n) for n in ("Flagloft Red", "Eelgrass Hard"))
    plain = lab_to_lch(predict(palette, [Move("lay", red)]))
    muted = lab_to_lch(predict(palette, [Move("lay", red), Move("lay", green, LIGHT)]))
    assert muted[1] < plain[1] - 3
    assert muted[0] < plain[0]
