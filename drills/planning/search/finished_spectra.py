"""The spectra of finished swatches."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import as_arrays, extend, start
from drills.layering.sheet import reflectance


def finished(palette: Palette, recipes: Sequence[Sequence[Move]]) -> FloatArray:
    """Reflectance (len(recipes), 31) of the finished swatches."""
    out = np.empty((len(recipes), len(palette.paper.reflectance)))
    for length in {len(moves) for moves in recipes}:
        places = [i for i, moves in enumerate(recipes) if len(moves) == length]
        pencil, pressure, action = as_arrays([recipes[i] for i in places])
        sheet = start(palette, len(places))
        for at in range(length):
            sheet = extend(palette, sheet, pencil[:, at], pressure[:, at], action[:, at])
        out[places] = reflectance(sheet)
    return out
