"""Each pencil's film gives its swatch back, as given in the file, in the model's own paper."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab, srgb_to_lab
from drills.layering import constants as c
from drills.layering.calibrate import swatch
from drills.layering.moves import FIRM, Move
from drills.layering.palette import prepare
from drills.layering.paper import black_paper, drawing_paper
from drills.layering.predict import predict_many
from drills.pencils.file import make_set
from drills.pencils.pencil import Pencil
from drills.pencils.sets import demo_set, pocket_set


def box(*pencils: Pencil):
    return prepare(make_set("box", pencils))


def firm_swatches(palette):
    return predict_many(palette, [[Move("lay", int(i), FIRM)] for i in palette.colour_indices])


def hex_lab(text):
    return srgb_to_lab([int(text[i : i + 2], 16) / 255 for i in (1, 3, 5)])


@pytest.mark.parametrize("pencil_set", [demo_set(), pocket_set()])
def test_a_firm_layer_on_drawing_paper_is_the_swatch(pencil_set):
    palette = prepare(pencil_set)
    given = np.array([hex_lab(p.hex) for p in pencil_set.pencils if p.hex])
    assert delta_e00(firm_swatches(palette), given).max() <= 0.01  # asked: ≤ 0.5


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(0, 0xFFFFFF), min_size=1, max_size=8, unique=True),
    st.sampled_from(["transparent", "semi", "opaque"]),
)
def test_any_screen_colour_as_a_swatch_comes_back(colours, opacity):
    hexes = [f"#{n:06x}" for n in colours]
    palette = box(*(Pencil(h, hex=h, opacity=opacity) for h in hexes))
    given = np.array([hex_lab(h) for h in hexes])
    assert delta_e00(firm_swatches(palette), given).max() <= 0.5
    assert np.all(palette.K > 0)
    assert np.all(palette.S > 0)


@settings(max_examples=20, deadline=None)
@given(st.lists(st.floats(0.005, 0.99), min_size=31, max_size=31))
def test_a_measured_spectrum_comes_back_wavelength_by_wavelength(values):
    palette = box(Pencil("Measured", reflectance=tuple(values)))
    back = swatch(palette.K, palette.S, drawing_paper())[0]
    assert back == pytest.approx(np.array(values), abs=1e-6)


def test_opacity_sets_how_much_shows_on_black_paper():
    shown = []
    for opacity in ("transparent", "semi", "opaque"):
        palette = box(Pencil("Blue", hex="#306db8", opacity=opacity))
        shown.append(float(swatch(palette.K, palette.S, black_paper()).mean()))
    assert shown == sorted(shown)
    assert shown[2] > 2 * shown[0]


def test_only_what_outshines_the_paper_scatters_more_than_its_opacity_says():
    palette = prepare(demo_set())
    for i in palette.colour_indices:
        said = c.SCATTERING[demo_set().pencils[i].opacity]
        assert palette.S[i] == pytest.approx(said)
    white = box(Pencil("White", hex="#ffffff"))
    assert white.S.min() > c.SCATTERING["semi"]


@settings(max_examples=15, deadline=None)
@given(
    st.lists(st.floats(0.05, 4.0), min_size=31, max_size=31),
    st.lists(st.floats(0.1, 3.0), min_size=31, max_size=31),
)
def test_swatches_on_white_and_black_give_back_the_film_they_were_made_with(k, s):
    """Two grounds know a film in full (Kubelka 1948), here through the zones of tooth."""
    K, S = np.array([k]), np.array([s])
    on_white = swatch(K, S, drawing_paper())[0]
    on_black = swatch(K, S, black_paper())[0]
    palette = box(Pencil("Known", reflectance=tuple(on_white), on_black=tuple(on_black)))
    assert palette.S[0] == pytest.approx(np.array(s), rel=0.02)
    assert palette.K[0] == pytest.approx(np.array(k), rel=0.02)


def test_a_swatch_on_black_paper_given_as_a_colour_comes_back():
    pencils = (
        Pencil("Pale", hex="#e8c9c9", on_black="#8d7474"),
        Pencil("Deep", hex="#30506b", on_black=(14.0, -2.0, -9.0)),
    )
    palette = box(*pencils)
    given = np.array([hex_lab("#e8c9c9"), hex_lab("#30506b")])
    assert delta_e00(firm_swatches(palette), given).max() <= 0.01
    black = reflectance_to_lab(swatch(palette.K, palette.S, black_paper()))
    asked = np.array([hex_lab("#8d7474"), (14.0, -2.0, -9.0)])
    assert delta_e00(black, asked).max() <= 0.5


def test_a_black_swatch_that_can_not_be_still_leaves_the_white_one_true():
    palette = box(Pencil("Odd", hex="#7a3a3a", on_black="#ffffff"))
    assert delta_e00(firm_swatches(palette), hex_lab("#7a3a3a")).max() <= 0.01


def test_a_pencil_nothing_can_reflect_is_named_with_its_row():
    with pytest.raises(InputError, match=r"box, row 7: no paper can reflect .*“Sun”"):
        box(Pencil("Sun", lab=(98.0, 0.0, 120.0), row=7))


def test_a_blender_has_no_film():
    palette = prepare(demo_set())
    assert palette.blender == 35
    assert not palette.K[35].any()
    assert palette.family[35] == -1
    assert 35 not in palette.colour_indices
