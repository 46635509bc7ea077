"""How colours look to an eye whose cones differ, and which hue families it can't tell apart.

The model is Machado, Oliveira & Fernandes (2009), "A physiologically-based model
for simulation of color vision deficiency", IEEE TVCG 15(6), 1291–1298: for each
kind a 3×3 matrix on linear sRGB; here at full severity, their published table.
It serves to withhold questions that can't be judged, and diagnoses nobody.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from drills.colour.data.tables import FloatArray
from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES
from drills.colour.spaces import lab_to_srgb, srgb_to_lab
from drills.colour.turn import turned

Vision = Literal["usual", "red-weak", "green-weak", "blue-weak"]
"""The trade's plain words for usual trichromacy, protan, deutan and tritan eyes."""

# Machado et al. 2009, severity 1.0 (checked against the reference library in the tests).
_MATRICES: dict[str, FloatArray] = {
    "red-weak": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "green-weak": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "blue-weak": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}

SAMPLE = (60.0, 40.0, 0.0)
"""A middling colour (Lab) turned round the wheel to try each family."""
APART = 5.0
"""ΔE00 between neighbouring families under which they pass for one; our estimate."""


def as_seen(lab: ArrayLike, vision: Vision) -> FloatArray:
    """Lab (..., 3) of colours as such an eye sees them; unchanged for usual vision."""
    given = np.asarray(lab, dtype=np.float64)
    if vision == "usual":
        return given
    linear = _linear(np.clip(lab_to_srgb(given), 0.0, 1.0)) @ _MATRICES[vision].T
    seen: FloatArray = srgb_to_lab(_encoded(np.clip(linear, 0.0, 1.0)))
    return seen


def lost_families(vision: Vision) -> tuple[str, ...]:
    """The families whose hue such an eye takes for a neighbour's, at one value and chroma."""
    if vision == "usual":
        return ()
    wheel = turned(np.array(SAMPLE), np.arange(float(len(FAMILIES))))
    seen = as_seen(wheel, vision)
    onward = delta_e00(seen, np.roll(seen, -1, axis=0))
    nearest = np.minimum(onward, np.roll(onward, 1))
    return tuple(name for name, apart in zip(FAMILIES, nearest, strict=True) if apart < APART)


def _linear(rgb: FloatArray) -> FloatArray:
    """IEC 61966-2-1 decoding."""
    return np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)


def _encoded(rgb: FloatArray) -> FloatArray:
    """IEC 61966-2-1 encoding."""
    return np.where(rgb <= 0.0031308, rgb * 12.92, 1.055 * rgb ** (1 / 2.4) - 0.055)
