"""The sheets in a picture: by the codes in their corners, then by the codes' finder patterns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.sheets.bending import bending, bent
from drills.sheets.codes import MODULES, Found, find
from drills.sheets.homography import applied, fitted, scale_at
from drills.sheets.layout import CODE, CORNERS, Page
from drills.sheets.pixels import correlated, sampled

LEAST_CODES: Final = 3
LEAST_SCALE: Final = 1.2
"""Pixels a millimetre, below which a box has too few to be told from its edges."""
_MODULE = CODE / MODULES
_FINDERS = ((0, 0), (MODULES - 7, 0), (0, MODULES - 7))
"""Left and top of the three finder patterns, in modules."""
_STEP = 0.1
_REACH = 1.6
_SURE = 0.6
"""Correlation with a finder pattern from which a place is believed."""
_OFF = 3.0
"""Millimetres that a code may lie off where the others say: a bowed sheet's lie up to 2 off."""
_READ_AT = 5.0
_MARGIN = 15.0
_UNSURE = 0.2


@dataclass(frozen=True, eq=False)
class Sighted:
    """A page seen: ``plane`` (3, 3) takes its millimetres to x, y in pixels as the corners say,
    ``bend`` (6, 2) what it departs from that by. ``codes`` are the corners that were read,
    ``scale`` the fewest pixels to a millimetre on it."""

    page: Page
    plane: FloatArray
    bend: FloatArray
    codes: tuple[int, ...]
    scale: float

    def pixels(self, points: FloatArray) -> FloatArray:
        """Where points (..., 2) in mm lie in the picture."""
        return applied(self.plane, bent(points, self.page, self.bend))


@dataclass(frozen=True)
class Unread:
    """A page of which codes were seen, and why it can't be read: one sentence, one remedy."""

    page: Page
    problem: str
    remedy: str


def find_pages(grey: NDArray[np.uint8]) -> tuple[list[Sighted], list[Unread]]:
    """Every page in a picture (h, w) of greys that shows a code of ours."""
    by_page: dict[Page, list[Found]] = {}
    for found in find(grey):
        by_page.setdefault(found.page, []).append(found)
    sighted: list[Sighted] = []
    unread: list[Unread] = []
    for page, codes in by_page.items():
        one = _page(grey, page, codes)
        if isinstance(one, Sighted):
            sighted.append(one)
        else:
            unread.append(one)
    return sighted, unread


def _page(grey: NDArray[np.uint8], page: Page, codes: list[Found]) -> Sighted | Unread:
    corners = [one.corner for one in codes]
    if len(set(corners)) < len(corners):
        return Unread(page, "a corner of it is seen twice", "Photograph one copy at a time.")
    for _ in range(2):
        if len(codes) < len(CORNERS):
            codes = _read_again(grey, page, codes)
    missing = [name for at, name in enumerate(CORNERS) if at not in {one.corner for one in codes}]
    if len(codes) < LEAST_CODES:
        return Unread(
            page,
            f"the codes at {' and '.join(missing) if len(missing) < 3 else 'all but one corner'}"
            " were not read",
            "Photograph the whole sheet, sharp, with no finger or glare on its corners.",
        )
    H = _refined(grey, page, codes, _rough(page, codes))
    if H is None:
        return Unread(
            page, "its codes don't lie as on the sheet", "Lay it flat, and one sheet over no other."
        )
    w, h = page.size.width, page.size.height
    outline = np.array([(0, 0), (w, 0), (w, h), (0, h), (w / 2, h / 2)], dtype=float)
    scale = float(scale_at(H, outline).min())
    if scale < LEAST_SCALE:
        return Unread(
            page,
            f"it is too small in the picture ({scale:.1f} pixels a millimetre)",
            "Go nearer, or scan it at 150 dots an inch or more.",
        )
    return Sighted(
        page, H, bending(grey, page, H), tuple(sorted(one.corner for one in codes)), scale
    )


def _rough(page: Page, codes: Sequence[Found]) -> FloatArray:
    """From the codes' own corners."""
    source, target, weight = [], [], []
    for one in codes:
        source.append(_square(page, one.corner))
        target.append(one.points)
        weight.append([1.0, 1.0, _UNSURE if len(codes) > 1 else 1.0, 1.0])
    return fitted(np.concatenate(source), np.concatenate(target), np.concatenate(weight))


