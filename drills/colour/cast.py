"""A tinted light: what it makes of a colour, and how much of that an eye takes off again.

A light is a mixture of the shipped illuminants, or daylight that a coloured
cloth has let through. Under it a reflectance sends XYZ to the eye; an eye that
is not adapted takes them at their word, as if seen beside daylight (D50). An eye
adapted to degree D takes part of the cast off: von Kries gains on the cones of
CAT16 (Li et al. 2017; CIE 248:2022), in one step as Zhai & Luo (2018) write it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from drills.colour.data.tables import WAVELENGTHS_NM, FloatArray, weights, white
from drills.colour.hue import CAT16
from drills.colour.spaces import in_screen_gamut, lab_to_xyz, xyz_to_lab

_TO_CONES: FloatArray = CAT16.T
_FROM_CONES: FloatArray = np.asarray(np.linalg.inv(CAT16).T)


@dataclass(frozen=True, eq=False)
class Light:
    """A light: its name in an artist's words, and tristimulus ``weights`` (31, 3), Y = 100."""

    words: str
    weights: FloatArray

    @property
    def white(self) -> FloatArray:
        """XYZ (3,) of the perfect diffuser in this light."""
        total: FloatArray = self.weights.sum(axis=0)
        return total


def mixed_light(words: str, shares: dict[str, float], cloth: ArrayLike | None = None) -> Light:
    """Illuminants mixed by their ``shares`` of the luminance, through a ``cloth`` (31,) if given.

    Light adds, so the weights of a mixture are the mixture of the weights (each
    has Y = 100). A cloth multiplies them by its own transmittance, 0–1.
    """
    total = np.zeros((31, 3))
    for name, share in shares.items():
        total = total + share * weights(name)
    if cloth is not None:
        total = total * np.asarray(cloth, dtype=np.float64)[:, None]
    return Light(words, total * (100.0 / total[:, 1].sum()))


@lru_cache(maxsize=1)
def lights() -> tuple[Light, ...]:
    """The lights asked about. Lamps are CIE illuminants; the awnings' cloths are invented."""
    return (
        mixed_light("the light of a warm lamp", {"A": 1.0}),
        mixed_light("the light of a white LED lamp", {"LED-B3": 1.0}),
        mixed_light("lamplight and window light mixed", {"A": 0.5, "D50": 0.5}),
        mixed_light("cool light from the sky", {"D65": 1.0}),
        mixed_light("blue evening light", {"D65": 1.0}, _band(455.0, 70.0, 0.5, 1.0)),
        mixed_light("daylight under a green awning", {"D50": 1.0}, _band(535.0, 45.0, 0.45, 1.0)),
        mixed_light("daylight under a rose awning", {"D50": 1.0}, _band(525.0, 45.0, 1.0, 0.5)),
    )


def _band(centre_nm: float, wide_nm: float, least: float, most: float) -> FloatArray:
    """A smooth transmittance (31,) of an invented cloth: a bell from ``least`` up to ``most``."""
    bell: FloatArray = np.exp(-(((WAVELENGTHS_NM - centre_nm) / wide_nm) ** 2))
    return least + (most - least) * bell


def unadapted_lab(xyz: ArrayLike, exposure: float = 1.0) -> FloatArray:
    """Lab (..., 3) of XYZ (..., 3) taken at their word, dimmed to ``exposure`` (0–1)."""
    return xyz_to_lab(exposure * np.asarray(xyz, dtype=np.float64))


def adapted_lab(xyz: ArrayLike, light: Light, degree: ArrayLike) -> FloatArray:
    """Lab (..., 3) under D50 of XYZ (..., 3) in ``light``, to an eye adapted to degree D.

    ``degree`` is a number 0–1 or broadcasts against XYZ without its last axis: 0
    takes the XYZ at their word, 1 takes the whole cast off.
    """
    given, D = np.asarray(xyz, dtype=np.float64), np.asarray(degree, dtype=np.float64)[..., None]
    gains = (CAT16 @ white("D50")) / (CAT16 @ light.white)
    cones = (given @ _TO_CONES) * (D * gains + 1.0 - D)
    return xyz_to_lab(cones @ _FROM_CONES)


def cast_on(xyz: ArrayLike, light: Light) -> FloatArray:
    """The XYZ (..., 3) in ``light`` that a fully adapted eye takes for these XYZ under D50.

    The inverse of the whole adaptation: what a colour known only by its looks
    would come to, where no spectrum of it is at hand.
    """
    losses = (CAT16 @ light.white) / (CAT16 @ white("D50"))
    cast: FloatArray = ((np.asarray(xyz, np.float64) @ _TO_CONES) * losses) @ _FROM_CONES
    return cast


def without_cast(labs: ArrayLike, paper: ArrayLike) -> FloatArray:
    """Lab (n, 3) as an eye sees them that takes ``paper`` (3,), shown beside them, for white."""
    cones = lab_to_xyz(np.asarray(labs, np.float64)) @ _TO_CONES
    gains = (CAT16 @ white("D50")) / (CAT16 @ lab_to_xyz(np.asarray(paper, np.float64)))
    return xyz_to_lab((cones * gains) @ _FROM_CONES)


def fitting_exposure(xyz: ArrayLike, room: float = 0.97) -> float:
    """How far a light must be dimmed for a screen to show XYZ (3,) in it, at most to 1.

    ``room`` is what is kept of that, so that nothing lies on the very edge.
    """
    low, high = 0.0, 1.0 / room
    for _ in range(24):
        middle = 0.5 * (low + high)
        if bool(in_screen_gamut(unadapted_lab(xyz, middle))):
            low = middle
        else:
            high = middle
    return room * low
