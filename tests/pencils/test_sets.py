"""The two invented sets are spread as an artist's are, and give every drill its colours."""

from __future__ import annotations

import numpy as np
import pytest

from drills.colour.hue import FAMILIES
from drills.colour.spaces import in_screen_gamut, lab_to_lch
from drills.layering.palette import prepare
from drills.pencils.sets import demo_set, pocket_set
from drills.pencils.survey import survey


@pytest.fixture(scope="module")
def palette():
    return prepare(demo_set())


def test_thirty_six_and_twelve_each_with_a_blender():
    assert len(demo_set()) == 36
    assert len(pocket_set()) == 12
    assert sum(p.is_blender for p in demo_set().pencils) == 1
    assert sum(p.is_blender for p in pocket_set().pencils) == 1


def test_every_pencil_says_that_it_is_invented():
    for pencil in (*demo_set().pencils, *pocket_set().pencils):
        assert "invented" in pencil.notes


def test_the_pocket_set_is_part_of_the_large_one():
    large = {p.name: p for p in demo_set().pencils}
    assert all(large[p.name] == p for p in pocket_set().pencils)


def test_every_colour_shows_truly_on_a_screen_and_none_is_neon(palette):
    colours = palette.lab[palette.colour_indices]
    assert in_screen_gamut(colours).all()
    assert lab_to_lch(colours)[:, 1].max() < 90


def test_every_family_of_the_wheel_has_a_pencil(palette):
    assert {FAMILIES[i] for i in palette.family[palette.colour_indices]} == set(FAMILIES)


def test_values_run_from_black_to_white_and_greys_are_cool_and_warm(palette):
    L, C, h = lab_to_lch(palette.lab[palette.colour_indices]).T
    assert L.min() < 25
    assert L.max() > 95
    greys = (C < 10) & (L > 30) & (L < 80)
    assert (greys & (h > 200) & (h < 300)).sum() >= 2
    assert (greys & (h > 40) & (h < 110)).sum() >= 2


def test_more_than_one_green_from_light_to_dark(palette):
    greens = [
        i
        for i in palette.colour_indices
        if FAMILIES[palette.family[i]] in ("green", "yellow-green")
    ]
    L = palette.lab[greens, 0]
    assert len(greens) >= 5
    assert L.min() < 40
    assert L.max() > 70


def test_a_bright_colour_has_a_pencil_opposite_to_mute_it(palette):
    """Wheel complements (Itten 1961): within a step and a half of straight across."""
    bright = [i for i in palette.colour_indices if lab_to_lch(palette.lab[i])[1] > 40]
    for i in bright:
        across = (palette.wheel[i] + 6) % 12
        away = np.abs((palette.wheel[palette.colour_indices] - across + 6) % 12 - 6)
        assert away.min() <= 1.5, palette.names[i]


def test_opacity_and_lightfastness_are_given_for_every_colour():
    kinds = set()
    for pencil in demo_set().pencils:
        if not pencil.is_blender:
            kinds.add(pencil.opacity)
            assert pencil.lightfastness
    assert kinds == {"transparent", "semi", "opaque"}


def test_the_survey_counts_and_finds_no_gap(palette):
    found = survey(palette)
    assert found.counts == "35 colours and 1 colourless blender"
    assert len(found.families) == len(FAMILIES) + 1  # and the greys
    assert not [note for note in found.notes if "no " in note]
    assert any("Foxglove Hythe will fade" in note for note in found.notes)


def test_the_survey_names_what_a_small_set_lacks():
    notes = " ".join(survey(prepare(pocket_set())).notes)
    assert "there is no yellow-orange" in notes
