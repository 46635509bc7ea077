"""How far along is "dull"? The words for value, chroma and temperature, and where each begins.

Borders are common practice, no source, unless said otherwise; the numbers are
our estimate.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from drills.colour.data.tables import FloatArray
from drills.colour.hue import FAMILIES, wheel_position
from drills.colour.spaces import lab_to_lch

ValueWord = Literal["dark", "middle", "light"]
ChromaWord = Literal["grey", "greyed", "dull", "moderate", "bright", "very bright"]
Temperature = Literal["warm", "cool", "neither"]
LeanStrength = Literal["squarely", "slightly", "clearly", "strongly"]

# C*ab for one step of Munsell chroma at each family's centre: the mean over the
# real renotation colours of values 3–8 (tested). C*ab alone would call every
# lemon bright and no turquoise.
_CAB_PER_CHROMA = np.array(
    [7.04, 6.55, 6.16, 5.67, 4.89, 4.28, 4.30, 4.19, 4.45, 5.34, 5.57, 6.67, 7.04]
)

NEUTRAL_BELOW = 1.5
"""Strength under which a colour is called a grey.

The ISCC–NBS names (Kelly & Judd 1976, from memory) turn from greys to greyish
hues between Munsell chroma 1 and 2."""

HUELESS_BELOW = 1.0
"""C*ab under which a grey leans nowhere that an eye could tell: about one ΔE00."""

_CHROMA_WORDS: tuple[tuple[float, ChromaWord], ...] = (
    (NEUTRAL_BELOW, "grey"),
    (3.5, "greyed"),
    (6.0, "dull"),
    (9.0, "moderate"),
    (13.0, "bright"),
)
_DARK_BELOW, _LIGHT_FROM = 4.0, 7.0


def strength(lab: ArrayLike) -> FloatArray:
    """About the Munsell chroma, shape (...), of Lab (..., 3), from C*ab and the wheel.

    Within 10 % for two colours in three of the renotation; cheap, where the
    notation itself is not.
    """
    return strength_at(lab_to_lch(lab)[..., 1], wheel_position(lab))


def strength_at(cab: ArrayLike, position: ArrayLike) -> FloatArray:
    """``strength`` of colours whose C*ab and place on the wheel are known."""
    per_step = np.interp(np.asarray(position, np.float64), np.arange(13.0), _CAB_PER_CHROMA)
    about: FloatArray = np.asarray(np.asarray(cab, np.float64) / per_step)
    return about


def value_word(value: float) -> ValueWord:
    """Dark, middle or light, of Munsell value 0–10 as it is printed, to a tenth."""
    value = round(value, 1)
    if value < _DARK_BELOW:
        return "dark"
    return "light" if value >= _LIGHT_FROM else "middle"


def chroma_word(about_chroma: float) -> ChromaWord:
    """From grey to very bright, of ``strength``."""
    return next((word for below, word in _CHROMA_WORDS if about_chroma < below), "very bright")


def temperature(family: int) -> Temperature:
    """Warm from yellow to red, cool from violet to green; the two hinges are neither.

    Red-violet and yellow-green lie between the camps, and take their
    temperature from what stands beside them.
    """
    name = FAMILIES[family]
    if name in {"red-violet", "yellow-green"}:
        return "neither"
    return "warm" if family <= FAMILIES.index("red") else "cool"


def lean_strength(steps: float) -> LeanStrength:
    """How strongly a colour ``steps`` (0–0.5 wheel steps) off its family's centre leans."""
    if steps < 0.1:
        return "squarely"
    if steps < 0.25:
        return "slightly"
    return "clearly" if steps < 0.4 else "strongly"


def grey_lean_strength(cab: float) -> LeanStrength:
    """How strongly a grey of C*ab leans to its hue."""
    if cab < HUELESS_BELOW:
        return "squarely"
    if cab < 3.0:
        return "slightly"
    return "clearly" if cab < 5.5 else "strongly"
