"""A spot of a picture: its colour, sampled so that a speck or an edge doesn't turn it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, Protocol

import numpy as np
from numpy.typing import NDArray

from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray
from drills.colour.difference import delta_e00
from drills.colour.spaces import Lab, in_screen_gamut, xyz_to_lab
from drills.pictures.picture import Picture

Doubt = Literal["clipped", "dark", "uneven", "few", "beyond_screen", "strong_warm"]
DOUBT_WORDS: Final[dict[Doubt, str]] = {
    "clipped": "a channel is at the end of its scale, so the true colour may lie beyond",
    "dark": "very dark, so that noise and glare weigh much",
    "uneven": "it is uneven: take a smaller radius or another place",
    "few": "only a few pixels",
    "beyond_screen": "it lies outside sRGB, and the hex is the nearest that a screen shows",
    "strong_warm": (
        "a strong red or orange, which cameras differ in most: without a chart it may be 9 off"
        " (ΔE00)"
    ),
}

LARGEST_RADIUS: Final = 500.0
_MOST_SAMPLED = 5000
_DROPPED = 0.2
"""Share of the pixels, the farthest from the middle, that are left out."""
_CLIPPED_SHARE, _NEAR_END = 0.02, 1
_DARK_L, _UNEVEN_DELTA_E00, _FEW = 10.0, 5.0, 9
_WARM_FROM, _WARM_TO, _STRONG = 5.0, 75.0, 45.0
"""Hue angles in degrees, and chroma, between and from which cameras differ most: by white paper
alone eight simulated ones read 95 of 100 such swatches within 9.0 ΔE00 where their matrices
are worst for reds, and all others within 3.3 (``tests.bench pictures``). It is the camera's
matrix: were the light taken off without a fault, they would be as far off."""


class Correction(Protocol):
    """What takes the light of a picture off: XYZ (..., 3) at x, y (..., 2) as under D50.

    An ``even`` one is the same at every place; one that is ``of_camera`` takes off as well what
    the camera makes of colours.
    """

    @property
    def even(self) -> bool: ...

    @property
    def of_camera(self) -> bool: ...

    def corrected(self, xyz: FloatArray, at: FloatArray) -> FloatArray: ...


@dataclass(frozen=True)
class Spot:
    """The colour of a spot. ``xyz`` is under D50, Y = 100 for white; ``x``, ``y`` in pixels.

    ``count`` is how many pixels it rests on.
    """

    x: float
    y: float
    radius: float
    xyz: tuple[float, float, float]
    count: int
    warnings: tuple[Doubt, ...]

    @property
    def lab(self) -> Lab:
        """Lab under D50."""
        L, a, b = xyz_to_lab(self.xyz).tolist()
        return (L, a, b)


def read_spot(
    picture: Picture, x: float, y: float, radius: float = 0.0, correction: Correction | None = None
) -> Spot:
    """The colour within ``radius`` pixels of x, y, with the light taken off by ``correction``.

    It is the mean, in light, of the pixels left when the fifth that lies farthest from the
    middle is dropped: a metrically trimmed mean (Kim 1992, Annals of Statistics 20) about
    the median of each coordinate of Lab. No more is dropped, for the grain of a drawing is
    part of its colour. Raises InputError where x, y lies outside the picture or the radius
    is none.
    """
    if not picture.holds(x, y):
        size = f"the picture is {picture.width} by {picture.height} pixels"
        raise InputError(f"{picture.name}, {x:g},{y:g}", f"this lies outside it: {size}", "")
    if not 0 <= radius <= LARGEST_RADIUS:
        limit = f"Give 0 to {LARGEST_RADIUS:g} pixels."
        raise InputError("radius", f"{radius:g} is out of range", limit)
    filed, place = _within(picture, x, y, radius)
    xyz = picture.xyz(filed)
    lab = xyz_to_lab(xyz)
    off = np.linalg.norm(lab - np.median(lab, axis=0), axis=-1)
    kept = np.argsort(off, kind="stable")[: max(1, round(len(off) * (1 - _DROPPED)))]
    mean = xyz[kept].mean(axis=0)
    if correction is not None:
        mean = correction.corrected(mean, np.array([x, y]))
    of_camera = correction is not None and correction.of_camera
    warnings = _warnings(filed, lab, place, xyz_to_lab(mean), of_camera)
    X, Y, Z = mean.tolist()
    return Spot(x, y, radius, (X, Y, Z), len(kept), warnings)


def _within(
    picture: Picture, x: float, y: float, radius: float
) -> tuple[NDArray[np.uint8], FloatArray]:
    """The pixels (n, 3) as filed whose middles lie within the radius, and their places (n, 2).

    The pixel that x, y falls in is always one of them. Of a big spot, every second or third
    one either way does. Places are from the spot's middle.
    """
    column, row = int(x), int(y)
    reach = int(np.ceil(radius))
    by = int(np.ceil(np.sqrt(np.pi * radius**2 / _MOST_SAMPLED))) or 1
    box = (
        max(0, column - reach),
        max(0, row - reach),
        min(picture.width, column + reach + 1),
        min(picture.height, row + reach + 1),
    )
    across = np.arange(box[0], box[2]) - column
    down = np.arange(box[1], box[3]) - row
    across, down = across[across % by == 0], down[down % by == 0]
    filed = picture.as_filed(box)[down[:, None] + row - box[1], across + column - box[0]]
    dx, dy = np.meshgrid(across.astype(float), down.astype(float))
    inside = dx**2 + dy**2 <= radius**2
    return filed[inside], np.stack([dx[inside], dy[inside]], axis=-1)


def _warnings(
    filed: NDArray[np.uint8],
    lab: FloatArray,
    place: FloatArray,
    mean_lab: FloatArray,
    of_camera: bool,
) -> tuple[Doubt, ...]:
    found: list[Doubt] = []
    at_end = (filed >= 255 - _NEAR_END) | (filed == 0)
    if at_end.any(axis=-1).mean() > _CLIPPED_SHARE:
        found.append("clipped")
    if np.median(lab[:, 0]) < _DARK_L:
        found.append("dark")
    if _unevenness(lab, place) > _UNEVEN_DELTA_E00:
        found.append("uneven")
    if len(filed) < _FEW:
        found.append("few")
    if not bool(in_screen_gamut(mean_lab)):
        found.append("beyond_screen")
    if not of_camera and strong_warm(mean_lab):
        found.append("strong_warm")
    return tuple(found)


def strong_warm(lab: FloatArray) -> bool:
    """Whether a Lab (3,) is a strong red or orange."""
    a, b = float(lab[1]), float(lab[2])
    angle = np.degrees(np.arctan2(b, a))
    return bool(np.hypot(a, b) >= _STRONG and _WARM_FROM <= angle <= _WARM_TO)


def _unevenness(lab: FloatArray, place: FloatArray) -> float:
    """The greatest ΔE00 between two quarters of the spot, each by its mean: not that of grain."""
    quarter = 2 * (place[:, 0] >= 0) + (place[:, 1] >= 0)
    means = [lab[quarter == i].mean(axis=0) for i in range(4) if (quarter == i).sum() >= _FEW]
    if len(means) < 2:
        return 0.0
    parts = np.array(means)
    return float(delta_e00(parts[:, None], parts[None]).max())


def read_sd(lab: Lab) -> float:
    """The doubt (ΔE00) in a Lab read from a photo whose light was taken off by white alone."""
    from drills.layering.constants import READ_SD, WARM_SD

    return WARM_SD if strong_warm(np.array(lab)) else READ_SD
