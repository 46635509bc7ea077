"""The swatches being judged, side by side: two touch, more have gaps of the room's grey."""

from __future__ import annotations

from rich.segment import Segment
from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.design.measures import SWATCH_CELLS, size_class
from coach.widgets.paint import swatch_row, text
from drills.questions.protocol import Ask, Swatch

GAP = 4
TO_SET = "to be set"
WIDEST_LARGE = 80


class Scene(Widget):
    """Shows ``swatches`` as large as the room allows, each with its label below it."""

    DEFAULT_CSS = """
    Scene { height: 1fr; min-height: 4; max-height: 24; margin: 0 2; }
    Scene.-large { max-height: 60; }
    """

    swatches: reactive[tuple[Swatch, ...]] = reactive(())

    def __init__(self, swatches: tuple[Swatch, ...] = (), *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.whole = False
        """Whether swatches take the whole width."""
        self.set_reactive(Scene.swatches, swatches)

    @property
    def _gap(self) -> int:
        """Cells between swatches: a gap between two hides a small step from one to the other."""
        return GAP if len(self.swatches) > 2 else 0

    def block_width(self, width: int) -> int:
        count = max(1, len(self.swatches))
        cells = SWATCH_CELLS[size_class(self.screen.size.width)]
        widest = WIDEST_LARGE if self.has_class("-large") else cells
        if self.whole:
            widest = width
        return max(4, min(widest, (width - self._gap * (count - 1)) // count))

    def render_line(self, y: int) -> Strip:
        width, height = self.size
        style = self.rich_style
        if not self.swatches:
            return Strip.blank(width, style)
        labelled = any(swatch.label for swatch in self.swatches)
        depth = height - 1 if labelled else height
        wide = self.block_width(width)
        gap = Segment(" " * self._gap, style)
        line: list[Segment] = []
        for swatch in self.swatches:
            if line:
                line.append(gap)
            if y < depth:
                line.extend(swatch_row(swatch, wide, y, depth))
            else:
                line.extend((text(swatch.label, style, wide - 1), Segment(" ", style)))
        return Strip(line).adjust_cell_length(width, style)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 8


def seen(asked: Ask) -> tuple[Swatch, ...]:
    """What is looked at: the scene, and beside it the colour that a setting begins from."""
    if asked.form == "set" and asked.start is not None:
        return (*asked.scene, Swatch(asked.start, TO_SET))
    return asked.scene
