"""A picture as a value study: its lights and darks in a few greys."""

from __future__ import annotations

from typing import Final

import numpy as np

from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray
from drills.colour.munsell import coordinates_to_lab, munsell_value

COUNTS: Final = (3, 5, 7)
DARKEST, LIGHTEST = 2.0, 9.5
"""Munsell values from a black pencil pressed firmly to bare paper (common practice, no source)."""


def value_study(copy: FloatArray, count: int) -> FloatArray:
    """Lab (h, w, 3) of a picture's copy, Lab (h, w, 3), in ``count`` greys (3, 5 or 7).

    The greys stand at equal steps of Munsell value, and each pixel becomes the nearest in
    value, whatever its hue. Raises InputError for another number.
    """
    if count not in COUNTS:
        raise InputError("greys", f"{count} is not one of 3, 5 and 7", "Give one of those.")
    values = np.linspace(DARKEST, LIGHTEST, count)
    own = munsell_value(copy.reshape(-1, 3))
    middles = (values[1:] + values[:-1]) / 2
    greys = coordinates_to_lab(np.zeros(count), values, np.zeros(count))
    study: FloatArray = greys[np.searchsorted(middles, own)].reshape(copy.shape)
    return study
