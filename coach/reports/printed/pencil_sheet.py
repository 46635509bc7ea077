"""Sheets to fill by hand and photograph: a box a swatch, a code in each corner."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from coach.reports.printed.drawing import Drawing
from coach.reports.printed.flow import LEADING
from coach.reports.printed.lettering import wrapped
from drills.sheets.codes import MODULES, modules
from drills.sheets.layout import CODE, CORNERS, EDGE, RING, Ground, Page

HOW_PENCILS = (
    "Print it on the white drawing paper you draw on, at full size. For each pencil fill one box "
    "lightly and one firmly, evenly and right to the edge; then firmly over the right two thirds "
    "of the black. Leave the left of the black and the white round every box bare.",
    "Photograph each sheet whole, sharp and in one even light, without flash; or scan it. Then: "
    "coach pencils photo FILE",
)
HOW_PATCHES = (
    "Paint each box as it says, evenly and right to the edge, in your usual way. On black, leave "
    "the left of it bare. Leave the white round every box bare.",
    HOW_PENCILS[1],
)
SLICK = "A laser's black is slick and takes less pencil than paper: leave those boxes then."
_WORDS = 2.6
_BLACK = "#000000"
_NAME_LINE = 42.0


@dataclass(frozen=True)
class Slot:
    """What is printed beside a slot's boxes, and on what ground its box lies."""

    words: str
    ground: Ground = "white"


def sheet_page(page: Page, slots: Sequence[Slot], title: str) -> Drawing:
    """One page. Where fewer ``slots`` are given than a page of pencils has, lines to write on."""
    drawing = Drawing()
    for corner in range(len(CORNERS)):
        _code(drawing, page, corner)
    _head(drawing, page, title)
    grounds = tuple(slot.ground for slot in slots)
    for box in page.boxes(grounds):
        if page.kind == "patches" and box.slot >= len(slots):
            continue
        o = box.outer
        if box.part == "bare black":
            drawing.fill(o.x, o.y, o.width, o.height, _BLACK)
        elif box.outer == box.rect:
            drawing.box(o.x, o.y, o.width, o.height)
    for slot in range(page.slots):
        said = slots[slot].words if slot < len(slots) else ""
        if page.kind == "pencils":
            _pencil_name(drawing, page, slot, said)
        elif said:
            _patch_words(drawing, page, slot, said)
    return drawing


def _code(drawing: Drawing, page: Page, corner: int) -> None:
    """The symbol as one path, so that no hair of white shows between its modules."""
    at, dark = page.corner(corner), modules(page.code(corner))
    side = CODE / MODULES
    runs = []
    for row in range(MODULES):
        for column in range(MODULES):
            if dark[row, column]:
                x, y = at.x + column * side, at.y + row * side
                runs.append(f"M{x:.3f} {y:.3f}h{side:.3f}v{side:.3f}h-{side:.3f}z")
    drawing.marks.append(
        f'<path d="{"".join(runs)}" fill="{_BLACK}" stroke="{_BLACK}" stroke-width="0.01"/>'
    )


def _head(drawing: Drawing, page: Page, title: str) -> None:
    x = EDGE + CODE + 6.0
    wide = page.size.width - 2 * x
    y = EDGE
    for line in wrapped(title, wide, 4.0, bold=True)[:2]:
        drawing.text(x, y + 4.0, line, 4.0, bold=True)
        y += LEADING * 4.0
    how = HOW_PENCILS if page.kind == "pencils" else HOW_PATCHES
    for line in wrapped(how[0], wide, _WORDS):
        drawing.text(x, y + _WORDS, line, _WORDS)
        y += LEADING * _WORDS
    y = page.size.height - EDGE - CODE + 2.0
    for words in (how[1], SLICK):
        for line in wrapped(words, wide, _WORDS):
            drawing.text(x, y + _WORDS, line, _WORDS)
            y += LEADING * _WORDS
    drawing.text(x, page.size.height - EDGE, f"Sheet {page.id}, page {page.number}", _WORDS)


def _pencil_name(drawing: Drawing, page: Page, slot: int, said: str) -> None:
    cell = page.cell(slot)
    x, y = cell.x + RING, cell.y + 3.2
    if said:
        drawing.fitted(x, y, cell.width - 2 * RING, said, _WORDS, faint=False)
    else:
        drawing.line(x, y + 0.4, x + _NAME_LINE, y + 0.4)
    if page.cell(slot).y == page.cell(0).y:
        for box in page.boxes():
            if box.slot == slot and box.part in ("light", "firm", "over black"):
                where = box.rect if box.part != "over black" else box.outer
                words = {"over black": "firm over black"}.get(box.part, box.part)
                drawing.text(where.x, cell.y - 0.9, words, 2.2, faint=True)


def _patch_words(drawing: Drawing, page: Page, slot: int, said: str) -> None:
    cell = page.cell(slot)
    x = cell.x + 2 * RING + 18.0 + 1.0
    y = cell.y + RING
    size = _WORDS
    lines = wrapped(said, cell.x + cell.width - x, size)
    while len(lines) * LEADING * size > cell.height - 2.0 and size > 1.6:
        size -= 0.2
        lines = wrapped(said, cell.x + cell.width - x, size)
    for line in lines:
        drawing.text(x, y + size, line, size)
        y += LEADING * size
