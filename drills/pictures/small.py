"""A picture made small enough to send: its pixels alone, in sRGB, as a JPEG."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO

from drills.basics.errors import InputError
from drills.pictures.picture import Picture


def small_jpeg(
    picture: Picture, longest_sides: Sequence[int], qualities: Sequence[int], most_bytes: int
) -> bytes:
    """The largest and best of these that has at most ``most_bytes``; nothing of the file is kept.

    ``longest_sides`` (pixels) and ``qualities`` (Pillow's, 1–95) are tried in their order, every
    quality of a size before the next size. A picture is never made larger. Raises InputError
    where none is small enough.
    """
    from PIL import Image

    for longest in longest_sides:
        shrink = min(1.0, longest / max(picture.width, picture.height))
        wide, high = (max(1, round(side * shrink)) for side in (picture.width, picture.height))
        small = Image.fromarray(picture.fitted(wide, high))
        for quality in qualities:
            out = BytesIO()
            # No colour is left out between pixels: colours are what is looked at.
            small.save(out, "JPEG", quality=quality, subsampling=0, optimize=True)
            if out.tell() <= most_bytes:
                return out.getvalue()
    raise InputError(picture.name, "it can't be made small enough", "Give a plainer picture.")
