"""Screens of known make, and the keys that drills of hue would have on them."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.colour.hue import family_at, wheel_position
from drills.colour.spaces import screen_rgb
from drills.kinds.grey_lean import HUES
from drills.kinds.grey_lean import KIND as GREY
from drills.kinds.hue_and_lean import KIND as HUE
from drills.layering.palette import Palette
from drills.questions.protocol import CannotAskError
from drills.screen.known import ScreenKnown
from drills.screen.matching import GreyMatch, agreed
from drills.screen.model import STANDARD, WIDE_XY, Screen, powers

SCREENS = {
    "channels of 2.1, 2.2, 2.3": Screen(powers((2.1, 2.2, 2.3))),
    "channels of 2.2, 2.1, 2.3": Screen(powers((2.2, 2.1, 2.3))),
    "channels of 2.3, 2.2, 2.1": Screen(powers((2.3, 2.2, 2.1))),
    "channels of 1.9": Screen(powers((1.9, 1.9, 1.9))),
    "wide, nothing corrects it": Screen(STANDARD.curves, primaries=WIDE_XY),
    "wide and uneven": Screen(powers((2.1, 2.2, 2.3)), primaries=WIDE_XY),
}


def asked(
    palette: Palette, kind: str, each: int, known: ScreenKnown = True
) -> tuple[FloatArray, ...]:
    """The colours (n, 3) that a drill of hue asks about and their keys (n,): ``each`` a region,
    from the easiest step to the hardest."""
    palette = replace(palette, screen_known=known)
    of = {"grey-lean": GREY, "hue-and-lean": HUE}[kind]
    easiest, hardest = of.steps
    labs = []
    for region in of.regions(palette):
        for at in range(each):
            step = easiest * (hardest / easiest) ** (at / max(1, each - 1))
            try:
                question = of.make(palette, region, step, random.Random(at))
            except CannotAskError:
                continue
            labs.append(question.target)
    colours = np.array(labs).reshape(-1, 3)
    return colours, keys(kind, colours)


def keys(kind: str, labs: FloatArray) -> NDArray[np.int64]:
    """The key of each colour (n, 3): the place among the six leans, or among the families."""
    wheel = wheel_position(labs)
    if kind == "hue-and-lean":
        return family_at(wheel)
    return np.floor(wheel / 2.0 + 0.5).astype(np.int64) % len(HUES)


def turned(kind: str, labs: FloatArray, screen: Screen, drawn_for: Screen | None = None) -> float:
    """The share of keys that are others on ``screen``; what is drawn is corrected for another."""
    levels = screen_rgb(labs) if drawn_for is None else drawn_for.levels(labs)
    return float(np.mean(keys(kind, screen.lab(levels)) != keys(kind, labs)))


def matched_by_eye(screen: Screen, rng: random.Random, off: float) -> Screen:
    """What a look makes of a screen, each channel of each match ``off`` levels off (sd).

    Matches that don't agree are done again, as the app asks.
    """
    middle = None
    while middle is None:
        found = []
        for _ in range(2):
            # Between two levels, mostly: the hand that stops at one aims at the light itself.
            half = (float(np.interp(0.5, curve, range(len(curve)))) for curve in screen.curves)
            red, green, blue = (round(level + rng.gauss(0.0, off)) for level in half)
            found.append(GreyMatch(red, green, blue))
        middle = agreed(found)
    return Screen(powers(middle), primaries=screen.primaries)
