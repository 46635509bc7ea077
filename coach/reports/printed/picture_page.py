"""Pencils for a picture, to print: the picture, what they make of it, its values, and each colour.

Neutral but for the pictures and swatches.
"""

from __future__ import annotations

from io import BytesIO

import numpy as np

from coach.reports.picture_words import layer_words, one_more_words, summary
from coach.reports.printed.drawing import Drawing
from coach.reports.printed.flow import MARGIN, Flow, height_of
from coach.reports.printed.plan_page import PRINTS_AS_IT_MAY
from drills.basics.errors import plain
from drills.colour.data.tables import FloatArray
from drills.colour.reading import read_colour
from drills.colour.spaces import hex_of, screen_rgb
from drills.layering.palette import Palette
from drills.pictures.greys import value_study
from drills.planning.for_picture.outcome import as_drawn
from drills.planning.for_picture.pencils_for import PencilsFor, Reached
from drills.sheets.layout import Size

_GAP = 4.0
_TALLEST = 80.0
_SWATCH, _TEXT = 22.0, 2.9


def picture_pages(
    palette: Palette, found: PencilsFor, copy: FloatArray, greys: int, size: Size
) -> list[Drawing]:
    """The pages; ``copy`` is the picture as Lab (h, w, 3), ``greys`` 3, 5 or 7."""
    flow = Flow(size)
    flow.lines(MARGIN, flow.width, "Pencils for a picture", 5.5, bold=True)
    flow.lines(MARGIN, flow.width, summary(palette, found), _TEXT)
    flow.y += 3.0
    _pictures(flow, copy, found, greys)
    flow.lines(MARGIN, flow.width, "Pencils to take out", 3.4, bold=True)
    names = "; ".join(plain(palette.names[place]) for place in found.pencils)
    flow.lines(MARGIN, flow.width, f"{names}.", _TEXT)
    flow.y += 3.0
    flow.lines(MARGIN, flow.width, "Its main colours, and what to lay for each", 3.4, bold=True)
    flow.y += 1.0
    for one in found.reached:
        _colour(flow, palette, one)
    flow.lines(MARGIN, flow.width, one_more_words(palette, found), _TEXT)
    flow.feet(PRINTS_AS_IT_MAY)
    return flow.pages


def _pictures(flow: Flow, copy: FloatArray, found: PencilsFor, greys: int) -> None:
    """Two beside each other, and the value study large below."""
    drawn, study = as_drawn(copy, found.layers), value_study(copy, greys)
    half = (flow.width - _GAP) / 2
    wide, tall = _size(copy, half, _TALLEST)
    flow.room(tall + 6.0)
    for at, (lab, said) in enumerate(((copy, "the picture"), (drawn, "with these pencils"))):
        x = MARGIN + at * (half + _GAP)
        flow.page.picture(x, flow.y, wide, tall, png_of(lab))
        flow.page.text(x, flow.y + tall + 3.5, said, 2.6, faint=True)
    flow.y += tall + 6.0
    wide, tall = _size(copy, half, _TALLEST)
    flow.room(tall + 8.0)
    flow.page.picture(MARGIN, flow.y, wide, tall, png_of(study))
    words = f"its values in {greys} greys, from Munsell value 2 to bare paper"
    flow.page.text(MARGIN, flow.y + tall + 3.5, words, 2.6, faint=True)
    flow.page.box(MARGIN + half + _GAP, flow.y, wide, tall)
    flow.page.text(MARGIN + half + _GAP, flow.y + tall + 3.5, "yours", 2.6, faint=True)
    flow.y += tall + 8.0


def _colour(flow: Flow, palette: Palette, one: Reached) -> None:
    x = MARGIN + 2 * (_SWATCH + 1.0) + _SWATCH + 3.0
    wide = flow.size.width - MARGIN - x
    words = f"{hex_of(one.colour.lab)}, {one.colour.share:.1%}. {layer_words(palette, one)}"
    reading = read_colour(one.colour.lab).sentence()
    tall = max(12.0, height_of(words, wide, _TEXT) + height_of(reading, wide, _TEXT) + 2.0)
    flow.room(tall)
    top = flow.y
    for at, lab in enumerate((one.colour.lab, one.lab)):
        flow.page.box(MARGIN + at * (_SWATCH + 1.0), top, _SWATCH, 10.0, hex_of(lab))
    flow.page.box(MARGIN + 2 * (_SWATCH + 1.0), top, _SWATCH, 10.0)
    flow.lines(x, wide, reading, _TEXT)
    flow.lines(x, wide, words, _TEXT)
    flow.y = max(flow.y, top + 10.0) + 2.0


def _size(copy: FloatArray, wide: float, tall: float) -> tuple[float, float]:
    """Width and height in mm that keep the picture's shape within these."""
    height, width = copy.shape[:2]
    scale = min(wide / width, tall / height)
    return width * scale, height * scale


def png_of(lab: FloatArray) -> bytes:
    """A PNG of Lab (h, w, 3), and nothing else in it."""
    from PIL.Image import fromarray

    out = BytesIO()
    fromarray(screen_rgb(lab).astype(np.uint8)).save(out, "PNG", optimize=True)
    return out.getvalue()
