"""The light of a picture, taken off by what the artist points at."""

from __future__ import annotations

from collections.abc import Sequence

from drills.basics.errors import InputError
from drills.pictures.chart import Corners, read_chart
from drills.pictures.picture import Picture
from drills.pictures.spot import Correction, read_spot
from drills.pictures.white import GREY_CARD, true_white

DOUBT_BY_WHITE = "Of simulated photos' colours half came within 1.2 ΔE00 then, 95 of 100 within 6."
"""By eight cameras under daylight and a white LED (``tests.bench pictures``)."""
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
        point = f"The light is taken off: the white point is {what}."
        return light, f"{point} {DOUBT_BY_WHITE}"
    return light, (
        f"The light is taken off: the {len(points)} white points are {what}, "
        f"to ΔE00 {light.residual:.1f} at worst. {DOUBT_BY_WHITE}"
    )
