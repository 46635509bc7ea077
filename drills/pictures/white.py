"""A true white: the cast of a picture's light taken off by points of bare paper or a grey card.

Each point says what the light (with camera and exposure) made of a surface that is known. The
gains that undo it, on the cones of CAT16 (Li et al. 2017; CIE 248:2022; one-step von Kries,
the eye wholly adapted), hold everywhere for one point. With more, the light is taken to fall
off smoothly: the logarithm of each gain is a plane over the picture, from six points up a
paraboloid, by least squares. Two points give the slope along the line between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray
from drills.colour.difference import delta_e00
from drills.colour.hue import CAT16
from drills.colour.spaces import Lab, lab_to_xyz, reflectance_to_lab, xyz_to_lab
from drills.pictures.spot import Spot

GREY_CARD: Final[Lab] = (49.5, 0.0, 0.0)
"""Lab of a card of 18 % reflectance (18 % is L* 49.5 by the formula; the card is common
practice, no source)."""
CURVED_FROM: Final = 6
"""Points from which the light may fall off in a curve."""
CHECKED_FROM: Final = 4
"""Points from which they say how far they agree."""
_DARKEST_L = 20.0
_TO_CONES: FloatArray = CAT16.T
_FROM_CONES: FloatArray = np.asarray(np.linalg.inv(CAT16).T)


@dataclass(frozen=True, eq=False)
class TrueWhite:
    """Log gains (t, 3) of the cones on the terms of x, y about ``middle``, in units of ``size``.

    ``residual`` is the greatest ΔE00 by which a point misses the known colour once corrected,
    ``left_out`` that by which one does when the light is learned from the others: None of fewer
    than four points, which a plane goes through whatever they show.
    """

    terms: FloatArray
    middle: FloatArray
    size: float
    residual: float
    left_out: float | None = None

    @property
    def even(self) -> bool:
        """Whether the light is taken as the same all over."""
        return len(self.terms) == 1

    @property
    def of_camera(self) -> bool:
        return False

    def corrected(self, xyz: FloatArray, at: FloatArray) -> FloatArray:
        """XYZ (..., 3) at x, y (..., 2) as it would be under D50 in even light."""
        place = _terms((np.asarray(at) - self.middle) / self.size, len(self.terms))
        seen: FloatArray = (np.asarray(xyz) @ _TO_CONES) * np.exp(place @ self.terms) @ _FROM_CONES
        return seen


def paper_lab() -> Lab:
    """Lab of white drawing paper as the films have it: what a paper point is taken for."""
    from drills.layering.paper import drawing_paper

    L, a, b = reflectance_to_lab(drawing_paper().reflectance).tolist()
    return (L, a, b)


def true_white(points: Sequence[Spot], known: Lab | None = None) -> TrueWhite:
    """The correction from points of one surface whose Lab is ``known`` (paper's unless given).

    Raises InputError for no points, for one at the scale's end, one too dark to be bare paper or
    a card, or one on an edge.
    """
    if not points:
        raise InputError("white", "no point is given", "Point at bare paper or a grey card.")
    for point in points:
        where = f"white at {point.x:g},{point.y:g}"
        remedy = "Point at bare paper or a grey card, neither in the shade nor glaring."
        if "clipped" in point.warnings:
            raise InputError(where, "overexposed: how bright it was isn't known", remedy)
        if point.lab[0] < _DARKEST_L:
            raise InputError(where, f"too dark for a white (L* {point.lab[0]:.0f})", remedy)
        if "uneven" in point.warnings:
            raise InputError(where, "uneven: an edge or a shadow lies in it", remedy)
    target = lab_to_xyz(paper_lab() if known is None else known)
    xyz = np.array([point.xyz for point in points])
    at = np.array([(point.x, point.y) for point in points])
    found = _fitted(xyz, at, target)
    left_out = None
    if len(points) >= CHECKED_FROM:
        kept = [np.arange(len(points)) != i for i in range(len(points))]
        left_out = max(
            _off(_fitted(xyz[others], at[others], target), xyz[~others], at[~others], target)
            for others in kept
        )
    return replace(found, residual=_off(found, xyz, at, target), left_out=left_out)


def _fitted(xyz: FloatArray, at: FloatArray, target: FloatArray) -> TrueWhite:
    """Through points (n, 3) at x, y (n, 2) that show ``target`` (3,)."""
    cones = np.maximum(xyz @ _TO_CONES, 1e-6)
    gains = np.log(target @ _TO_CONES / cones)
    middle = at.mean(axis=0)
    size = float(np.abs(at - middle).max()) or 1.0
    count = 1 if len(at) == 1 else 3 if len(at) < CURVED_FROM else 6
    place = _terms((at - middle) / size, count)
    # The least of all solutions where points don't settle it: flat across their line.
    terms = np.asarray(np.linalg.lstsq(place, gains, rcond=1e-9)[0], dtype=np.float64)
    return TrueWhite(terms, middle, size, 0.0)


def _off(found: TrueWhite, xyz: FloatArray, at: FloatArray, target: FloatArray) -> float:
    """The greatest ΔE00 that points miss ``target`` by once corrected."""
    left = delta_e00(xyz_to_lab(found.corrected(xyz, at)), xyz_to_lab(target))
    return float(left.max())


def _terms(place: FloatArray, count: int) -> FloatArray:
    """The terms (..., count) of a constant, a plane or a paraboloid at x, y (..., 2)."""
    x, y = place[..., 0], place[..., 1]
    terms: FloatArray = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)
    return terms[..., :count]
