"""A picture's embedded colour profile (ICC.1:2022), followed by littleCMS.

Relative colorimetric intent, so that the paper white of the profile is white and all that a
screen can show stays as it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

import numpy as np

from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageCms import ImageCmsTransform

MOST_BYTES = 8_000_000
"""Of a profile; those of printing presses come to three million."""


@dataclass(frozen=True, eq=False)
class Profile:
    """The way of a profile to sRGB with 8 bits, and to Lab under D50."""

    screen: ImageCmsTransform
    lab: ImageCmsTransform

    def to_screen(self, image: Image) -> Image:
        """The same picture in sRGB; what lies outside it is clipped."""
        from PIL.ImageCms import applyTransform

        shown = applyTransform(image, self.screen)
        assert shown is not None
        return shown

    def to_lab(self, image: Image) -> FloatArray:
        """Lab (h, w, 3) of the picture, in steps of 100/255 for L* and 1 for a* and b*."""
        from PIL.ImageCms import applyTransform

        found = applyTransform(image, self.lab)
        assert found is not None
        bytes_ = np.asarray(found)
        lab = bytes_.view(np.int8).astype(np.float64)
        lab[..., 0] = bytes_[..., 0] * (100 / 255)
        return lab


def read_profile(data: bytes, mode: str, where: str) -> Profile | None:
    """The profile for pixels of ``mode`` (RGB, L or CMYK); None where it is sRGB's own.

    Raises InputError where it can't be read or is for pixels of another kind.
    """
    from PIL import Image, ImageCms

    remedy = "Save a copy of the picture as sRGB."
    if len(data) > MOST_BYTES:
        raise InputError(where, f"its colour profile is too big ({len(data):,} bytes)", remedy)
    try:
        given = ImageCms.ImageCmsProfile(BytesIO(data))
        space = str(given.profile.xcolor_space).strip()
        usual = {"RGB": "RGB", "GRAY": "L", "CMYK": "CMYK"}.get(space)
        if usual != mode:
            raise InputError(where, "its colour profile is for other pixels", remedy)
        intent = ImageCms.Intent.RELATIVE_COLORIMETRIC
        screen = ImageCms.buildTransform(
            given, ImageCms.createProfile("sRGB"), mode, "RGB", renderingIntent=intent
        )
        lab = ImageCms.buildTransform(
            given, ImageCms.createProfile("LAB"), mode, "LAB", renderingIntent=intent
        )
    except InputError:
        raise
    except Exception:
        # littleCMS by way of Pillow raises whatever the bytes of a stranger led to.
        raise InputError(where, "its colour profile can't be read", remedy) from None
    found = Profile(screen, lab)
    if mode == "RGB":
        steps = np.arange(0, 256, 51, dtype=np.uint8)
        cube = np.stack(np.meshgrid(steps, steps, steps), -1).reshape(1, -1, 3)
        shown = np.asarray(found.to_screen(Image.fromarray(cube))).astype(int)
        if np.abs(shown - cube).max() <= 1:
            return None
    return found
