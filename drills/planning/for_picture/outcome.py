"""A picture as it would come out: each of its colours made as near as the pencils can."""

from __future__ import annotations

import numpy as np

from drills.colour.data.tables import FloatArray
from drills.colour.hue import cam16_ucs
from drills.planning.for_picture.recipe_lists import Layers

_CELL = 2.0  # ΔE*ab; colours nearer than this are made alike
_AT_ONCE = 500


def as_drawn(copy: FloatArray, layers: Layers) -> FloatArray:
    """Lab (h, w, 3) of a picture's copy, Lab (h, w, 3), in what these layers make.

    Nearest in CAM16-UCS. Of the drawing's grain and edges nothing is known here.
    """
    pixels = copy.reshape(-1, 3)
    cells, of = np.unique(np.rint(pixels / _CELL), axis=0, return_inverse=True)
    wanted, made = cam16_ucs(cells * _CELL), cam16_ucs(layers.lab)
    length = (made**2).sum(axis=1)
    nearest = np.concatenate(
        [
            np.argmin(length - 2 * (wanted[at : at + _AT_ONCE] @ made.T), axis=1)
            for at in range(0, len(wanted), _AT_ONCE)
        ]
    )
    drawn: FloatArray = layers.lab[nearest][of.reshape(-1)].reshape(copy.shape)
    return drawn
