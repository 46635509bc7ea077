"""Copies of a picture beside one another in half blocks, two pixels a cell, gaps between them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.segment import Segment
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from coach.widgets.drawn.picture_view import half_cells
from coach.widgets.paint import text

if TYPE_CHECKING:
    from drills.colour.data.tables import FloatArray

GAP = 2


class Copies(Widget):
    """Shows copies of one size, Lab (h, w, 3), each with its title below it."""

    DEFAULT_CSS = "Copies { height: 1fr; min-height: 6; margin: 0 2; }"

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._copies: tuple[FloatArray, ...] = ()
        self._titles: tuple[str, ...] = ()
        self._lines: list[list[list[Segment]]] = []
        """By copy, the cells of each line."""

    def show(self, copies: tuple[FloatArray, ...], titles: tuple[str, ...]) -> None:
        """Show these from now on; none at all for no copies."""
        self._copies, self._titles = copies, titles
        self._paint()

    def on_resize(self) -> None:
        self._paint()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 10

    def _paint(self) -> None:
        width, height = self.size
        self._lines = []
        if self._copies and height > 1:
            each = (width - GAP * (len(self._copies) - 1)) // len(self._copies)
            self._lines = [_cells(copy, max(1, each), height - 1) for copy in self._copies]
        self.refresh()

    def render_line(self, y: int) -> Strip:
        width, style = self.size.width, self.rich_style
        if not self._lines or y > len(self._lines[0]):
            return Strip.blank(width, style)
        line: list[Segment] = []
        for cells, title in zip(self._lines, self._titles, strict=True):
            if line:
                line.append(Segment(" " * GAP, style))
            line += cells[y] if y < len(cells) else [text(title, style, len(cells[0]))]
        return Strip(line).adjust_cell_length(width, style)


def _cells(copy: FloatArray, wide: int, tall: int) -> list[list[Segment]]:
    """The copy's nearest pixels in as many cells as keep its shape."""
    import numpy as np

    from coach.widgets.paint import levels

    height, width = copy.shape[:2]
    scale = max(width / wide, height / (2 * tall))
    across = max(1, round(width / scale))
    down = max(1, round(height / scale / 2)) * 2
    rows = ((np.arange(down) + 0.5) * height / down).astype(int)
    columns = ((np.arange(across) + 0.5) * width / across).astype(int)
    return half_cells(levels(copy[rows][:, columns]))
