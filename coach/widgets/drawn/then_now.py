"""Thresholds then and now: of each drill two touching swatches as far apart, side by side."""

from __future__ import annotations

from collections.abc import Sequence

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.reports.seen.drawn import TOO_FINE, Pair, Seen
from coach.widgets.paint import block, text

NARROWEST, WIDEST = 11, 16
"""Columns of one swatch."""
GAP = 4
HIGH = 3
ROWS = HIGH + 3
"""A title, the swatches, their words and a row between."""


class ThenNowPairs(Widget):
    """``shown`` in rows, several side by side where there is room; hidden while there are none.

    With ``true_colour`` False only the words stand.
    """

    DEFAULT_CSS = "ThenNowPairs { height: auto; display: none; }"

    shown: reactive[tuple[Seen, ...]] = reactive((), layout=True)
    true_colour: reactive[bool] = reactive(True)

    def show(self, shown: Sequence[Seen], true_colour: bool) -> None:
        self.true_colour = true_colour
        self.shown = tuple(shown)
        self.display = bool(self.shown)

    def _places(self, width: int) -> tuple[int, int]:
        """How many drills stand side by side, and the columns of one swatch."""
        least = 4 * NARROWEST + 2 * GAP
        across = max(1, min(len(self.shown), width // least))
        wide = (width // across - 2 * GAP) // 4
        return across, max(1, min(WIDEST, wide))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        across, _ = self._places(width)
        return -(-len(self.shown) // across) * ROWS

    def render_line(self, y: int) -> Strip:
        style, width = self.rich_style, self.size.width
        across, wide = self._places(width)
        at, row = divmod(y, ROWS)
        line: list[Segment] = []
        for one in self.shown[at * across : (at + 1) * across]:
            line += self._part(one, row, wide, style)
        return Strip(line).adjust_cell_length(width, style)

    def _part(self, one: Seen, row: int, wide: int, style: Style) -> list[Segment]:
        gap = Segment(" " * GAP, style)
        if row == 0:
            return [text(one.title, style + Style(bold=True), 4 * wide + GAP), gap]
        if row > HIGH + 1:
            return [Segment(" " * (4 * wide + 2 * GAP), style)]
        pairs = (one.then, one.now)
        if row == HIGH + 1:
            return [part for pair in pairs for part in (text(pair.words, style, 2 * wide), gap)]
        return [part for pair in pairs for part in (*self._row(pair, row, wide, style), gap)]

    def _row(self, pair: Pair, row: int, wide: int, style: Style) -> list[Segment]:
        if pair.apart is None or not self.true_colour:
            words = TOO_FINE if pair.apart is None and row == HIGH else ""
            return [text(words, style, 2 * wide)]
        return [block(pair.apart.first, wide), block(pair.apart.second, wide)]
