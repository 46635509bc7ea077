"""Where boxes lie: on the sheet, apart, white all round, and told by the corners' codes alone."""

from __future__ import annotations

import itertools
import re

import numpy as np
import pytest

from coach.reports.printed.pencil_sheet import Slot, sheet_page
from drills.sheets.codes import MODULES, find, modules
from drills.sheets.layout import A4, CODE, CORNERS, LETTER, RING, Page, Rect, page_of_code

PAGES = [
    Page("ABC234", kind, size, number)
    for kind in ("pencils", "patches")
    for size, number in ((A4, 1), (LETTER, 12))
]
QUIET = 4 * CODE / MODULES


def apart(one: Rect, other: Rect, by: float) -> bool:
    near = 1e-6
    return (
        one.x + one.width + by <= other.x + near
        or other.x + other.width + by <= one.x + near
        or one.y + one.height + by <= other.y + near
        or other.y + other.height + by <= one.y + near
    )


@pytest.mark.parametrize("page", PAGES)
def test_boxes_keep_white_between_them_and_clear_of_codes_and_edges(page):
    grounds = ("black", "white") * page.slots
    outers = {box.outer for box in page.boxes(grounds)}
    corners = [page.corner(at) for at in range(len(CORNERS))]
    for one, other in itertools.combinations(outers, 2):
        assert apart(one, other, 2 * RING if page.kind == "pencils" else RING)
    for box in outers:
        assert all(apart(box, corner, QUIET) for corner in corners)
        assert 10.0 < box.x < box.x + box.width < page.size.width - 10.0
        assert 10.0 < box.y < box.y + box.height < page.size.height - 10.0


@pytest.mark.parametrize("page", PAGES)
def test_each_corners_code_says_page_and_corner(page):
    for corner in range(4):
        assert page_of_code(page.code(corner)) == (page, corner)


@pytest.mark.parametrize(
    "text",
    ["", "https://example.org", "PS1PA00ABC2340", "PS1PA01ABC2344", "PS1XA01ABC2340",
     "PS1PA01ABC2340 ", "PS1PA01abc2340", "PS1PA01ABC1890"],
)  # fmt: skip
def test_other_codes_are_not_ours(text):
    assert page_of_code(text) is None


def test_what_one_library_writes_the_other_reads():
    for page in PAGES:
        for corner in range(4):
            dark = modules(page.code(corner))
            picture = np.kron(np.pad(~dark, 4, constant_values=True), np.ones((6, 6)))
            (found,) = find((picture * 255).astype(np.uint8)).ours
            assert (found.page, found.corner) == (page, corner)


@pytest.mark.parametrize("page", PAGES)
def test_the_print_has_every_box_and_names_whole(page):
    names = [f"P{at} Pencil of name {at}" for at in range(page.slots - 2)]
    slots = [Slot(name, "black" if at == 1 else "white") for at, name in enumerate(names)]
    marks = "".join(sheet_page(page, slots, "Ours").marks)
    assert marks.count("<path ") == len(CORNERS)
    for name in names:
        assert name in re.sub(r"</text>\s*<text[^>]*>", " ", marks)
    rects = {
        tuple(map(float, found))
        for found in re.findall(
            r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"', marks
        )
    }
    grounds = tuple(slot.ground for slot in slots)
    for box in page.boxes(grounds):
        if page.kind == "pencils" or box.slot < len(slots):
            o = box.outer
            assert tuple(round(side, 2) for side in (o.x, o.y, o.width, o.height)) in rects
