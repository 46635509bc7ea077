"""Painting swatches: bare cells of the colour itself, never with lettering on them."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING

from rich.color import Color
from rich.segment import Segment
from rich.style import Style

if TYPE_CHECKING:
    from drills.colour.data.tables import FloatArray
    from drills.pictures.picture import LevelArray
    from drills.questions.protocol import Lab, Swatch
    from drills.screen.model import Screen

_model: Callable[[], Screen] | None = None


def correct_for(model: Callable[[], Screen] | None) -> None:
    """Paint for this screen from now on; for None as sRGB has it. The one place that corrects.

    ``model`` is called when a colour is painted first, for it needs numpy.
    """
    global _model
    _model = None if model is None else lru_cache(maxsize=1)(model)
    for kept in (cell_style, beyond_screen, grain_rows):
        kept.cache_clear()


def _colour(lab: Lab) -> Color:
    """This colour (D50 Lab) in the levels that the screen shows it with, nearest of its 8 bits."""
    from drills.colour.spaces import screen_rgb

    found = screen_rgb(lab) if _model is None else _model().levels(lab)
    red, green, blue = (int(level) for level in found)
    return Color.from_rgb(red, green, blue)


def levels(lab: FloatArray) -> list[list[list[int]]]:
    """The screen's levels of a picture, Lab (h, w, 3)."""
    from drills.colour.spaces import screen_rgb

    found = screen_rgb(lab) if _model is None else _model().levels(lab)
    rows: list[list[list[int]]] = found.astype(int).tolist()
    return rows


def photo_levels(levels_srgb: LevelArray) -> list[list[list[int]]]:
    """The screen's levels of a photo's pixels (h, w, 3) in sRGB 0–255."""
    if _model is None:
        rows: list[list[list[int]]] = levels_srgb.tolist()
        return rows
    from drills.colour.spaces import srgb_to_lab

    return levels(srgb_to_lab(levels_srgb / 255))


@lru_cache(maxsize=256)
def cell_style(lab: Lab) -> Style:
    """The style whose background is this colour."""
    return Style(bgcolor=_colour(lab))


@lru_cache(maxsize=256)
def beyond_screen(lab: Lab) -> bool:
    """True where a screen can't show this colour, so that what is painted is the nearest it has."""
    from drills.colour.spaces import in_screen_gamut

    shown = in_screen_gamut(lab) if _model is None else _model().shows(lab)
    return not bool(shown)


def block(lab: Lab, width: int) -> Segment:
    """One row of a swatch."""
    return Segment(" " * width, cell_style(lab))


@lru_cache(maxsize=32)
def grain_rows(
    grain: tuple[tuple[float, Lab], ...], width: int, height: int
) -> list[list[Segment]]:
    """A swatch with its grain, two half cells a cell: each part has its share of them.

    Where each stands is drawn by lot, the same each time.
    """
    from random import Random

    halves = 2 * width * height
    ends = [round(halves * sum(share for share, _ in grain[: at + 1])) for at in range(len(grain))]
    colours = [_colour(lab) for _, lab in grain]
    counts = [end - begin for begin, end in zip([0, *ends], ends, strict=False)]
    lots = [colour for colour, count in zip(colours, counts, strict=True) for _ in range(count)]
    Random(0).shuffle(lots)
    rows = []
    for row in range(height):
        at = 2 * row * width
        pairs = zip(lots[at : at + width], lots[at + width : at + 2 * width], strict=True)
        rows.append([Segment("▀", Style(color=top, bgcolor=below)) for top, below in pairs])
    return rows


def swatch_row(swatch: Swatch, width: int, row: int, height: int) -> list[Segment]:
    """One row of a swatch ``width`` × ``height`` cells, inside its surround if it has one."""
    if swatch.grain:
        return grain_rows(swatch.grain, width, height)[row]
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


def shortened(words: str, width: int) -> str:
    """Words in at most ``width`` cells, cut in the middle: moves differ at both ends."""
    from rich.cells import cell_len, chop_cells, set_cell_size

    if cell_len(words) <= width:
        return words
    tail = chop_cells(words[::-1], max(1, width // 2))[0][::-1]
    return f"{set_cell_size(words, width - cell_len(tail) - 1).rstrip()}…{tail}"


def wrapped(words: str, width: int) -> list[str]:
    """Words broken at spaces into lines of at most ``width`` cells; a longer word is broken too."""
    from rich.cells import cell_len, chop_cells

    lines = [""]
    for word in words.split():
        joined = f"{lines[-1]} {word}".lstrip()
        if cell_len(joined) <= width:
            lines[-1] = joined
            continue
        lines.extend(chop_cells(word, width))
    return lines if lines[0] or len(lines) == 1 else lines[1:]
