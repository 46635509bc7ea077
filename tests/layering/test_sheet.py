"""A worked sheet: tooth in zones, pressure, filling, blending and burnishing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.layering import constants as c
from drills.layering.films import film
from drills.layering.moves import FIRM, LIGHT, MIDDLE
from drills.layering.palette import prepare
from drills.layering.paper import SURFACE, drawing_paper, rough_paper, smooth_paper
from drills.layering.sheet import (
    Sheet,
    blank,
    blend,
    burnish,
    fleck,
    lay,
    reflectance,
    tooth_filled,
)
from drills.layering.surface import inside, outside
from drills.pencils.sets import demo_set

PALETTE = prepare(demo_set())
BLENDER = PALETTE.blender
RED, GREEN, WHITE, BLACK = (
    PALETTE.names.index(name)
    for name in ("Flagloft Red", "Eelgrass Hard", "Gullfeather", "Coalhulk")
)
FAST = settings(max_examples=40, deadline=None)
PRESSURES = st.floats(0.05, 1.5)
PENCILS = st.sampled_from(PALETTE.colour_indices.tolist())
STROKES = st.lists(st.tuples(PENCILS, PRESSURES), min_size=1, max_size=6)
WORK = st.lists(
    st.tuples(st.sampled_from(["lay", "lay", "lay", "blend", "burnish"]), PENCILS, PRESSURES),
    max_size=8,
)


def fresh(paper=None):
    return blank(paper or drawing_paper())


def worked(strokes, paper=None) -> Sheet:
    sheet = fresh(paper)
    for pencil, pressure in strokes:
        sheet = lay(sheet, PALETTE, pencil, pressure)
    return sheet


def area_mean(sheet, amount):
    return np.tensordot(sheet.paper.areas, amount[0], axes=1)


# -- laws ----------------------------------------------------------------------------


@FAST
@given(WORK)
def test_whatever_is_done_reflectance_stays_between_0_and_1(work):
    sheet = fresh()
    for action, pencil, pressure in work:
        if action == "lay":
            sheet = lay(sheet, PALETTE, pencil, pressure)
        else:
            sheet = blend(sheet, pressure) if action == "blend" else burnish(sheet)
    assert np.all((reflectance(sheet) >= 0) & (reflectance(sheet) <= 1))
    assert np.all((sheet.R >= 0) & (sheet.R <= 1))
    assert 0 <= tooth_filled(sheet)[0] <= 1


@FAST
@given(STROKES, PENCILS)
def test_no_pressure_changes_nothing(strokes, pencil):
    sheet = worked(strokes)
    after = lay(sheet, PALETTE, pencil, 0.0)
    assert reflectance(after) == pytest.approx(reflectance(sheet), abs=1e-12)
    assert np.array_equal(after.thickness, sheet.thickness)
    assert reflectance(blend(sheet, 0.0)) == pytest.approx(reflectance(sheet), abs=1e-12)


@FAST
@given(PENCILS, st.lists(PRESSURES, min_size=2, max_size=5))
def test_in_every_zone_films_of_one_pencil_are_one_film_of_their_sum(pencil, pressures):
    sheet = worked([(pencil, p) for p in pressures])
    for z in range(sheet.paper.zones):
        x, ground = sheet.thickness[0, z], inside(sheet.paper.without_surface)
        as_one = film(PALETTE.K[pencil], PALETTE.S[pencil], np.array(x), ground)
        assert sheet.R[0, z] == pytest.approx(outside(as_one), abs=1e-9)
        stays = np.exp(-x / c.SURFACE_DEPTH)
        surface = PALETTE.surface[pencil]
        assert sheet.surface[0, z] == pytest.approx(surface + stays * (SURFACE - surface))
        assert sheet.KX[0, z] == pytest.approx(PALETTE.K[pencil] * x)


def test_order_matters():
    green_last = reflectance(worked([(RED, MIDDLE), (GREEN, MIDDLE)]))
    red_last = reflectance(worked([(GREEN, MIDDLE), (RED, MIDDLE)]))
    assert np.abs(green_last - red_last).max() > 0.02


@FAST
@given(STROKES, st.floats(0.05, 1.5))
def test_blending_moves_pigment_and_loses_none(strokes, pressure):
    sheet = worked(strokes)
    after = blend(sheet, pressure)
    assert area_mean(after, after.KX) == pytest.approx(area_mean(sheet, sheet.KX), rel=1e-9)
    assert area_mean(after, after.SX) == pytest.approx(area_mean(sheet, sheet.SX), rel=1e-9)
    pressed = burnish(sheet)
    assert area_mean(pressed, pressed.KX) == pytest.approx(area_mean(sheet, sheet.KX), rel=1e-9)


# -- tooth and pressure ----------------------------------------------------------------


def test_light_pressure_reaches_the_peaks_and_firm_goes_deeper():
    light, firm = worked([(RED, LIGHT)]).thickness[0], worked([(RED, FIRM)]).thickness[0]
    assert np.all(np.diff(light) > 0)  # zones run from valley to peak
    assert light[1] < 0.1 * light[-1]
    assert firm[1] > 0.5 * firm[-1]
    assert firm[0] < 0.25 * firm[-1]  # pits: a few flecks stay nearly bare
    assert np.all(firm > light)


@FAST
@given(STROKES, PENCILS, st.tuples(PRESSURES, PRESSURES).map(sorted))
def test_more_pressure_never_lays_less(strokes, pencil, pressures):
    sheet = worked(strokes)
    less, more = (lay(sheet, PALETTE, pencil, p).thickness for p in pressures)
    assert np.all(more >= less - 1e-12)


def test_a_tooth_that_fills_takes_less_each_time():
    sheet, taken = fresh(), []
    for _ in range(6):
        before = area_mean(sheet, sheet.thickness)
        sheet = lay(sheet, PALETTE, RED, FIRM)
        taken.append(area_mean(sheet, sheet.thickness) - before)
    assert taken == sorted(taken, reverse=True)
    assert taken[-1] < 0.5 * taken[0]


def test_four_firm_layers_fill_drawing_paper():
    fills = [tooth_filled(worked([(RED, FIRM)] * n))[0] for n in (1, 2, 3, 4)]
    assert fills[2] < c.FULL <= fills[3]


def test_smooth_paper_covers_sooner_than_rough():
    flecks = [
        fleck(worked([(BLACK, MIDDLE)], p()))[0] for p in (smooth_paper, drawing_paper, rough_paper)
    ]
    assert flecks == sorted(flecks)


def test_bare_paper_has_no_fleck_and_its_own_colour():
    assert fleck(fresh())[0] == pytest.approx(0, abs=1e-9)  # ΔE00
    assert reflectance(fresh())[0] == pytest.approx(drawing_paper().reflectance)


# -- blending and burnishing -------------------------------------------------------------


def test_a_blender_leaves_a_haze_and_the_next_layer_takes_it_off_by_its_pressure():
    hazy = blend(worked([(BLACK, FIRM)]), LIGHT)
    left = [lay(hazy, PALETTE, BLACK, p).haze.mean() for p in (LIGHT, MIDDLE, FIRM)]
    assert hazy.haze.mean() > left[0] > left[1] > left[2] > 0


def test_a_blender_carries_pigment_into_the_valleys():
    sheet = worked([(BLACK, MIDDLE)])
    after = blend(sheet, LIGHT)
    assert after.KX[0, 0].mean() > sheet.KX[0, 0].mean()
    assert after.KX[0, -1].mean() < sheet.KX[0, -1].mean()


def test_a_blender_mixes_what_lay_in_layers():
    """Mixed, white over red and red over white come nearer to each other than layered."""
    one, other = worked([(RED, MIDDLE), (WHITE, MIDDLE)]), worked([(WHITE, MIDDLE), (RED, MIDDLE)])
    layered = np.abs(reflectance(one) - reflectance(other)).max()
    mixed = np.abs(reflectance(blend(one, FIRM)) - reflectance(blend(other, FIRM))).max()
    assert mixed < 0.6 * layered


def test_burnishing_evens_takes_off_haze_and_ends_layering():
    sheet = blend(worked([(RED, MIDDLE), (GREEN, LIGHT)]))
    sealed = burnish(sheet)
    assert fleck(sealed)[0] < 0.5 * fleck(sheet)[0]
    assert not sealed.haze.any()
    for after in (lay(sealed, PALETTE, BLACK, FIRM), blend(sealed), burnish(sealed)):
        assert reflectance(after) == pytest.approx(reflectance(sealed), abs=1e-12)


# -- many at once --------------------------------------------------------------------


@FAST
@given(st.lists(st.tuples(PENCILS, PRESSURES, st.booleans()), min_size=2, max_size=6))
def test_a_batch_is_its_rows_one_by_one(rows):
    pencils = np.array([r[0] for r in rows])
    pressures = np.array([r[1] for r in rows])
    both = blend(lay(blank(drawing_paper(), len(rows)), PALETTE, pencils, pressures), pressures)
    both = lay(both, PALETTE, pencils[::-1], pressures)
    for i in range(len(rows)):
        one = blend(lay(fresh(), PALETTE, int(pencils[i]), pressures[i]), pressures[i])
        one = lay(one, PALETTE, int(pencils[::-1][i]), pressures[i])
        assert reflectance(both)[i] == pytest.approx(reflectance(one)[0], abs=1e-12)
        assert fleck(both)[i] == pytest.approx(fleck(one)[0], abs=1e-9)


def test_rows_may_be_taken_and_joined_and_nothing_is_changed_in_place():
    sheet = lay(blank(drawing_paper(), 3), PALETTE, np.array([RED, GREEN, BLACK]), FIRM)
    kept = reflectance(sheet).copy()
    picked = sheet.take(np.array([2, 0, 0]))
    lay(picked, PALETTE, WHITE, FIRM)
    blend(picked)
    burnish(picked)
    assert np.array_equal(reflectance(sheet), kept)
    assert np.array_equal(reflectance(picked), kept[[2, 0, 0]])
    assert np.array_equal(reflectance(Sheet.join([picked, sheet])), kept[[2, 0, 0, 0, 1, 2]])
