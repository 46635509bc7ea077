"""What to aim at when a target is far brighter than any pencil: its hue and value.

ΔE00 is made for small differences. Across a great one it holds chroma so cheap that a
grey comes out as the nearest match for a fuchsia, which no artist would lay. So
where a target's chroma lies far beyond what the pencils could hold in its hue, the
search aims at that hue and lightness with the chroma they could. What is reported is
always the miss from the target itself.
"""

from __future__ import annotations

import numpy as np

from drills.colour.spaces import lab_to_lch, lch_to_lab
from drills.layering.films import FloatArray
from drills.layering.palette import Palette

BEYOND = 1.25
"""Times the pencils' chroma from which a target's counts as far beyond; our estimate."""


def aim(palette: Palette, target: FloatArray) -> FloatArray:
    """The Lab (3,) to search for: ``target`` (3,) itself unless it is far too bright."""
    L, C, h = lab_to_lch(target).tolist()
    held = chroma_held(palette, h)
    return lch_to_lab([L, held, h]) if C > BEYOND * held > 0.0 else target


def chroma_held(palette: Palette, hue_degrees: float) -> float:
    """The chroma (C*ab) at a hue on the line between two swatches, the greatest there is.

    Mixes of two pencils lie near the straight line between them or inside it.
    """
    a, b = palette.lab[palette.at_hand, 1], palette.lab[palette.at_hand, 2]
    angle = np.radians(hue_degrees)
    along = a * np.cos(angle) + b * np.sin(angle)
    across = b * np.cos(angle) - a * np.sin(angle)
    # Two swatches on opposite sides of the ray: where the line between them cuts it.
    gap = across[:, None] - across[None, :]
    opposite = across[:, None] * across[None, :] <= 0.0
    share = np.where(np.abs(gap) > 1e-9, across[:, None] / np.where(gap == 0.0, 1.0, gap), 0.0)
    cut = along[:, None] + share * (along[None, :] - along[:, None])
    return max(0.0, float(np.where(opposite, cut, 0.0).max(initial=0.0)))