def _square(page: Page, corner: int) -> FloatArray:
    at = page.corner(corner)
    return np.array(
        [(at.x, at.y), (at.x + CODE, at.y), (at.x + CODE, at.y + CODE), (at.x, at.y + CODE)]
    )


def _read_again(grey: NDArray[np.uint8], page: Page, codes: list[Found]) -> list[Found]:
    """The codes, with those that are read once the sheet is laid straight by those known."""
    H = _rough(page, codes)
    wide = int((page.size.width + 2 * _MARGIN) * _READ_AT)
    high = int((page.size.height + 2 * _MARGIN) * _READ_AT)
    y, x = np.mgrid[0:high, 0:wide]
    points: FloatArray = np.stack([x, y], axis=-1) / _READ_AT - _MARGIN
    straight = sampled(grey, applied(H, points)).astype(np.uint8)
    known = {one.corner for one in codes}
    more = [
        Found(page, one.corner, applied(H, one.points / _READ_AT - _MARGIN))
        for one in find(straight)
        if one.page == page and one.corner not in known
    ]
    return codes + more if len({one.corner for one in more}) == len(more) else codes


def _refined(
    grey: NDArray[np.uint8], page: Page, codes: Sequence[Found], H: FloatArray
) -> FloatArray | None:
    """The same from the finder patterns' places; None where they don't lie as on a sheet."""
    source, target = [], []
    for one in codes:
        # By each code's own plane first: on a bowed sheet it lies off the others'.
        own = fitted(_square(page, one.corner), one.points)
        code = page.corner(one.corner)
        for left, top in _FINDERS:
            corner = np.array([code.x + left * _MODULE, code.y + top * _MODULE])
            place = _finder(grey, own, corner)
            if place is not None:
                middle = corner + 3.5 * _MODULE
                source.append(middle)
                target.append(applied(own, middle + place))
    if len(source) < 2 * LEAST_CODES:
        return None
    points, seen = np.array(source), np.array(target)
    found = fitted(points, seen)
    back = np.asarray(np.linalg.inv(found), dtype=np.float64)
    off = np.linalg.norm(applied(back, seen) - points, axis=1)
    x = applied(found, np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]))
    turned = np.linalg.det(np.stack([x[1] - x[0], x[2] - x[0]]))
    if not np.isfinite(off).all() or off.max() > _OFF or turned <= 0:
        return None
    return found


def _finder(grey: NDArray[np.uint8], H: FloatArray, corner: FloatArray) -> FloatArray | None:
    """How many mm (2,) the finder pattern lies off ``corner``, its left and top."""
    template = _template()
    size, reach = len(template), round(_REACH / _STEP)
    first = corner - _MODULE - _REACH
    at = np.arange(size + 2 * reach) * _STEP + _STEP / 2
    x, y = np.meshgrid(first[0] + at, first[1] + at)
    seen = sampled(grey, applied(H, np.stack([x, y], axis=-1)))
    match = correlated(seen, template, 2)
    row, column = np.unravel_index(int(match.argmax()), match.shape)
    if match[row, column] < _SURE:
        return None
    dx = _peak(match[row], int(column))
    dy = _peak(match[:, column], int(row))
    return np.array([dx, dy]) * 2 * _STEP - _REACH


def _peak(match: FloatArray, at: int) -> float:
    """The top of the parabola through a maximum and its neighbours."""
    if not 0 < at < len(match) - 1:
        return float(at)
    before, here, after = match[at - 1 : at + 2].tolist()
    bend = before - 2 * here + after
    return at + (0.5 * (before - after) / bend if bend < 0 else 0.0)


@lru_cache(maxsize=1)
def _template() -> FloatArray:
    """A finder pattern with the white round it, light 1, in steps of ``_STEP``."""
    cells = np.ones((9, 9))
    cells[1:8, 1:8] = 0.0
    cells[2:7, 2:7] = 1.0
    cells[3:6, 3:6] = 0.0
    at = ((np.arange(round(9 * _MODULE / _STEP)) + 0.5) * _STEP / _MODULE).astype(int)
    template: FloatArray = cells[np.ix_(at, at)]
    return template
