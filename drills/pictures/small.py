"""A picture made small enough to send: its pixels alone, in sRGB, as a JPEG."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import TYPE_CHECKING

from drills.basics.errors import InputError
from drills.pictures.picture import Picture

if TYPE_CHECKING:
    from PIL.Image import Image

Mark = tuple[float, float, str]
"""A place in shares of the picture's width and height, 0–1, and what is written beside it."""
_RING = 0.016
"""A mark's radius as a share of the longer side."""


def small_jpeg(
    picture: Picture,
    longest_sides: Sequence[int],
    qualities: Sequence[int],
    most_bytes: int,
    marks: Sequence[Mark] = (),
) -> bytes:
    """The largest and best of these that has at most ``most_bytes``; nothing of the file is kept.

    ``longest_sides`` (pixels) and ``qualities`` (Pillow's, 1–95) are tried in their order, every
    quality of a size before the next size. A picture is never made larger. ``marks`` are ringed
    in black and white, the place itself left as it is. Raises InputError where none is small
    enough.
    """
    from PIL import Image

    for longest in longest_sides:
        shrink = min(1.0, longest / max(picture.width, picture.height))
        wide, high = (max(1, round(side * shrink)) for side in (picture.width, picture.height))
        small = Image.fromarray(picture.fitted(wide, high))
        _ring(small, marks)
        for quality in qualities:
            out = BytesIO()
            # No colour is left out between pixels: colours are what is looked at.
            small.save(out, "JPEG", quality=quality, subsampling=0, optimize=True)
            if out.tell() <= most_bytes:
                return out.getvalue()
    raise InputError(picture.name, "it can't be made small enough", "Give a plainer picture.")


def _ring(small: Image, marks: Sequence[Mark]) -> None:
    from PIL import ImageDraw

    pen = ImageDraw.Draw(small)
    radius = max(8.0, _RING * max(small.size))
    for across, down, words in marks:
        x, y = across * small.width, down * small.height
        for out, grey in ((2.0, 0), (1.0, 255), (0.0, 0)):
            r = radius + out
            pen.ellipse((x - r, y - r, x + r, y + r), outline=(grey, grey, grey))
        size = max(10.0, 2.2 * radius)
        # Within the picture, and beside the ring rather than in it.
        right = x + 2.5 * radius + size * len(words) < small.width
        place = (x + 1.6 * radius if right else x - 1.6 * radius - 0.6 * size * len(words), y)
        pen.text(
            place, words, (255, 255, 255), anchor="lm", font_size=size, stroke_width=2,
            stroke_fill=(0, 0, 0),
        )  # fmt: skip
