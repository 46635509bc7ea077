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

# C*ab for one step of Munsell chroma, by lightness L* (rows) and at each family's centre,
# yellow first: the median over the renotation within half a wheel step, chroma 1-14, at
# values 0.5, 1, 2 ... 9, 9.7 (tested). C*ab alone would call every lemon bright and no
# turquoise; one row for all would call pastels duller than they are.
_LIGHTNESS = np.array([5.1, 10.4, 20.2, 30.4, 40.8, 51.0, 61.1, 70.9, 80.6, 90.2, 97.1])
_CAB_PER_CHROMA = np.array(
    [
        [5.70, 6.95, 6.62, 5.95, 6.52, 5.43, 5.36, 5.13, 4.95, 4.93, 4.44, 4.78],
        [5.64, 6.07, 6.09, 6.68, 5.52, 4.87, 4.92, 4.88, 4.88, 5.15, 4.98, 4.86],
        [6.18, 6.04, 6.02, 5.84, 5.24, 4.66, 4.61, 4.64, 4.63, 4.80, 4.76, 5.40],
        [6.61, 6.49, 6.25, 6.05, 5.59, 4.93, 4.82, 4.79, 4.93, 5.17, 5.17, 6.02],
        [7.03, 6.72, 6.29, 5.96, 5.20, 4.60, 4.43, 4.33, 4.54, 5.29, 5.53, 6.53],
        [7.13, 6.72, 6.20, 5.68, 4.79, 4.24, 4.13, 4.05, 4.33, 5.18, 5.51, 6.65],
        [7.23, 6.67, 6.14, 5.55, 4.57, 4.01, 3.96, 3.92, 4.20, 5.25, 5.66, 6.83],
        [7.23, 6.64, 6.06, 5.41, 4.47, 3.95, 3.79, 3.80, 4.22, 5.18, 5.68, 6.90],
        [7.31, 6.63, 6.06, 5.44, 4.55, 3.92, 3.82, 3.89, 4.40, 5.31, 5.86, 7.01],
        [7.60, 6.91, 6.19, 5.63, 4.68, 4.24, 4.09, 4.03, 4.57, 5.73, 6.31, 7.39],
        [7.78, 6.97, 6.38, 5.84, 4.96, 4.41, 4.25, 4.17, 4.64, 5.94, 6.67, 7.71],
    ]
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

    Within 8 % for two colours in three of the renotation, at any value but about 1.5 (15 %);
    cheap, where the notation itself is not. The words that follow are the renotation's own for
    about six colours in seven, and the neighbouring word for the rest.
    """
    lch = lab_to_lch(lab)
    return strength_at(lch[..., 1], wheel_position(lab), lch[..., 0])


def strength_at(cab: ArrayLike, position: ArrayLike, lightness: ArrayLike) -> FloatArray:
    """``strength`` of colours whose C*ab, place on the wheel and L* are known."""
    place = np.asarray(position, np.float64) % 12
    rows = np.arange(len(_LIGHTNESS), dtype=np.float64)
    row = np.interp(np.asarray(lightness, np.float64), _LIGHTNESS, rows)
    above = np.minimum(row.astype(int), len(_LIGHTNESS) - 2)
    left = np.minimum(place.astype(int), 11)
    right, down, along = (left + 1) % 12, row - above, place - left
    table = _CAB_PER_CHROMA
    upper = table[above, left] * (1 - along) + table[above, right] * along
    lower = table[above + 1, left] * (1 - along) + table[above + 1, right] * along
    about: FloatArray = np.asarray(cab, np.float64) / (upper * (1 - down) + lower * down)
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
