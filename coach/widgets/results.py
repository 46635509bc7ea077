"""The rows of a reveal: what each choice would have made, beside what was wanted."""

from __future__ import annotations

from functools import lru_cache

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.widgets.paint import beyond_screen, block, text, wrapped
from drills.kinds.protocol import Result, Reveal

HALF = 7
GAP = 3
Words = tuple[str, ...]
TAGS = {"": "", "yours": " (yours)", "best": " (best)", "yours, best": " (yours, the best)"}
MARKS = {"": "  ", "yours": "▸ ", "best": "● ", "yours, best": "● "}


class Results(Widget):
    """Each result as a swatch touching the target, its name and an artist's words for it."""

    DEFAULT_CSS = "Results { height: auto; margin: 0 2; }"

    reveal: reactive[Reveal | None] = reactive(None, layout=True)
    true_colour: reactive[bool] = reactive(True)

    @property
    def _rows(self) -> tuple[Result, ...]:
        return self.reveal.results if self.reveal else ()

    def _swatch_width(self) -> int:
        if not self._with_swatches:
            return 0
        target = bool(self.reveal and self.reveal.target)
        return HALF * (1 + target + any(row.beside for row in self._rows)) + GAP

    @property
    def _with_swatches(self) -> bool:
        return self.true_colour and any(row.swatch for row in self._rows)

    def _laid(self, width: int) -> tuple[Words, ...]:
        """The words of each result, as laid out in ``width`` beside the swatches."""
        room = max(20, width - self._swatch_width() - 1)
        return words_beside(self._rows, room, 2 if self._with_swatches else 1)

    def _caption(self) -> str:
        """What the halves of every swatch are, or nothing where there is no target."""
        if self.reveal is None or self.reveal.target is None or not self._with_swatches:
            return ""
        row = next(row for row in self._rows if row.swatch)
        others = [swatch.label for swatch in (row.swatch, row.beside) if swatch]
        labels = (self.reveal.target.label or "target", others[0] or "result", *others[1:])
        return "".join(text(label, Style(), HALF - 1).text + " " for label in labels)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(1, bool(self._caption()) + sum(len(words) for words in self._laid(width)))

    def render_line(self, y: int) -> Strip:
        width = self.size.width
        style = self.rich_style
        caption = self._caption()
        if caption:
            if y == 0:
                return Strip([text(caption, style, width)])
            y -= 1
        for result, lines in zip(self._rows, self._laid(width), strict=True):
            if y < len(lines):
                return self._result_line(result, lines[y], y < len(lines) - 1, y == 0, width, style)
            y -= len(lines)
        return Strip.blank(width, style)

    def _result_line(
        self, result: Result, words: str, painted: bool, first: bool, width: int, style: Style
    ) -> Strip:
        segments: list[Segment] = []
        target = self.reveal.target if self.reveal else None
        side = self._swatch_width()
        if painted and side and result.swatch:
            swatches = (target, result.swatch, result.beside)
            segments = [block(swatch.lab, HALF) for swatch in swatches if swatch]
        used = sum(segment.cell_length for segment in segments)
        segments.append(Segment(" " * (side - used), style))
        lettering = style + Style(bold=True) if first and result.mark else style
        segments.append(text(words, lettering, max(1, width - side)))
        return Strip(segments).adjust_cell_length(width, style)


@lru_cache(maxsize=32)
def words_beside(rows: tuple[Result, ...], room: int, least: int) -> tuple[Words, ...]:
    """Each result's lines of words in ``room`` cells: ``least`` or more, and an empty one below."""
    laid = []
    for row in rows:
        name = wrapped(f"{row.label}{TAGS[row.mark]}", room - 2)
        lines = [f"{MARKS[row.mark]}{name[0]}", *(f"  {line}" for line in name[1:])]
        lines += [f"  {line}" for line in wrapped(row.words, room - 2)]
        laid.append((*lines, *[""] * (max(0, least - len(lines)) + 1)))
    return tuple(laid)


def screen_caution(reveal: Reveal) -> str:
    """A line saying that some swatch lies beyond what a screen shows, or nothing."""
    swatches = [reveal.target, *(s for row in reveal.results for s in (row.swatch, row.beside))]
    if any(swatch is not None and beyond_screen(swatch.lab) for swatch in swatches):
        return "A colour here is brighter than a screen can show; the nearest it has is shown."
    return ""
