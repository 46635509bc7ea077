"""Two swatches that a screen shows just so far apart: a difference as what it is."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.difference import delta_e00
from drills.colour.hue import wheel_position, wheel_steps
from drills.colour.spaces import lab_to_lch, lch_to_lab, screen_rgb, srgb_to_lab
from drills.questions.draw import as_lab
from drills.questions.protocol import Lab

FloatArray = NDArray[np.float64]

NEAR = 0.05
"""Share of a difference by which what the screen's 8 bits show may miss it."""
STRAY = 0.4
"""Share of a pair's distance in Lab by which it may point another way than meant."""
_LIGHTER = np.arange(-10.0, 10.1, 1.0)
_NEIGHBOURS = np.array(list(itertools.product((-1, 0, 1), repeat=3)))


@dataclass(frozen=True)
class Apart:
    """Two colours as 8 bits show them (D50 Lab), and how far apart they are in their unit."""

    first: Lab
    second: Lab
    difference: float


@dataclass(frozen=True)
class _Way:
    """From ``middle`` (L*, C*, h in degrees) a pair goes half a step ``along`` to either side.

    ``lean`` moves the middle as the pair grows, so that one of a pair can be a neutral.
    """

    middle: tuple[float, float, float]
    along: tuple[float, float, float]
    measure: Callable[[ArrayLike, ArrayLike], FloatArray]
    widest: float
    lean: float = 0.0


def _value(first: ArrayLike, second: ArrayLike) -> FloatArray:
    apart: FloatArray = np.abs(np.asarray(second)[..., 0] - np.asarray(first)[..., 0])
    return apart


def _chroma(first: ArrayLike, second: ArrayLike) -> FloatArray:
    return np.abs(lab_to_lch(second)[..., 1] - lab_to_lch(first)[..., 1])


def _hue(first: ArrayLike, second: ArrayLike) -> FloatArray:
    return wheel_steps(wheel_position(first), wheel_position(second))


_WAYS = {
    "ΔL*": _Way((58.0, 0.0, 0.0), (1.0, 0.0, 0.0), _value, 60.0),
    "ΔC*": _Way((55.0, 32.0, 40.0), (0.0, 1.0, 0.0), _chroma, 40.0),
    "C*ab": _Way((60.0, 0.0, 60.0), (0.0, 1.0, 0.0), _chroma, 20.0, lean=0.5),
    "ΔE00": _Way((58.0, 28.0, 150.0), (0.6, 0.0, -1.6), delta_e00, 40.0),
    "wheel steps": _Way((60.0, 40.0, 50.0), (0.0, 0.0, 1.0), _hue, 60.0),
}
"""By the unit of a kind. What the pairs are made from is our choice; how far apart is measured."""


UNITS = frozenset(_WAYS)
"""Units that are a difference between two colours."""


@lru_cache(maxsize=64)
def pair_apart(difference: float, unit: str) -> Apart | None:
    """The pair of 8-bit colours that lies ``difference`` apart, as ``unit`` measures it.

    None where the unit is no difference between two colours, or where 8 bits show none
    within ``NEAR`` of it: too fine for the screen, or wider than the pairs go.
    """
    way = _WAYS.get(unit)
    if way is None or not difference > 0.0:
        return None
    low, high = 0.0, way.widest
    if float(way.measure(*_ends(way, high))) < difference:
        return None
    for _ in range(50):
        step = (low + high) / 2
        low, high = (
            (step, high) if float(way.measure(*_ends(way, step))) < difference else (low, step)
        )
    best, least = None, np.inf
    for lighter in _LIGHTER:
        first, second = (end + np.array([lighter, 0.0, 0.0]) for end in _ends(way, high))
        pair, score = _nearest(way, first, second, difference)
        if score < least:
            best, least = pair, score
    return best


def _nearest(
    way: _Way, first: FloatArray, second: FloatArray, difference: float
) -> tuple[Apart | None, float]:
    """Of the 8-bit colours next to both ends, the pair that is nearest, and how near it is."""
    one, other = _shown(first), _shown(second)
    found = way.measure(one[:, None], other[None, :])
    meant = second - first
    off = other[None, :] - one[:, None] - meant
    stray = np.linalg.norm(off, axis=-1) / np.linalg.norm(meant)
    miss = np.abs(found - difference) / difference
    score = np.where((miss <= NEAR) & (stray <= STRAY), miss + 0.2 * stray, np.inf)
    a, b = np.unravel_index(int(np.argmin(score)), score.shape)
    pair = Apart(as_lab(one[a]), as_lab(other[b]), float(found[a, b]))
    return pair, float(score[a, b])


def _ends(way: _Way, step: float) -> tuple[FloatArray, FloatArray]:
    """Both ends of a pair, Lab, before 8 bits."""
    middle, along = np.array(way.middle), np.array(way.along)
    half = 0.5 * step * along
    centre = middle + way.lean * step * along
    return lch_to_lab(centre - half), lch_to_lab(centre + half)


def _shown(lab: FloatArray) -> FloatArray:
    """The 8-bit colours next to a Lab, as Lab (27, 3)."""
    return srgb_to_lab((screen_rgb(lab) + _NEIGHBOURS) / 255)
