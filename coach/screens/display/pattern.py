"""A grey inside a fine black-and-white pattern, in the levels sent and not corrected."""

from __future__ import annotations

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

WHITE, BLACK = Color.from_rgb(255, 255, 255), Color.from_rgb(0, 0, 0)
# Half cells, white on black and black on white by turns: each half of the light of white,
# also where a cell's rows are an odd number.
EVEN, ODD = Style(color=WHITE, bgcolor=BLACK), Style(color=BLACK, bgcolor=WHITE)


class Pattern(Widget):
    """The pattern, with ``levels`` as a plain grey in its middle."""

    DEFAULT_CSS = "Pattern { height: 1fr; min-height: 8; margin: 0 2; max-width: 60; }"

    levels: reactive[tuple[int, int, int]] = reactive((128, 128, 128))

    def render_line(self, y: int) -> Strip:
        width, height = self.size
        side, top = width // 4, max(1, height // 4)
        styles = [EVEN if (x + y) % 2 == 0 else ODD for x in range(width)]
        row = [Segment("▀", style) for style in styles]
        if top <= y < height - top:
            grey = Style(bgcolor=Color.from_rgb(*self.levels))
            row[side : width - side] = [Segment(" " * (width - 2 * side), grey)]
        return Strip(row, width)


class Squares(Widget):
    """Squares of ``levels`` on a ground of one level, the hardest to see first."""

    DEFAULT_CSS = "Squares { height: 1fr; min-height: 6; margin: 0 2; max-width: 62; }"

    ground: reactive[int] = reactive(0)
    levels: reactive[tuple[int, ...]] = reactive(())

    def render_line(self, y: int) -> Strip:
        width, height = self.size
        ground = Style(bgcolor=Color.from_rgb(*(self.ground,) * 3))
        row = [Segment(" " * width, ground)]
        if self.levels and 1 <= y < height - 1:
            wide = width // len(self.levels)
            row = []
            for level in self.levels:
                square = Style(bgcolor=Color.from_rgb(level, level, level))
                row += [Segment("  ", ground), Segment(" " * (wide - 4), square)]
                row.append(Segment("  ", ground))
        return Strip(row).adjust_cell_length(width, ground)
