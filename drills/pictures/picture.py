"""A picture that was opened: its pixels alone, upright, in 8-bit sRGB when they are asked for.

Nothing else of the file is kept: neither place nor owner nor camera. The pixels stay as the
file has them, and only what is looked at goes through the colour profile: a screen takes
some thousands of them, a spot some hundreds.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.colour.spaces import lab_to_xyz, srgb_to_lab, srgb_to_xyz

if TYPE_CHECKING:
    from PIL.Image import Image

    from drills.pictures.profile import Profile

LevelArray = NDArray[np.uint8]

Box = tuple[int, int, int, int]
"""Left, top, right and bottom in pixels; right and bottom lie outside."""

_STRIP_PIXELS = 2_000_000
_BEYOND = 2.0
"""ΔE*ab by which Lab through the profile must differ from sRGB's before it is taken instead."""


@dataclass(frozen=True, eq=False)
class Picture:
    """The pixels of a picture, ``width`` × ``height``, x to the right and y down from 0.

    ``image`` is RGB with 8 bits a channel, in the colours of ``profile`` (sRGB where that is
    None). ``name`` is the file's, made plain; ``notes`` say what had to be assumed.
    """

    image: Image
    profile: Profile | None
    name: str
    notes: tuple[str, ...] = ()

    @property
    def width(self) -> int:
        return self.image.width

    @property
    def height(self) -> int:
        return self.image.height

    def holds(self, x: float, y: float) -> bool:
        """Whether the pixel that x, y falls in is one of the picture's."""
        return 0 <= x < self.width and 0 <= y < self.height

    def levels(self, box: Box | None = None) -> LevelArray:
        """The pixels (h, w, 3) of a box, or all of them, in sRGB 0–255."""
        part = self.image if box is None else self.image.crop(box)
        return np.asarray(part if self.profile is None else self.profile.to_screen(part))

    def fitted(
        self, width: int, height: int, box: tuple[float, float, float, float] | None = None
    ) -> LevelArray:
        """A box of the picture as (height, width, 3) in sRGB 0–255.

        Its pixels are averaged, or repeated where there are fewer than wanted.
        """
        from PIL.Image import Resampling

        # The gap has whole pixels averaged in blocks first, which is many times faster.
        part = self.image.resize((width, height), Resampling.BOX, box=box, reducing_gap=2.0)
        return np.asarray(part if self.profile is None else self.profile.to_screen(part))

    def strips(self) -> Iterator[LevelArray]:
        """All pixels as the file has them, in strips (h, w, 3) that are soon let go again."""
        rows = max(1, _STRIP_PIXELS // self.width)
        for top in range(0, self.height, rows):
            bottom = min(self.height, top + rows)
            yield np.asarray(self.image.crop((0, top, self.width, bottom)))

    def as_filed(self, box: Box) -> LevelArray:
        """The pixels (h, w, 3) of a box as the file has them, 0–255."""
        return np.asarray(self.image.crop(box))

    def xyz(self, filed: LevelArray) -> FloatArray:
        """XYZ (n, 3) under D50 of pixels (n, 3) that are as the file has them.

        What lies outside sRGB is kept as it is, to about half a unit of Lab: the profile's
        way to Lab has steps of that size, so it is taken there alone.
        """
        if self.profile is None:
            return srgb_to_xyz(filed / 255)
        from PIL import Image

        row = Image.fromarray(np.ascontiguousarray(filed[None]))
        shown = np.asarray(self.profile.to_screen(row))[0] / 255
        lab = self.profile.to_lab(row)[0]
        beyond = np.linalg.norm(lab - srgb_to_lab(shown), axis=-1) > _BEYOND
        return np.where(beyond[:, None], lab_to_xyz(lab), srgb_to_xyz(shown))
