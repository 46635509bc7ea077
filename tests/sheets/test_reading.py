"""Photos of sheets, rendered with known truth, and read back. ``tests.bench sheets`` has more."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.layering.paper import black_paper, drawing_paper
from drills.pictures.white import paper_lab
from drills.sheets.finding import Sighted, find_pages
from drills.sheets.homography import applied, fitted, scale_at
from drills.sheets.layout import A4, LETTER, Box, Page, Rect
from drills.sheets.pixels import sampled
from drills.sheets.results import combined, on_black_paper, used
from drills.sheets.sampling import BoxRead, read_boxes
from tests.bench.bench_sheets import errors, placed_off
from tests.sheets.camera import Take, filled_page, photograph, projected, truth

PAGE = Page("ABC234", "pencils", A4, 1)
PLAIN = Take("Nikon 5100 (NPL)", "D50", megapixels=1.0, tilt=20.0, turn=30.0, seed=3)
HARD = replace(
    PLAIN,
    megapixels=2.0,
    light="LED-B4",
    tilt=45.0,
    toward=70.0,
    turn=200.0,
    balance=(1.04, 0.96),
    tone=0.5,
)
FILLED = filled_page(PAGE, np.random.default_rng(5))
for part in ("light", "firm", "over black"):
    del FILLED[4, part]
del FILLED[7, "light"]


@cache
def photo(take: Take) -> NDArray[np.uint8]:
    return photograph(PAGE, FILLED, take)


def grey(image: NDArray[np.uint8]) -> NDArray[np.uint8]:
    return np.asarray(Image.fromarray(image).convert("L"))


@cache
def read(take: Take) -> tuple[Sighted, list[BoxRead]]:
    (seen,), unread = find_pages(grey(photo(take)))
    assert not unread
    return seen, read_boxes(photo(take), seen, PAGE.boxes())


@pytest.mark.parametrize("take", [PLAIN, HARD])
def test_boxes_are_found_and_read_at_any_angle(take):
    seen, boxes = read(take)
    assert seen.page == PAGE
    assert len(seen.codes) >= 3
    assert placed_off(PAGE, take, seen) <= 0.5
    off = errors(boxes, FILLED)
    assert np.nanmedian(off) <= 2.5
    assert np.nanpercentile(off, 95) <= 6.0
    assert np.isnan(off).mean() < 0.05


def test_a_bowed_sheet_is_followed_by_its_strips():
    take = replace(PLAIN, bow=5.0)
    seen, boxes = read(take)
    assert placed_off(PAGE, take, seen) <= 1.0
    flat = replace(seen, bend=np.zeros((6, 2)))
    assert placed_off(PAGE, take, flat) > 1.5  # as its corners alone have it
    assert np.nanpercentile(errors(boxes, FILLED), 95) <= 6.0


def test_a_shadow_is_evened_out_and_boxes_on_its_edge_are_dropped_with_words():
    take = replace(PLAIN, shadow=0.55)
    _, boxes = read(take)
    off = errors(boxes, FILLED)
    assert 0.0 < np.isnan(off).mean() < 0.2
    assert np.nanpercentile(off, 95) <= 6.0
    assert any("shadow's edge" in one.trouble for one in boxes)


def test_empty_boxes_count_as_empty_and_full_ones_do_not():
    _, boxes = read(PLAIN)
    (slots,) = combined([(PAGE, boxes)]).values()
    assert {slot for (_, slot), parts in slots.items() if not used(parts)} == {4}
    assert "empty" in slots[1, 7]["light"].trouble
    assert slots[1, 7]["firm"].lab is not None


def test_a_blown_out_photo_drops_its_boxes():
    seen, _ = read(PLAIN)
    bright = np.minimum(photo(PLAIN) * 1.4, 255.0).astype(np.uint8)
    assert all("overexposed" in one.trouble for one in read_boxes(bright, seen, PAGE.boxes()))


def hidden(image: NDArray[np.uint8], take: Take, corners: tuple[int, ...]) -> NDArray[np.uint8]:
    """The photo with a thumb on some corners."""
    image = image.copy()
    for corner in corners:
        at = PAGE.corner(corner)
        x, y = projected(PAGE, take, np.array([at.middle]))[0]
        reach = 45
        top, left = max(0, int(y) - reach), max(0, int(x) - reach)
        image[top : int(y) + reach, left : int(x) + reach] = (190, 150, 130)
    return image


def test_three_codes_will_do_and_two_name_the_missing():
    image = photo(PLAIN)
    (seen,), _ = find_pages(grey(hidden(image, PLAIN, (2,))))
    assert seen.codes == (0, 1, 3)
    assert placed_off(PAGE, PLAIN, seen) <= 1.0
    sighted, (unread,) = find_pages(grey(hidden(image, PLAIN, (0, 2))))
    assert not sighted
    assert "top left and bottom right" in unread.problem


def test_several_sheets_in_one_photo_are_each_read_by_their_own_codes():
    other = Page("XYZ234", "patches", LETTER, 2)
    both = np.concatenate([photo(PLAIN), photograph(other, {}, PLAIN)], axis=1)
    sighted, unread = find_pages(grey(both))
    assert not unread
    assert {one.page for one in sighted} == {PAGE, other}
    (second,) = [one for one in sighted if one.page == other]
    middle = np.array([[100.0, 140.0]])
    there = projected(other, PLAIN, middle) + np.array([photo(PLAIN).shape[1], 0])
    assert second.pixels(middle) == pytest.approx(there, abs=1.0)


def test_a_picture_without_a_sheet_has_none():
    assert find_pages(np.full((300, 400), 128, dtype=np.uint8)) == ([], [])


def test_a_mirrored_sheet_and_a_doubled_one_are_refused():
    image = grey(photo(PLAIN))
    sighted, unread = find_pages(np.ascontiguousarray(image[:, ::-1]))
    assert not sighted
    assert all("as in a mirrored photo" in one.problem for one in unread)
    sighted, (one,) = find_pages(np.concatenate([image, image], axis=1))
    assert not sighted
    assert "twice" in one.problem


def test_a_sheet_too_small_in_the_picture_is_told_so(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("drills.sheets.finding.LEAST_SCALE", 6.0)
    sighted, (unread,) = find_pages(grey(photo(PLAIN)))
    assert not sighted
    assert "too small in the picture" in unread.problem


def box_read(lab: tuple[float, float, float], trouble: str = "") -> BoxRead:
    rect = Rect(20.0, 50.0, 12.0, 12.0)
    return BoxRead(Box(0, "firm", rect, rect), lab, 0.5, trouble)


def test_photos_of_one_box_are_put_together_or_disagree():
    def over(*reads: BoxRead):
        (slots,) = combined([(PAGE, [one]) for one in reads]).values()
        return slots[1, 0]["firm"]

    both = over(box_read((50, 20, 10)), box_read((52, 20, 10)), box_read((9, 0, 0), "glare on it"))
    assert both.lab == pytest.approx((51, 20, 10))
    assert both.photos == 2
    assert over(box_read((50, 20, 10)), box_read((70, 20, 10))).trouble == "its photos disagree"
    assert over(box_read((50, 20, 10), "glare on it")).trouble == "glare on it"


def test_a_film_over_printed_black_is_told_as_over_black_paper():
    """Of a grey film of known reflectance and transmittance (Kubelka 1948)."""
    own, through = 0.3, 0.35

    def over(ground: float) -> tuple[float, float, float]:
        seen = own + through * ground / (1 - own * ground)
        L, a, b = reflectance_to_lab(np.full(31, seen)).tolist()
        return (L, a, b)

    paper = drawing_paper().reflectance
    L, a, b = reflectance_to_lab(own + through * paper / (1 - own * paper)).tolist()
    printed = reflectance_to_lab(np.full(31, 0.10)).tolist()
    found = on_black_paper((L, a, b), over(0.10), tuple(printed))
    wanted = over(float(black_paper().reflectance[0]))
    assert found is not None
    assert float(delta_e00(np.array(found), np.array(wanted))) < 0.3
    assert float(delta_e00(np.array(over(0.10)), np.array(wanted))) > 1.0


def test_paper_is_the_films_paper():
    """A bare box reads as the white drawing paper that swatches lie on."""
    _, boxes = read(PLAIN)
    (bare,) = [one for one in boxes if (one.box.slot, one.box.part) == (4, "firm")]
    assert float(delta_e00(np.array(bare.lab), np.array(paper_lab()))) < 1.0
    assert truth(drawing_paper().reflectance) == pytest.approx(paper_lab())


def test_a_plane_through_its_points():
    H = np.array([[2.0, 0.3, 40.0], [-0.2, 1.8, 60.0], [0.001, 0.0005, 1.0]])
    points = np.array([(0, 0), (200, 10), (190, 280), (5, 290), (100, 100)], dtype=float)
    found = fitted(points, applied(H, points))
    assert applied(found, points) == pytest.approx(applied(H, points), abs=1e-6)
    assert scale_at(np.diag([3.0, 2.0, 1.0]), points) == pytest.approx(2.0)
    with pytest.raises(ValueError, match="four"):
        fitted(points[:3], points[:3])
    with pytest.raises(ValueError, match="no plane"):
        fitted(np.array([(0.0, 0.0), (1, 1), (2, 2), (3, 3)]), points[:4])


def test_a_point_at_no_place_and_a_picture_of_one_pixel_are_sampled() -> None:
    """False codes may put points nowhere, or behind the camera."""
    image = np.array([[7, 9], [11, 13]], dtype=np.uint8)
    at = np.array([[np.nan, np.nan], [np.inf, -np.inf], [1.5, 1.5]])
    assert sampled(image, at).tolist() == pytest.approx([7, 9, 13], abs=0.01)
    assert sampled(image[:1, :1], at).tolist() == [7, 7, 7]
