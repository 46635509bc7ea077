"""The main colours: the same for the same pixels in any order, small accents among them."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.colour.hue import L_A, cam16_ucs
from drills.colour.spaces import lab_to_xyz, srgb_to_lab
from drills.pictures.main_colours import MainColour, main_colours
from tests.photos.made import opened, plain


def scene(accent: float, seed: int = 6) -> np.ndarray:
    """Sky, grass and earth with noise, and an ``accent`` share of red."""
    rng = np.random.default_rng(seed)
    n = 40_000
    shares = np.array([0.45, 0.3, 0.25 - accent, accent])
    colours = np.array([(120, 160, 210), (80, 130, 60), (130, 100, 70), (210, 30, 40)])
    of = rng.choice(4, n, p=shares)
    levels = colours[of] + rng.normal(0, 9, (n, 3))
    return np.clip(np.rint(levels), 0, 255).astype(np.uint8).reshape(200, 200, 3)


def nearest(found: tuple[MainColour, ...], rgb: tuple[int, int, int]) -> tuple[float, float]:
    """How far the nearest main colour is from ``rgb`` in ΔE00, and its share."""
    lab = srgb_to_lab(np.array(rgb) / 255)
    off = [float(delta_e00(one.lab, lab)) for one in found]
    return min(off), found[int(np.argmin(off))].share


def test_the_colours_that_made_it_are_found_with_their_shares() -> None:
    found = main_colours(opened(scene(0.05)), 4)
    truth = {
        (120, 160, 210): 0.45, (80, 130, 60): 0.3, (130, 100, 70): 0.2, (210, 30, 40): 0.05
    }  # fmt: skip
    for rgb, share in truth.items():
        off, got = nearest(found, rgb)
        assert off < 1.5
        assert got == pytest.approx(share, abs=0.01)
    assert [one.share for one in found] == sorted((one.share for one in found), reverse=True)
    assert sum(one.share for one in found) == pytest.approx(1)


def test_the_order_of_pixels_changes_nothing() -> None:
    levels = scene(0.01)
    shuffled = levels.reshape(-1, 3).copy()
    np.random.default_rng(0).shuffle(shuffled)
    one = main_colours(opened(levels), 6)
    assert one == main_colours(opened(shuffled.reshape(100, 400, 3)), 6)
    assert one == main_colours(opened(levels), 6)


@pytest.mark.parametrize("accent", [0.02, 0.005, 0.001])
def test_a_small_accent_is_not_lost(accent: float) -> None:
    off, share = nearest(main_colours(opened(scene(accent)), 5), (210, 30, 40))
    assert off < 3
    assert share == pytest.approx(accent, rel=0.5)


def test_a_few_stray_pixels_are_no_main_colour() -> None:
    levels = scene(0.0)
    levels[0, :3] = (255, 0, 255)
    off, _ = nearest(main_colours(opened(levels), 5), (255, 0, 255))
    assert off > 20


def test_a_picture_of_few_colours_gives_few() -> None:
    assert len(main_colours(opened(plain((90, 120, 40))), 8)) == 1
    two = plain((255, 255, 255))
    two[:4] = 0
    found = main_colours(opened(two), 8)
    assert len(found) == 2
    assert found[0].lab[0] == pytest.approx(100, abs=0.01)
    assert found[1].lab[0] == pytest.approx(0, abs=0.01)
    assert found[1].share == pytest.approx(4 / 24)


@pytest.mark.parametrize("count", [0, 25])
def test_a_count_out_of_range_is_refused(count: int) -> None:
    with pytest.raises(InputError, match="out of range"):
        main_colours(opened(plain((1, 2, 3))), count)


def test_the_uniform_space_is_colour_sciences() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    from drills.colour.data.tables import white

    rng = np.random.default_rng(9)
    labs = np.stack([rng.uniform(15, 95, 50), *rng.uniform(-45, 45, (2, 50))], -1)
    seen = colour.XYZ_to_CAM16(
        lab_to_xyz(labs),
        white("D50"),
        L_A,
        20.0,
        surround=colour.VIEWING_CONDITIONS_CAM16["Average"],
        discount_illuminant=True,
    )
    wanted = colour.JMh_CAM16_to_CAM16UCS(np.stack([seen.J, seen.M, seen.h], -1))
    assert np.allclose(cam16_ucs(labs), wanted, atol=0.02)
