"""A plan as a strip: the paper, what it looks like after each move, and the pencil of each."""

from __future__ import annotations

from dataclasses import dataclass

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.widgets.paint import block, text
from drills.questions.protocol import Lab

GAP = 2
WIDEST, NARROWEST = 10, 5
ROWS = 3
"""One row of result, one of the pencil's own swatch, one of its code."""
THICK = {"light": 0.4, "middle": 0.6, "firm": 0.8, "heavy": 1.0}
"""How wide the pencil's own swatch is, as a share of the step's: how hard it is laid."""


@dataclass(frozen=True)
class StripStep:
    """What stands after a move (``lab``), and the ``pencil``'s own swatch, None for none.

    ``pressure`` is a key of ``THICK``; ``code`` what the pencil is called in a few letters.
    """

    lab: Lab
    pencil: Lab | None = None
    pressure: str = "firm"
    code: str = ""


class PlanStrip(Widget):
    """``steps`` in order, the first of them bare paper; the one at ``at`` is marked."""

    DEFAULT_CSS = f"""
    PlanStrip {{ height: {ROWS}; margin: 0 2; display: none; }}
    PlanStrip.-shown {{ display: block; }}
    """

    steps: reactive[tuple[StripStep, ...]] = reactive(())
    at: reactive[int] = reactive(0)

    class Stepped(Message):
        """A step was clicked."""

        def __init__(self, at: int) -> None:
            super().__init__()
            self.at = at

    def watch_steps(self) -> None:
        self.set_class(bool(self.steps), "-shown")

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return ROWS

    @property
    def _wide(self) -> int:
        count = max(1, len(self.steps))
        return max(NARROWEST, min(WIDEST, self.size.width // count - GAP))

    def render_line(self, y: int) -> Strip:
        style, wide = self.rich_style, self._wide
        line: list[Segment] = []
        for place, step in enumerate(self.steps):
            line += [*self._part(step, place, y, wide, style), Segment(" " * GAP, style)]
        return Strip(line).adjust_cell_length(self.size.width, style)

    def _part(
        self, step: StripStep, place: int, row: int, wide: int, style: Style
    ) -> list[Segment]:
        if row == 0:
            return [block(step.lab, wide)]
        if row == 1:
            if step.pencil is None:
                return [Segment(" " * wide, style)]
            own = max(1, round(THICK[step.pressure] * wide))
            return [block(step.pencil, own), Segment(" " * (wide - own), style)]
        if place == self.at:
            return [text(f"▸{step.code}", style + Style(bold=True), wide)]
        return [text(step.code, style, wide)]

    def on_click(self, event: events.Click) -> None:
        point = event.get_content_offset(self)
        if point is not None:
            place, within = divmod(point.x, self._wide + GAP)
            if place < len(self.steps) and within < self._wide:
                self.post_message(self.Stepped(place))
