"""Painting swatches: bare cells of the colour itself, never with lettering on them."""

from __future__ import annotations

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from drills.kinds.protocol import Lab, Swatch


def cell_style(lab: Lab) -> Style:
    """The style whose background is this colour (D50 Lab, rounded to the screen's 8 bits)."""
    from drills.colour.spaces import screen_rgb

    red, green, blue = (int(level) for level in screen_rgb(lab))
    return Style(bgcolor=Color.from_rgb(red, green, blue))


def beyond_screen(lab: Lab) -> bool:
    """True where a screen can't show this colour, so that what is painted is the nearest it has."""
    from drills.colour.spaces import in_screen_gamut

    return not bool(in_screen_gamut(lab))


def block(lab: Lab, width: int) -> Segment:
    """One row of a swatch."""
    return Segment(" " * width, cell_style(lab))


def swatch_row(swatch: Swatch, width: int, row: int, height: int) -> list[Segment]:
    """One row of a swatch ``width`` × ``height`` cells, inside its surround if it has one."""
    if swatch.surround is None:
        return [block(swatch.lab, width)]
    side, top = max(2, width // 4), max(1, height // 4)
    if row < top or row >= height - top:
        return [block(swatch.surround, width)]
    edge = block(swatch.surround, side)
    return [edge, block(swatch.lab, width - 2 * side), edge]


def text(words: str, style: Style, width: int) -> Segment:
    """Words cut or padded to exactly ``width`` cells."""
    from rich.cells import set_cell_size

    return Segment(set_cell_size(words, width), style)


def strip(segments: list[Segment], width: int, style: Style) -> Strip:
    """A strip padded with the room's own grey to ``width``."""
    return Strip(segments).adjust_cell_length(width, style)
