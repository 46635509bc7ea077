"""The keys that work now, always in view; a click on one does the same."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

GAP = 3


@dataclass(frozen=True)
class Hint:
    """A key as printed, what it does in a word or two, and the action a click runs (if any)."""

    keys: str
    words: str
    action: str = ""

    @property
    def width(self) -> int:
        return cell_len(self.keys) + 1 + cell_len(self.words)


class Hints(Widget):
    """One or two lines of hints at the foot of a screen."""

    DEFAULT_CSS = """
    Hints { dock: bottom; height: auto; padding: 0 2; background: $panel; }
    """

    hints: reactive[tuple[Hint, ...]] = reactive((), layout=True)

    def __init__(self, *hints: Hint) -> None:
        super().__init__()
        self.set_reactive(Hints.hints, hints)

    def _places(self, width: int) -> list[tuple[int, int, Hint]]:
        """Each hint with its column and line."""
        places = []
        x = y = 0
        for hint in self.hints:
            if x and x + hint.width > width:
                x, y = 0, y + 1
            places.append((x, y, hint))
            x += hint.width + GAP
        return places

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max((y for _, y, _ in self._places(width)), default=0) + 1

    def render_line(self, y: int) -> Strip:
        style = self.rich_style
        line: list[Segment] = []
        used = 0
        for x, row, hint in self._places(self.size.width):
            if row == y:
                line.append(Segment(" " * (x - used), style))
                line.append(Segment(hint.keys, style + Style(bold=True)))
                line.append(Segment(f" {hint.words}", style))
                used = x + hint.width
        return Strip(line).adjust_cell_length(self.size.width, style)

    async def on_click(self, event: events.Click) -> None:
        point = event.get_content_offset(self)
        if point is None:
            return
        for x, y, hint in self._places(self.size.width):
            if y == point.y and x <= point.x < x + hint.width and hint.action:
                await self.screen.run_action(hint.action)
                return
