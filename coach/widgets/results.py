"""The rows of a reveal: what each choice would have made, beside what was wanted."""

from __future__ import annotations

import textwrap

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.widgets.paint import beyond_screen, block, text
from drills.kinds.protocol import Result, Reveal

HALF = 7
GAP = 3
MARKS = {"": "  ", "yours": "▸ ", "best": "● ", "yours, best": "● "}


class Results(Widget):
    """Each result as a swatch touching the target, its name and an artist's words for it."""

    DEFAULT_CSS = "Results { height: auto; margin: 0 2; }"

    reveal: reactive[Reveal | None] = reactive(None, layout=True)
    true_colour: reactive[bool] = reactive(True)

    def _lines(self, result: Result, width: int) -> list[tuple[str, bool]]:
        """The words of a result as (line, is the first), wrapped beside its swatch."""
        room = max(20, width - self._swatch_width() - 1)
        tag = {"yours": " (yours)", "best": " (best)", "yours, best": " (yours, the best)"}
        name = f"{MARKS[result.mark]}{result.label}{tag.get(result.mark, '')}"
        words = [name, *textwrap.wrap(result.words, room - 2)]
        return [(line if i == 0 else f"  {line}", i == 0) for i, line in enumerate(words)]

    def _swatch_width(self) -> int:
        if not self._with_swatches:
            return 0
        rows = self.reveal.results if self.reveal else ()
        target = bool(self.reveal and self.reveal.target)
        return HALF * (1 + target + any(row.beside for row in rows)) + GAP

    @property
    def _with_swatches(self) -> bool:
        rows = self.reveal.results if self.reveal else ()
        return self.true_colour and any(row.swatch for row in rows)

    def _rows(self, width: int) -> list[tuple[Result, int, list[tuple[str, bool]]]]:
        """Each result with its height: at least two rows of swatch, and a gap after it."""
        rows = self.reveal.results if self.reveal else ()
        least = 2 if self._with_swatches else 1
        return [
            (row, max(least, len(lines)) + 1, lines)
            for row in rows
            for lines in [self._lines(row, width)]
        ]

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(1, sum(height for _, height, _ in self._rows(width)))

    def render_line(self, y: int) -> Strip:
        width = self.size.width
        style = self.rich_style
        for result, height, lines in self._rows(width):
            if y < height:
                return self._result_line(result, lines, y, height - 1, width, style)
            y -= height
        return Strip.blank(width, style)

    def _result_line(
        self,
        result: Result,
        lines: list[tuple[str, bool]],
        y: int,
        depth: int,
        width: int,
        style: Style,
    ) -> Strip:
        segments: list[Segment] = []
        target = self.reveal.target if self.reveal else None
        side = self._swatch_width()
        if side and y < depth and result.swatch:
            if target:
                segments.append(block(target.lab, HALF))
            segments.append(block(result.swatch.lab, HALF))
            if result.beside:
                segments.append(block(result.beside.lab, HALF))
            used = sum(segment.cell_length for segment in segments)
            segments.append(Segment(" " * (side - used), style))
        elif side:
            segments.append(Segment(" " * side, style))
        if y < len(lines):
            words, first = lines[y]
            lettering = style + Style(bold=True) if first and result.mark else style
            segments.append(text(words, lettering, max(1, width - side)))
        return Strip(segments).adjust_cell_length(width, style)


def screen_caution(reveal: Reveal) -> str:
    """A line saying that some swatch lies beyond what a screen shows, or nothing."""
    swatches = [row.swatch for row in reveal.results if row.swatch]
    if reveal.target:
        swatches.append(reveal.target)
    if any(beyond_screen(swatch.lab) for swatch in swatches):
        return "A colour here is brighter than a screen can show; the nearest it has is shown."
    return ""
