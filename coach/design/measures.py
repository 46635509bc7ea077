"""What the style sheet and widgets that draw their own lines agree on, in cells and rows."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from rich.cells import cell_len

FIRST_SHEET = Path(__file__).with_name("first.tcss")
"""What the first screen needs of the one style sheet."""
SHEET = Path(__file__).with_name("sheet.tcss")
"""The rest of it, which a screen brings that is shown later."""
MARGIN = 2
"""Cells at the left and right of everything but the hints' ground."""
MEASURE = 66
"""The most letters in a line of prose (common practice in setting type, no source)."""
WIDE, VAST = 110, 160
"""From so many columns words stand beside swatches, and from so many swatches grow again."""
BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide"), (VAST, "-vast")]
LARGE_ROWS = 8
"""The least rows of a judged swatch where large things are wanted."""
SWATCH_CELLS = {"-narrow": 30, "-wide": 42, "-vast": 64}
"""The most cells of one large swatch, by the screen's width."""


def columns(rows: Sequence[Sequence[str]], align: str, gap: int = 2) -> list[str]:
    """Rows of cells as lines: each column as wide as its widest, ``align`` a ``<`` or ``>`` each.

    Raises ValueError where a row has not as many cells as ``align``.
    """
    widths = [0] * len(align)
    for row in rows:
        widths = [max(w, cell_len(cell)) for w, cell in zip(widths, row, strict=True)]
    lines = []
    for row in rows:
        cells = []
        for cell, wide, side in zip(row, widths, align, strict=True):
            blank = " " * (wide - cell_len(cell))
            cells.append(blank + cell if side == ">" else cell + blank)
        lines.append((" " * gap).join(cells).rstrip())
    return lines


def size_class(width: int) -> str:
    """The class of a screen of ``width`` columns, as ``BREAKPOINTS`` has it."""
    return next(name for least, name in reversed(BREAKPOINTS) if width >= least)
