"""What a view shows, with the light taken off where that is known."""

from __future__ import annotations

import numpy as np

from drills.colour.spaces import screen_rgb, srgb_to_xyz, xyz_to_lab
from drills.pictures.picture import LevelArray, Picture
from drills.pictures.spot import Correction
from drills.pictures.view import View


def relit(picture: Picture, view: View, light: Correction | None = None) -> LevelArray:
    """The pixels (h, w, 3) that a view shows, in sRGB 0–255."""
    wide, high = view.shown
    levels = picture.fitted(wide, high, view.box)
    if light is None:
        return levels
    left, top, right, bottom = view.box
    across = left + (np.arange(wide) + 0.5) * (right - left) / wide
    down = top + (np.arange(high) + 0.5) * (bottom - top) / high
    at = np.stack(np.meshgrid(across, down), -1)
    shown = screen_rgb(xyz_to_lab(light.corrected(srgb_to_xyz(levels / 255), at)))
    return shown.astype(np.uint8)
