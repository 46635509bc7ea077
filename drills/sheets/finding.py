"""The sheets in a picture: by the codes in their corners, then by the codes' finder patterns.

What codes say is believed only as far as the picture bears it out: that they lie where that page
has them rather than a page of another size, that no corner says another sheet, and that the
printed black strips are there, or not, as on a page of that kind.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.sheets.bending import FEWEST, bending, bent, strips
from drills.sheets.codes import MOST_PAGES, Found, find
from drills.sheets.homography import applied, scale_at
from drills.sheets.layout import CODE, CORNERS, Page
from drills.sheets.pixels import sampled
from drills.sheets.placing import LEAST_CODES, SQUARE, places_of, plane, refined

LEAST_SCALE: Final = 1.2
"""Pixels a millimetre, below which a box has too few to be told from its edges."""
_NONE: tuple[FloatArray, FloatArray] = (np.empty((0, 2)), np.empty((0, 2)))
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
    """A page of which codes were seen, and why it can't be read: one sentence, one remedy.
    ``page`` is None for what is said of the whole picture."""

    page: Page | None
    problem: str
    remedy: str


def find_pages(grey: NDArray[np.uint8]) -> tuple[list[Sighted], list[Unread]]:
    """Every page in a picture (h, w) of greys that shows a code of ours."""
    seen = find(grey)
    by_page: dict[Page, list[Found]] = {}
    for found in seen.ours:
        by_page.setdefault(found.page, []).append(found)
    sighted: list[Sighted] = []
    unread: list[Unread] = []
    if seen.other_form:
        unread.append(
            Unread(
                None,
                "it shows a sheet in a form that this version doesn't know",
                "Read it with the version that printed it.",
            )
        )
    if len(by_page) > MOST_PAGES:
        many = f"it shows codes of {len(by_page)} pages"
        return [], [*unread, Unread(None, many, f"Photograph {MOST_PAGES} at a time at most.")]
    taken: set[Page] = set()
    for page, codes in by_page.items():
        strays = [one for other, found in by_page.items() if other != page for one in found]
        one = _page(grey, page, codes, strays)
        if isinstance(one, _Claimed):
            taken.add(one.by)
            one = one.unread
        if isinstance(one, Sighted):
            sighted.append(one)
        else:
            unread.append(one)
    return sighted, [one for one in unread if one.page not in taken]


@dataclass(frozen=True)
class _Claimed:
    """A page with a code of another in one of its corners."""

    unread: Unread
    by: Page


def _page(
    grey: NDArray[np.uint8], page: Page, codes: list[Found], strays: list[Found]
) -> Sighted | Unread | _Claimed:
    corners = [one.corner for one in codes]
    if len(set(corners)) < len(corners):
        return Unread(page, "a corner of it is seen twice", "Photograph one copy at a time.")
    for _ in range(2):
        before = len(codes)
        if before < len(CORNERS):
            codes = _read_again(grey, page, codes)
        if len(codes) == before:
            break
    missing = [name for at, name in enumerate(CORNERS) if at not in {one.corner for one in codes}]
    if len(codes) < LEAST_CODES:
        return Unread(
            page,
            f"the codes at {' and '.join(missing) if len(missing) < 3 else 'all but one corner'}"
            " were not read",
            "Photograph the whole sheet, sharp, with no finger or glare on its corners.",
        )
    H, places = _rough(page, codes), places_of(grey, codes)
    H = None if H is None else refined(page, places)
    if H is None:
        return _lies_wrong(page, codes)
    claimed = _claimed(page, H, strays)
    if claimed is not None:
        return claimed
    w, h = page.size.width, page.size.height
    outline = np.array([(0, 0), (w, 0), (w, h), (0, h), (w / 2, h / 2)], dtype=float)
    scale = float(scale_at(H, outline).min())
    if scale < LEAST_SCALE:
        return Unread(
            page,
            f"it is too small in the picture ({scale:.1f} pixels a millimetre)",
            "Go nearer, or scan it at 150 dots an inch or more.",
        )
    found = strips(grey, replace(page, kind="pencils"), H)
    if (len(found[0]) >= FEWEST) != (page.kind == "pencils"):
        return Unread(
            page,
            f"its boxes don't lie as on a page of {page.kind}, which its codes say it is",
            "Photograph a sheet as it was printed.",
        )
    bend = bending(page, *found) if page.kind == "pencils" else bending(page, *_NONE)
    return Sighted(page, H, bend, tuple(sorted(one.corner for one in codes)), scale)


def _lies_wrong(page: Page, codes: Sequence[Found]) -> Unread:
    round_it = [one.points.mean(axis=0) for one in sorted(codes, key=lambda one: one.corner)]
    if all(_turn(*three) < 0.0 for three in combinations(round_it, 3)):
        return Unread(
            page,
            "its codes go round it the wrong way, as in a mirrored photo",
            "Photograph it with mirroring off.",
        )
    return Unread(
        page, "its codes don't lie as on the sheet", "Lay it flat, and one sheet over no other."
    )


def _turn(a: FloatArray, b: FloatArray, c: FloatArray) -> float:
    """Twice the area that three points go round, less than nought where they do it leftwards."""
    (x, y), (u, v) = b - a, c - a
    return float(x * v - y * u)


def _claimed(page: Page, H: FloatArray, strays: Sequence[Found]) -> _Claimed | None:
    """Whether a code of another page lies in one of this page's corners."""
    back = np.asarray(np.linalg.inv(H), dtype=np.float64)
    for stray in strays:
        at = applied(back, stray.points.mean(axis=0))
        for corner, name in enumerate(CORNERS):
            if np.linalg.norm(at - page.corner(corner).middle) < CODE / 2:
                return _Claimed(
                    Unread(
                        page,
                        f"its {name} corner says another page: sheet {stray.page.id},"
                        f" page {stray.page.number}",
                        "Lay one sheet over no other, and photograph it as it was printed.",
                    ),
                    stray.page,
                )
    return None


def _rough(page: Page, codes: Sequence[Found]) -> FloatArray | None:
    """From the codes' own corners; None where they settle no plane."""
    source, target, weight = [], [], []
    for one in codes:
        at = page.corner(one.corner)
        source.append(SQUARE + np.array([at.x, at.y]))
        target.append(one.points)
        weight.append([1.0, 1.0, _UNSURE if len(codes) > 1 else 1.0, 1.0])
    return plane(np.concatenate(source), np.concatenate(target), np.concatenate(weight))


def _read_again(grey: NDArray[np.uint8], page: Page, codes: list[Found]) -> list[Found]:
    """The codes, with those that are read once the sheet is laid straight by those known."""
    H = _rough(page, codes)
    if H is None:
        return codes
    wide = int((page.size.width + 2 * _MARGIN) * _READ_AT)
    high = int((page.size.height + 2 * _MARGIN) * _READ_AT)
    y, x = np.mgrid[0:high, 0:wide]
    points: FloatArray = np.stack([x, y], axis=-1) / _READ_AT - _MARGIN
    straight = sampled(grey, applied(H, points)).astype(np.uint8)
    known = {one.corner for one in codes}
    more = [
        Found(page, one.corner, applied(H, one.points / _READ_AT - _MARGIN))
        for one in find(straight).ours
        if one.page == page and one.corner not in known
    ]
    return codes + more if len({one.corner for one in more}) == len(more) else codes
