"""A sheet's plane by its codes' finder patterns, placed by correlation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.sheets.codes import MODULES, Found
from drills.sheets.homography import applied, fitted
from drills.sheets.layout import CODE, SIZES, Page
from drills.sheets.pixels import correlated, sampled

LEAST_CODES: Final = 3
_MODULE = CODE / MODULES
_FINDERS = ((0, 0), (MODULES - 7, 0), (0, MODULES - 7))
"""Left and top of the three finder patterns, in modules."""
SQUARE: FloatArray = np.array([(0.0, 0.0), (CODE, 0.0), (CODE, CODE), (0.0, CODE)])
"""A code's corners in mm from its top left."""
_STEP = 0.1
_REACH = 1.6
_SURE = 0.6
"""Correlation with a finder pattern from which a place is believed."""
_OFF = 3.0
"""Millimetres that a code may lie off where the others say: a bowed sheet's lie up to 2 off."""
_BETTER = 0.7
"""Of the codes' distance from where the page has them, what is left where they lie on a page of
another size: about 0.02 on a flat sheet. On its own page it was 1.02 at least, of 1,600 sheets
bowed by 3 to 7 mm either way (worked out, not rendered), with three codes or four."""


@dataclass(frozen=True, eq=False)
class Place:
    """Where a finder pattern lies: millimetres (2,) from its code's corner, pixels (2,)."""

    corner: int
    off: FloatArray
    at: FloatArray


def plane(
    source: FloatArray, target: FloatArray, weight: FloatArray | None = None
) -> FloatArray | None:
    """``fitted``, or None for a plane that there isn't, or that can't be seen through both ways."""
    try:
        found = fitted(source, target, weight)
        np.linalg.inv(found)
    except (ValueError, np.linalg.LinAlgError):
        return None
    return found if np.isfinite(found).all() else None


def places_of(grey: NDArray[np.uint8], codes: Sequence[Found]) -> list[Place]:
    """Where the codes' finder patterns lie."""
    out = []
    for one in codes:
        # By each code's own plane: on a bowed sheet it lies off the others'.
        own = plane(SQUARE, one.points)
        if own is None:
            continue
        for left, top in _FINDERS:
            corner = np.array([left, top]) * _MODULE
            place = _finder(grey, own, corner)
            if place is not None:
                middle = corner + 3.5 * _MODULE
                out.append(Place(one.corner, middle, applied(own, middle + place)))
    return out


def refined(page: Page, places: Sequence[Place]) -> FloatArray | None:
    """The plane by the finder patterns' places; None where they don't lie as on this page, or
    lie rather as on one of another size."""
    if len(places) < 2 * LEAST_CODES:
        return None
    found, off = _through(page, places)
    if found is None or not np.isfinite(off).all() or off.max() > _OFF:
        return None
    x = applied(found, np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]))
    if np.linalg.det(np.stack([x[1] - x[0], x[2] - x[0]])) <= 0:
        return None
    least = _BETTER * float(np.sqrt((off**2).mean()))
    for size in SIZES:
        if size != page.size:
            other = _through(replace(page, size=size), places)[1]
            if float(np.sqrt((other**2).mean())) < least:
                return None
    return found


def _through(page: Page, places: Sequence[Place]) -> tuple[FloatArray | None, FloatArray]:
    """A page's plane through places, and how far (n,) each lies off it in mm: nan without one."""
    corners = [page.corner(one.corner) for one in places]
    points = np.array([one.off for one in places]) + [(at.x, at.y) for at in corners]
    seen = np.array([one.at for one in places])
    found = plane(points, seen)
    if found is None:
        return None, np.full(len(places), np.nan)
    back = np.asarray(np.linalg.inv(found), dtype=np.float64)
    off: FloatArray = np.linalg.norm(applied(back, seen) - points, axis=1)
    return found, off


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
