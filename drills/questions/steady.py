"""Colours that read the same on a screen that nobody has measured."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.data.tables import FloatArray
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.munsell import munsell_value
from drills.colour.words import NEUTRAL_BELOW, strength, value_word
from drills.layering.palette import Palette
from drills.questions.draw import BoolArray, IntArray, ShownPool, colours_of, shown_pool
from drills.questions.protocol import CannotAskError
from drills.screen.unmeasured import keeps_name

_BANDS = ("dark", "middle", "light")


def steady(palette: Palette, labs: ArrayLike) -> BoolArray:
    """Which colours (n, 3) the palette's screen, as far as it is known, shows in the family they
    are of, or as greys in their band of value; (n,)."""
    given = np.asarray(labs, dtype=np.float64).reshape(-1, 3)
    if palette.screen_known is True:
        return np.ones(len(given), dtype=np.bool_)
    return keeps_name(given, _regions, palette.screen_known)


@lru_cache(maxsize=8)
def steady_pool(palette: Palette) -> BoolArray:
    """``steady`` of all that drills may show of a palette (``shown_pool``)."""
    return steady(palette, shown_pool(palette).lab)


def steady_colours_of(palette: Palette, region: str) -> tuple[ShownPool, IntArray]:
    """``colours_of`` a region, those that are ``steady``. Raises CannotAskError for none."""
    pool, mine = colours_of(palette, region)
    mine = mine[steady_pool(palette)[mine]]
    if not mine.size:
        raise CannotAskError(f"an unmeasured screen may show any {region} as another")
    return pool, mine


def hold_steady(palette: Palette, lab: ArrayLike) -> None:
    """Raise CannotAskError for a colour (3,) that isn't ``steady``."""
    if not steady(palette, lab)[0]:
        raise CannotAskError("a screen that nobody has measured may show it as another colour")


def _regions(lab: FloatArray) -> NDArray[np.int64]:
    """The region of each colour (n, 3) as a number: families, then bands of grey."""
    found = np.asarray(family_at(wheel_position(lab)), dtype=np.int64).copy()
    for at in np.flatnonzero(strength(lab) < NEUTRAL_BELOW):
        band = value_word(float(munsell_value(lab[at])))
        found[at] = len(FAMILIES) + _BANDS.index(band)
    return found
