"""What part of a picture a screen shows, and where its crosshair stands."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

CLOSEST: Final = 8.0
"""Screen pixels that one pixel of the picture is shown with at most, a side."""
_STEP = 1.6


@dataclass(frozen=True)
class View:
    """A picture ``width`` × ``height`` on ``across`` × ``down`` screen pixels, which are square.

    The crosshair stands at ``x``, ``y`` of the picture, ``zoom`` steps nearer than the whole;
    ``left``, ``top`` of the picture lie at the corner of what is shown.
    """

    width: int
    height: int
    across: int
    down: int
    x: float
    y: float
    zoom: int = 0
    left: float = 0.0
    top: float = 0.0

    @property
    def scale(self) -> float:
        """Pixels of the picture to one of the screen."""
        whole = max(self.width / self.across, self.height / self.down)
        return max(whole / _STEP**self.zoom, min(whole, 1 / CLOSEST))

    @property
    def shown(self) -> tuple[int, int]:
        """How many screen pixels the picture takes, across and down."""
        return (
            max(1, min(self.across, round(self.width / self.scale))),
            max(1, min(self.down, round(self.height / self.scale))),
        )

    @property
    def box(self) -> tuple[float, float, float, float]:
        """What is shown: left, top, right and bottom of the picture."""
        wide, high = self.shown
        right = min(self.width, self.left + wide * self.scale)
        bottom = min(self.height, self.top + high * self.scale)
        return (self.left, self.top, right, bottom)

    @property
    def margin(self) -> tuple[int, int]:
        """Screen pixels left free to the left of the picture and above it."""
        wide, high = self.shown
        return (self.across - wide) // 2, (self.down - high) // 2

    @property
    def crosshair(self) -> tuple[int, int]:
        """The screen pixel that the crosshair stands on."""
        return self.on_screen(self.x, self.y)

    def on_screen(self, x: float, y: float) -> tuple[int, int]:
        """The screen pixel that x, y of the picture falls in; it may lie outside."""
        left, top, right, bottom = self.box
        wide, high = self.shown
        margin = self.margin
        return (
            int((x - left) / (right - left) * wide // 1) + margin[0],
            int((y - top) / (bottom - top) * high // 1) + margin[1],
        )

    def at(self, column: float, row: float) -> View:
        """The crosshair put on a screen pixel."""
        left, top, right, bottom = self.box
        wide, high = self.shown
        margin = self.margin
        x = left + (column + 0.5 - margin[0]) * (right - left) / wide
        y = top + (row + 0.5 - margin[1]) * (bottom - top) / high
        return self.to(x, y)

    def to(self, x: float, y: float) -> View:
        """The crosshair put at x, y of the picture or its edge, and in view."""
        put = replace(
            self,
            x=min(max(x, 0.0), self.width - 0.001),
            y=min(max(y, 0.0), self.height - 0.001),
        )
        return put._following()

    def moved(self, across: int, down: int) -> View:
        """The crosshair moved by screen pixels, by a pixel of the picture each at least."""
        by = max(1.0, self.scale)
        return self.to(self.x + across * by, self.y + down * by)

    def zoomed(self, steps: int) -> View:
        """Nearer or farther, the crosshair in the middle as far as the edges allow."""
        nearer = replace(self, zoom=max(0, self.zoom + steps))
        if nearer.scale == self.scale:
            return self
        wide, high = nearer.shown
        left = self.x - wide * nearer.scale / 2
        return replace(nearer, left=left, top=self.y - high * nearer.scale / 2)._inside()

    def resized(self, across: int, down: int) -> View:
        """The same place on a screen of another size."""
        return replace(self, across=max(1, across), down=max(1, down))._inside()._following()

    def _following(self) -> View:
        """What is shown moved so that the crosshair keeps off its edge."""
        wide, high = (length * self.scale for length in self.shown)
        left = min(max(self.left, self.x - 0.85 * wide), self.x - 0.15 * wide)
        top = min(max(self.top, self.y - 0.85 * high), self.y - 0.15 * high)
        return replace(self, left=left, top=top)._inside()

    def _inside(self) -> View:
        wide, high = (length * self.scale for length in self.shown)
        left = min(max(self.left, 0.0), max(0.0, self.width - wide))
        return replace(self, left=left, top=min(max(self.top, 0.0), max(0.0, self.height - high)))


def whole(width: int, height: int, across: int, down: int) -> View:
    """All of a picture, the crosshair in its middle."""
    return View(width, height, max(1, across), max(1, down), width / 2, height / 2)
