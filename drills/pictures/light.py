"""The light of a picture, taken off by what the artist points at."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from drills.basics.errors import InputError
from drills.colour.spaces import lab_to_xyz, srgb_to_xyz
from drills.pictures.chart import Corners, read_chart
from drills.pictures.picture import Picture
from drills.pictures.spot import Correction, read_spot
from drills.pictures.white import CHECKED_FROM, GREY_CARD, true_white

DOUBT_BY_WHITE = "Of simulated photos' colours half came within 1.2 ΔE00 then, 95 of 100 within 6."
"""By eight cameras under daylight and a white LED (``tests.bench pictures``)."""
_ACROSS: Final = 64
_BRIGHTER: Final = 117.0
_TOO_MUCH_BRIGHTER: Final = 0.1
"""Of a picture, from which its white is doubted; our estimate."""
_TOO_UNEVEN: Final = 20.0
"""Times that light may differ over one picture; our estimate: a lamp at the side makes 4."""
Place = tuple[float, float]
"""x and y in pixels."""


def usual_radius(picture: Picture) -> float:
    """What is sampled unless said otherwise: a hundredth of the shorter side, 2 pixels at least."""
    return float(max(2, round(min(picture.width, picture.height) / 100)))


def light_of(
    picture: Picture,
    whites: Sequence[Place] = (),
    card: bool = False,
    chart: Corners | None = None,
    radius: float | None = None,
) -> tuple[Correction | None, str]:
    """The correction, None where nothing is pointed at, and a sentence on how good it is.

    ``whites`` lie on bare paper, or on a grey card of 18 %; ``chart`` has the corners of a
    24-patch chart. Raises InputError where they show no such thing, and for both at once.
    """
    if chart is not None:
        if whites:
            raise InputError("chart", "white points are given too", "Give one or the other.")
        found = read_chart(picture, chart)
        return found, found.words()
    if not whites:
        return None, ""
    wide = usual_radius(picture) if radius is None else radius
    points = [read_spot(picture, x, y, wide) for x, y in whites]
    light = true_white(points, GREY_CARD if card else None)
    what = "a grey card of 18 %" if card else "white drawing paper"
    if len(points) == 1:
        said = f"the white point is {what}."
    elif light.left_out is None:
        said = (
            f"the {len(points)} white points are {what}. "
            f"{CHECKED_FROM} or more would show how far they agree."
        )
    else:
        said = (
            f"the {len(points)} white points are {what}, "
            f"each as the others have it to ΔE00 {light.left_out:.1f} at worst."
        )
    brighter, between = _over_picture(picture, light)
    if between > _TOO_UNEVEN:
        raise InputError(
            "white",
            f"by these points the light would differ {between:,.0f} times over the picture",
            "Point at bare paper only, at places far apart.",
        )
    doubt = DOUBT_BY_WHITE
    if brighter >= _TOO_MUCH_BRIGHTER:
        doubt = (
            f"But {brighter:.0%} of the picture is then brighter than white: "
            f"was that {'the card' if card else 'bare paper'}, in the light of the rest?"
        )
    return light, f"The light is taken off: {said} {doubt}"


def _over_picture(picture: Picture, light: Correction) -> tuple[float, float]:
    """The share (0–1) of a picture brighter by a sixth than a white that gives all light back,
    and how many times brighter the light is in one place than in another.

    Lamps and glare are so bright, but small; where it is much, what was pointed at was no paper,
    or lay in a shadow.
    """
    shown = picture.fitted(_ACROSS, _ACROSS)
    middles = (np.arange(_ACROSS) + 0.5) / _ACROSS
    at = np.stack(np.meshgrid(middles * picture.width, middles * picture.height), axis=-1)
    bright = light.corrected(srgb_to_xyz(shown / 255), at)[..., 1]
    white = light.corrected(np.broadcast_to(lab_to_xyz((100.0, 0.0, 0.0)), (*at.shape[:2], 3)), at)
    gain = np.maximum(white[..., 1], 1e-9)
    return float((bright > _BRIGHTER).mean()), float(gain.max() / gain.min())
