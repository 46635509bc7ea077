"""A spot's colour: not turned by a speck or an edge, and its doubts told."""

from __future__ import annotations

import numpy as np
import pytest

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.colour.spaces import srgb_to_lab
from drills.pictures.spot import read_spot
from tests.photos.made import opened, plain

COLOUR = (150, 90, 60)
LAB = srgb_to_lab(np.array(COLOUR) / 255)


def noisy(sd: float, seed: int = 1) -> np.ndarray:
    rng = np.random.default_rng(seed)
    levels = plain(COLOUR, 80, 80) + rng.normal(0, sd, (80, 80, 3))
    return np.clip(np.rint(levels), 1, 253).astype(np.uint8)


def test_an_even_spot_is_its_colour_without_a_word() -> None:
    spot = read_spot(opened(plain(COLOUR, 80, 80)), 40, 40, 10)
    assert float(delta_e00(spot.lab, LAB)) < 1e-9
    assert spot.warnings == ()
    # Four fifths of the pixels whose middles lie within ten of the middle (Gauss's circle: 317).
    assert spot.count == round(317 * 0.8)


def test_noise_and_specks_of_glare_or_dust_do_not_turn_it() -> None:
    levels = noisy(6)
    rng = np.random.default_rng(2)
    specks = rng.random((80, 80))
    levels[specks < 0.05], levels[specks > 0.95] = 253, 3
    spot = read_spot(opened(levels), 40, 40, 15)
    assert float(delta_e00(spot.lab, LAB)) < 0.6
    plain_mean = srgb_to_lab(levels.reshape(-1, 3) / 255).mean(axis=0)
    assert float(delta_e00(plain_mean, LAB)) > 1.2


def test_the_grain_of_a_drawing_is_part_of_its_colour() -> None:
    """White tooth between strokes: light adds, so the mean is taken in light (XYZ)."""
    levels = plain((200, 60, 60), 80, 80)
    levels[::2, ::2] = levels[1::2, 1::2] = 240
    spot = read_spot(opened(levels), 40, 40, 20)
    from drills.colour.spaces import srgb_to_xyz, xyz_to_lab

    both = srgb_to_xyz(np.array([[200, 60, 60], [240, 240, 240]]) / 255).mean(axis=0)
    assert float(delta_e00(spot.lab, xyz_to_lab(both))) < 8
    assert "uneven" not in spot.warnings


def test_a_big_spot_is_sampled_through_and_through() -> None:
    levels = np.zeros((400, 400, 3), np.uint8)
    levels[:] = np.linspace(60, 180, 400, dtype=np.uint8)[None, :, None]
    spot = read_spot(opened(levels), 200, 200, 150)
    assert 2000 < spot.count < 5000
    assert float(delta_e00(spot.lab, srgb_to_lab(levels[200, 200] / 255))) < 1
    assert "uneven" in spot.warnings


def test_an_edge_is_told_of() -> None:
    levels = plain(COLOUR, 80, 80)
    levels[:, 48:] = (40, 90, 160)
    picture = opened(levels)
    assert "uneven" in read_spot(picture, 44, 40, 10).warnings
    assert "uneven" not in read_spot(picture, 20, 40, 10).warnings
    # A tenth of another colour at its rim is left out.
    assert float(delta_e00(read_spot(picture, 40, 40, 10).lab, LAB)) < 0.01


@pytest.mark.parametrize(
    ("colour", "word"),
    [
        ((255, 250, 250), "clipped"),
        ((200, 40, 0), "clipped"),
        ((20, 20, 20), "dark"),
    ],
)
def test_clipped_and_very_dark_spots_are_told_of(colour: tuple[int, ...], word: str) -> None:
    assert word in read_spot(opened(plain(colour)), 12, 12, 6).warnings


def test_the_edge_of_the_picture_cuts_the_spot() -> None:
    spot = read_spot(opened(plain(COLOUR, 80, 80)), 0, 0, 10)
    assert 60 < spot.count < 100
    assert float(delta_e00(spot.lab, LAB)) < 1e-9


@pytest.mark.parametrize(("x", "y"), [(-1, 0), (80, 0), (0, 80), (float("nan"), 0)])
def test_a_place_outside_is_refused(x: float, y: float) -> None:
    with pytest.raises(InputError, match="outside"):
        read_spot(opened(plain(COLOUR, 80, 80)), x, y)


@pytest.mark.parametrize("radius", [-1, 501, float("nan"), float("inf")])
def test_a_radius_out_of_range_is_refused(radius: float) -> None:
    with pytest.raises(InputError, match="out of range"):
        read_spot(opened(plain(COLOUR)), 5, 5, radius)
