"""A picture in half blocks, two pixels a cell, as large as there is room; nothing moves in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from coach.widgets.drawn.picture_view import half_cells
from coach.widgets.paint import photo_levels

if TYPE_CHECKING:
    from drills.pictures.picture import Picture

TALLEST = 16
"""Lines, so that the words about it stay in sight."""


class StillPicture(Widget):
    """Shows ``picture``; of no height without one."""

    DEFAULT_CSS = "StillPicture { height: auto; margin: 1 0 0 0; }"

    def __init__(self, picture: Picture | None = None, tallest: int = TALLEST) -> None:
        super().__init__()
        self.picture = picture
        self.tallest = tallest
        self._strips: list[Strip] = []
        self._made_for: tuple[int, int] | None = None

    def _fitted(self, width: int) -> tuple[int, int]:
        """Columns and lines of the picture, its sides in proportion."""
        if self.picture is None or width < 1:
            return 0, 0
        scale = min(width / self.picture.width, 2 * self.tallest / self.picture.height)
        lines = max(1, round(self.picture.height * scale / 2))
        return max(1, min(width, round(self.picture.width * scale))), lines

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return self._fitted(width)[1]

    def render_line(self, y: int) -> Strip:
        across, lines = self._fitted(self.size.width)
        if self.picture is not None and self._made_for != (across, lines):
            levels = photo_levels(self.picture.fitted(across, 2 * lines))
            self._strips = [Strip(cells) for cells in half_cells(levels)]
            self._made_for = across, lines
        if y >= len(self._strips) or y >= lines:
            return Strip.blank(self.size.width, self.rich_style)
        return self._strips[y].extend_cell_length(self.size.width, self.rich_style)
