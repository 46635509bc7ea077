"""A flat scan of a sheet, its codes saying whatever a test wants."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import segno
from numpy.typing import NDArray

from drills.sheets.layout import CODE, Page

DOTS = 4
"""Pixels a millimetre."""
DESK = 12
PAPER, INK, DESK_LEVEL = 225, 40, 90
Image = NDArray[np.uint8]


def symbol(text: str | bytes, side: int) -> Image:
    """A code (side, side) in greys. One that says too much for a small one is finer."""
    made = segno.make(text, micro=False, error="q" if len(text) < 20 else "l", boost_error=False)
    dark = np.array([list(row) for row in made.matrix], dtype=bool)
    at = np.arange(side) * len(dark) // side
    return np.where(dark[np.ix_(at, at)], INK, PAPER).astype(np.uint8)


def scanned(
    page: Page,
    says: Mapping[int, str | bytes | None] | None = None,
    drawn_as: Page | None = None,
    colours: bool = True,
) -> Image:
    """A page (h, w, 3) as a scan shows it, each box in a grey-red of its own.

    ``says`` is what corners' codes say other than they should, None for no code; ``drawn_as``
    the page whose boxes and corners are really on the paper; without ``colours`` there is
    nothing on it but its codes.
    """
    laid = page if drawn_as is None else drawn_as
    wide, high = round(laid.size.width * DOTS), round(laid.size.height * DOTS)
    sheet = np.full((high, wide, 3), PAPER, dtype=np.uint8)

    def fill(x: float, y: float, w: float, h: float, what: object) -> None:
        sheet[round(y * DOTS) : round((y + h) * DOTS), round(x * DOTS) : round((x + w) * DOTS)] = (
            what
        )

    for box in laid.boxes() if colours else ():
        if box.part == "bare black":
            fill(box.outer.x, box.outer.y, box.outer.width, box.outer.height, INK)
        elif box.part != "over black":
            shade = 60 + 5 * box.slot
            fill(box.rect.x, box.rect.y, box.rect.width, box.rect.height, (200, shade, shade))
    side = round(CODE * DOTS)
    for corner in range(4):
        text = (says or {}).get(corner, page.code(corner))
        if text is not None:
            at = laid.corner(corner)
            top, left = round(at.y * DOTS), round(at.x * DOTS)
            sheet[top : top + side, left : left + side] = symbol(text, side)[..., None]
    return np.pad(sheet, ((DESK, DESK), (DESK, DESK), (0, 0)), constant_values=DESK_LEVEL)


def codes_alone(texts: list[str], across: int) -> Image:
    """Codes in rows, with nothing else."""
    side, quiet = 21 * 5, 20
    cells = [np.pad(symbol(text, side), quiet, constant_values=PAPER) for text in texts]
    cells += [np.full_like(cells[0], PAPER)] * (-len(cells) % across)
    rows = [np.hstack(cells[at : at + across]) for at in range(0, len(cells), across)]
    return np.repeat(np.vstack(rows)[..., None], 3, axis=2)
