"""A picture in half blocks, two pixels a cell, with a crosshair moved by keys and mouse."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, ClassVar

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from coach.widgets.paint import photo_levels

if TYPE_CHECKING:
    from drills.pictures.picture import Picture
    from drills.pictures.spot import Correction
    from drills.pictures.view import View

FAR = 8
"""Screen pixels of a wide step."""
_GAP, _ARM = 2, 4
_HALF = "▀"
RGB = tuple[int, int, int]


class PictureView(Widget, can_focus=True):
    """Shows a picture where the terminal has 24-bit colour. Posts ``Moved`` and ``Changed``.

    The crosshair and the ring of the sampling ``radius`` (pixels of the picture) are black or
    white, whichever stands out, and leave the pixel aimed at free.
    """

    DEFAULT_CSS = "PictureView { height: 1fr; min-height: 4; margin: 0 2; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "move(-1, 0)", "Left", show=False),
        Binding("right", "move(1, 0)", "Right", show=False),
        Binding("up", "move(0, -1)", "Up", show=False),
        Binding("down", "move(0, 1)", "Down", show=False),
        Binding("shift+left", f"move(-{FAR}, 0)", "Far left", show=False),
        Binding("shift+right", f"move({FAR}, 0)", "Far right", show=False),
        Binding("shift+up,pageup", f"move(0, -{FAR})", "Far up", show=False),
        Binding("shift+down,pagedown", f"move(0, {FAR})", "Far down", show=False),
        Binding("plus,equals_sign", "zoom(1)", "Nearer", show=False),
        Binding("minus,underscore", "zoom(-1)", "Farther", show=False),
        Binding("right_square_bracket,full_stop", "radius(1)", "Wider spot", show=False),
        Binding("left_square_bracket,comma", "radius(-1)", "Narrower spot", show=False),
    ]

    class Moved(Message):
        """The crosshair stands elsewhere, or the spot is of another size."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.picture: Picture | None = None
        self.view: View | None = None
        self.shows = True
        """Whether the terminal shows its colours truly; if not, nothing is painted."""
        self.radius = 2.0
        self.marks: tuple[tuple[float, float], ...] = ()
        """Places shown by a small cross."""
        self._light: Correction | None = None
        self._pixels: list[list[RGB]] = []
        self._cells: list[list[Segment]] = []
        self._drawn: dict[tuple[int, int], RGB] = {}

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 12

    # What is shown

    def show(self, picture: Picture) -> None:
        """Show all of a picture, the crosshair in its middle."""
        from drills.pictures.light import usual_radius
        from drills.pictures.view import whole

        self.picture, self._light, self.marks = picture, None, ()
        self.radius = usual_radius(picture)
        self.view = whole(picture.width, picture.height, *self._screen_pixels())
        self._paint()

    def relight(self, light: Correction | None, marks: tuple[tuple[float, float], ...]) -> None:
        """Show the picture with its light taken off, or as it is, and where that was told."""
        self._light, self.marks = light, marks
        self._paint()

    def _screen_pixels(self) -> tuple[int, int]:
        return self.size.width, 2 * self.size.height

    def on_resize(self) -> None:
        if self.view is not None:
            self.view = self.view.resized(*self._screen_pixels())
            self._paint()

    def _paint(self) -> None:
        """Make the cells of what is shown, without the crosshair."""
        if self.picture is None or self.view is None or not self.size or not self.shows:
            return
        self._pixels = _framed(self.picture, self.view, self._light, self._surround)
        self._cells = half_cells(self._pixels)
        self._drawn = dict(self._drawing())
        self.refresh()

    @property
    def _surround(self) -> RGB:
        colour = self.background_colors[1]
        return colour.r, colour.g, colour.b

    def render_line(self, y: int) -> Strip:
        width = self.size.width
        if y >= len(self._cells) or len(self._cells[y]) != width:
            return Strip.blank(width, self.rich_style)
        cells = self._cells[y]
        touched = {x for x, row in self._drawn if row // 2 == y}
        if touched:
            cells = cells.copy()
            for x in touched:
                upper, lower = (
                    self._drawn.get((x, row), self._pixels[row][x]) for row in (2 * y, 2 * y + 1)
                )
                cells[x] = half_cell(upper, lower)
        return Strip(cells, width)

    def _drawing(self) -> Iterator[tuple[tuple[int, int], RGB]]:
        """The screen pixels of crosshair, ring and marks, each with its grey."""
        assert self.view is not None
        places = set()
        x, y = self.view.crosshair
        ring = self.radius / self.view.scale
        if ring >= 1.5:
            turns = max(12, round(2 * math.pi * ring))
            for i in range(turns):
                angle = 2 * math.pi * i / turns
                places.add((round(x + ring * math.cos(angle)), round(y + ring * math.sin(angle))))
        start = max(_GAP, math.ceil(ring) + 1)
        for far in range(start, start + _ARM):
            places |= {(x + far, y), (x - far, y), (x, y + far), (x, y - far)}
        for mark in self.marks:
            a, b = self.view.on_screen(*mark)
            places |= {(a + 1, b + 1), (a - 1, b - 1), (a + 1, b - 1), (a - 1, b + 1)}
        for column, row in places - {(x, y)}:
            if 0 <= row < len(self._pixels) and 0 <= column < len(self._pixels[row]):
                yield (column, row), _standing_out(self._pixels[row][column])

    # Moving

    def _to(self, view: View) -> None:
        """Go to a view: only the lines that the crosshair touches are drawn, if it stays."""
        old, self.view = self.view, view
        if old is None or (old.box, old.shown) != (view.box, view.shown):
            self._paint()
        else:
            self._redraw()
        self.post_message(self.Moved())

    def _redraw(self) -> None:
        lines = {row // 2 for _, row in self._drawn}
        self._drawn = dict(self._drawing())
        lines |= {row // 2 for _, row in self._drawn}
        self.refresh(*(Region(0, line, self.size.width, 1) for line in sorted(lines)))

    def action_move(self, across: int, down: int) -> None:
        if self.view is not None:
            self._to(self.view.moved(across, down))

    def action_zoom(self, steps: int) -> None:
        if self.view is not None:
            self._to(self.view.zoomed(steps))

    def action_radius(self, way: int) -> None:
        """Widen or narrow the spot by a quarter, one pixel at least."""
        from drills.pictures.spot import LARGEST_RADIUS

        step = max(1.0, round(self.radius * 0.25))
        self.radius = min(LARGEST_RADIUS, max(0.0, self.radius + way * step))
        if self.view is not None:
            self._redraw()
            self.post_message(self.Moved())

    def _put(self, event: events.MouseEvent) -> None:
        if self.view is not None:
            self._to(self.view.at(event.x, 2 * event.y))

    def on_mouse_down(self, event: events.MouseDown) -> None:
        self._put(event)

    def on_mouse_move(self, event: events.MouseMove) -> None:
        if event.button:
            self._put(event)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        self.action_zoom(1)
        event.stop()

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        self.action_zoom(-1)
        event.stop()


def _framed(
    picture: Picture, view: View, light: Correction | None, surround: RGB
) -> list[list[RGB]]:
    """The screen's pixels: what the view shows, within the surround."""
    import numpy as np

    from drills.pictures.relit import relit

    levels = np.array(photo_levels(relit(picture, view, light)), dtype=np.uint8)
    left, top = view.margin
    frame = np.empty((view.down, view.across, 3), dtype=np.uint8)
    frame[:] = surround
    frame[top : top + levels.shape[0], left : left + levels.shape[1]] = levels
    return [[(r, g, b) for r, g, b in row] for row in frame.tolist()]


@lru_cache(maxsize=16384)
def half_cell(upper: RGB, lower: RGB) -> Segment:
    """Two pixels, one over the other."""
    behind = Color.from_rgb(*lower)
    if upper == lower:
        return Segment(" ", Style(bgcolor=behind))
    return Segment(_HALF, Style(color=Color.from_rgb(*upper), bgcolor=behind))


def half_cells(levels: Sequence[Sequence[Sequence[int]]]) -> list[list[Segment]]:
    """Pixels (h, w, 3) as lines of half blocks; ``h`` is even."""
    return [
        [half_cell((*a,), (*b,)) for a, b in zip(upper, lower, strict=True)]
        for upper, lower in zip(levels[::2], levels[1::2], strict=True)
    ]


def _standing_out(behind: RGB) -> RGB:
    """Black or white, whichever stands out from a pixel (its luma, ITU-R BT.709)."""
    r, g, b = behind
    return (0, 0, 0) if 0.2126 * r + 0.7152 * g + 0.0722 * b > 118 else (255, 255, 255)
