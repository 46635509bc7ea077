"""A swatch that is moved in lightness, chroma and hue until it equals a colour."""

from __future__ import annotations

from typing import ClassVar, Final

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.design.measures import SWATCH_CELLS, size_class
from coach.widgets.hints import Hint
from coach.widgets.paint import block, text
from drills.questions.adjusting import COARSE, FINE, PARTS, Part, Setting
from drills.questions.protocol import Lab

KEYS: Final = {"lightness": "↓ ↑", "chroma": "- +", "hue": "← →"}
SIDE, KEY_CELLS = 16, 5
"""Cells of the words at either end of a scale, and of its keys."""
WIDEST = 60
"""Cells of the swatch, or of the pair, at most."""


def hints(equal: str = "they are equal") -> tuple[Hint, ...]:
    """The keys of a swatch that is being moved; the screen has the action ``equal``."""
    return (
        Hint("↓ ↑", "darker, lighter"),
        Hint("- +", "duller, brighter"),
        Hint("← →", "hue"),
        Hint("f", "fine or wide steps", "steps"),
        Hint("Enter", equal, "equal"),
    )


class AdjustingSwatch(Widget, can_focus=True):
    """Shows ``setting``, beside ``target`` where there is one, over a scale of each part.

    Posts ``Moved`` whenever it is moved, and ``Equal`` when Enter says it matches.
    """

    DEFAULT_CSS = """
    AdjustingSwatch { height: 1fr; min-height: 8; margin: 0 2; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "move('lightness', 1)", "Lighter", show=False),
        Binding("down", "move('lightness', -1)", "Darker", show=False),
        Binding("plus,equals_sign,pageup", "move('chroma', 1)", "Brighter", show=False),
        Binding("minus,underscore,pagedown", "move('chroma', -1)", "Duller", show=False),
        Binding("right", "move('hue', 1)", "On round the hues", show=False),
        Binding("left", "move('hue', -1)", "Back round the hues", show=False),
        Binding("f", "steps", "Fine or wide steps", show=False),
        Binding("enter", "equal", "They are equal", show=False),
    ]

    setting: reactive[Setting | None] = reactive(None)
    target: reactive[Lab | None] = reactive(None)
    fine: reactive[bool] = reactive(False)

    class Moved(Message):
        """The swatch was moved."""

    class Equal(Message):
        """The learner says that it matches: ``lab`` is what was shown."""

        def __init__(self, lab: Lab) -> None:
            super().__init__()
            self.lab = lab

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._ends: tuple[Setting, tuple[str, str]] | None = None

    @property
    def _scale(self) -> tuple[int, int]:
        """The first column of the scales, and their cells."""
        wide = max(10, min(44, self.size.width - 2 * SIDE - KEY_CELLS))
        return SIDE, wide

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 12

    def render_line(self, y: int) -> Strip:
        width, height = self.size
        style = self.rich_style
        below = y - (height - len(PARTS))
        if self.setting is None or below == -1:
            return Strip.blank(width, style)
        if below >= 0:
            return self._scale_row(PARTS[below], style)
        labs = [self.setting.lab] if self.target is None else [self.target, self.setting.lab]
        widest = 2 * SWATCH_CELLS[size_class(self.screen.size.width)]
        wide = max(4, min(widest, width) // len(labs))
        return Strip([block(lab, wide) for lab in labs]).adjust_cell_length(width, style)

    def _scale_row(self, part: Part, style: Style) -> Strip:
        assert self.setting is not None
        _, wide = self._scale
        at = round(self.setting.share(part) * (wide - 1))
        low, high = self._words(part)
        line = "─" * at + "●" + "─" * (wide - 1 - at)
        return Strip(
            [
                text(f"{low:>{SIDE - 1}} ", style, SIDE),
                Segment(line, style),
                text(f" {high}", style, SIDE),
                text(KEYS[part], style + Style(bold=True), KEY_CELLS),
            ]
        ).adjust_cell_length(self.size.width, style)

    def _words(self, part: Part) -> tuple[str, str]:
        """What lies at either end of a scale; for hue, the families beside the present one."""
        if part == "lightness":
            return "darker", "lighter"
        if part == "chroma":
            return "duller", "brighter"
        assert self.setting is not None
        if self._ends is None or self._ends[0] is not self.setting:
            self._ends = self.setting, beside(self.setting)
        return self._ends[1]

    def action_move(self, part: Part, way: int) -> None:
        if self.setting is not None:
            self._to(self.setting.moved(part, way * (FINE if self.fine else COARSE)))

    def action_steps(self) -> None:
        self.fine = not self.fine

    def action_equal(self) -> None:
        if self.setting is not None:
            self.post_message(self.Equal(self.setting.lab))

    def _to(self, setting: Setting) -> None:
        self.setting = setting
        self.post_message(self.Moved())

    def _part_at(self, event: events.MouseEvent) -> Part | None:
        row = event.y - (self.size.height - len(PARTS))
        return PARTS[row] if 0 <= row < len(PARTS) else None

    def _put(self, event: events.MouseEvent) -> None:
        part = self._part_at(event)
        if part is not None and self.setting is not None:
            start, wide = self._scale
            self._to(self.setting.put(part, (event.x - start) / (wide - 1)))

    def on_mouse_down(self, event: events.MouseDown) -> None:
        self._put(event)

    def on_mouse_move(self, event: events.MouseMove) -> None:
        if event.button:
            self._put(event)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        self._scroll(event, 1)

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        self._scroll(event, -1)

    def _scroll(self, event: events.MouseEvent, way: int) -> None:
        part = self._part_at(event)
        if part is not None:
            self.action_move(part, way)
            event.stop()


def beside(setting: Setting) -> tuple[str, str]:
    """The families that lie back and on round the hue angle from a setting."""
    from drills.colour.hue import FAMILIES, family_at, wheel_position
    from drills.colour.spaces import lch_to_lab

    places = wheel_position(
        lch_to_lab([[setting.lightness, max(setting.chroma, 10.0), setting.hue]])
    )
    at = int(family_at(places)[0])
    # The wheel runs against the hue angle: from yellow by red to blue.
    return FAMILIES[(at + 1) % 12], FAMILIES[(at - 1) % 12]
