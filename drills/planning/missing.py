"""Out of reach: how far, in which direction, and which kind of pencil would close it best."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.reading import describe_difference
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.planning.limits import Limits
from drills.planning.plan import Missing


def what_is_missing(
    palette: Palette,
    places: np.ndarray,
    limits: Limits,
    moves: Sequence[Move],
    reached: FloatArray,
    target: FloatArray,
) -> Missing:
    """What the target is that the nearest swatch is not."""
    off = describe_difference(reached, target)
    return Missing(float(delta_e00(reached, target)), off, f"The target is {off}.")
