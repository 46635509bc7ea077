"""The craft a plan keeps to. Common practice, no source; the numbers are our estimate.

Rules that a plan never breaks:

- *start near*: the first layer is of the family nearest the target, or a grey
  where the target itself is greyed; never white on white paper,
  nor black but for a dark grey;
- *every layer earns its place*: but for a muting one, each brings the swatch
  nearer the target by a difference that can be seen, or all but;
- *light to firm*: a plan of several layers doesn't begin firm, after a firm
  layer only a firm one follows, and there are two at most;
- *muting held inside*: a pencil from the far side of the wheel is laid lightly,
  never first or twice running, and a layer of the main family covers it;
- *strays lightly*: a target of clear hue is built of its own family and those
  about it; any other pencil is a light touch, and so is black, unless the target
  itself is dark;
- *no white over black*: never both in one plan, and no pale pencil over a dark
  ground;
- *no third layer running of one pencil*;
- *blend once*, lightly, when two layers of colour are down and no muting one
  lies bare, and finish with colour that takes the haze off;
- *nothing after burnishing*, which needs two layers under it;
- *tooth*: nothing is laid on a full tooth.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drills.colour.hue import wheel_position, wheel_steps
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.films import FloatArray
from drills.layering.palette import Palette
from drills.pencils.pencil import Lab

BoolArray = NDArray[np.bool_]

NEAR_STEPS = 1.5
"""Wheel steps from the target within which a pencil may always begin a plan."""
NEAREST_SLACK = 0.75
"""Steps beyond the nearest pencil within which others may begin too."""
GREYED_BELOW = 3.5
"""Strength (about Munsell chroma) under which a target may be begun with a grey."""
DULL_BELOW = 6.0
"""Strength under which a coloured pencil may begin a neutral."""
FAR_STEPS = 4.0
"""Wheel steps from the main colour from which a pencil mutes it."""
MAIN_STEPS = 2.0
"""Wheel steps from the main colour within which a layer covers a muting one."""
WHITE_FROM, BLACK_BELOW = 90.0, 26.0
"""L* of a neutral pencil called white, or black."""
PALE_FROM, DARK_GROUND_BELOW = 75.0, 35.0
"""L* of a pencil that is lost on a ground of that L*."""
STRAY_STEPS, STRAY_SLACK = 2.0, 1.0
"""Wheel steps from a target of clear hue beyond which a pencil is only a light touch: so
many, or so many more than the nearest pencil is away."""
DARK_TARGET = 38.0
"""L* under which a target may be laid with black as with any other pencil."""
GAIN = 0.5
"""ΔE00 by which a layer that doesn't mute must lead nearer the target."""
MOST_FIRM = 2
LAYERS_BEFORE_BLEND = 2


@dataclass(frozen=True, eq=False)
class Roles:
    """What each of N pencils may do for one target.

    ``start`` (N,) may come first. ``mutes`` (N, N): row main, column the pencil
    that would mute it; ``covers`` (N, N): that would cover what muted it.
    ``touch`` (N,) is laid lightly or not at all. ``white``, ``black``, ``pale`` (N,).
    """

    start: BoolArray
    mutes: BoolArray
    covers: BoolArray
    touch: BoolArray
    white: BoolArray
    black: BoolArray
    pale: BoolArray


def roles(palette: Palette, target: Lab, places: NDArray[np.int64] | None = None) -> Roles:
    """Work out the role of every pencil for ``target``, or of those at ``places`` alone.

    Which may begin depends on which there are.
    """
    at = np.arange(len(palette)) if places is None else places
    lab, wheel, colours = palette.lab[at], palette.wheel[at], palette.family[at] >= 0
    strong = strength(lab)
    L: FloatArray = lab[:, 0]
    chromatic = colours & (strong >= NEUTRAL_BELOW)
    neutral = colours & ~chromatic
    target_strength = float(strength(target))
    target_wheel = float(wheel_position(target))
    is_grey = target_strength < NEUTRAL_BELOW

    # A grey has no hue of its own: what counts as far from it is what is far from the target.
    hue = np.where(chromatic, wheel, target_wheel)
    has_hue = chromatic | (not is_grey)
    apart = wheel_steps(hue[:, None], wheel[None, :])
    mutes = has_hue[:, None] & chromatic[None, :] & (apart >= FAR_STEPS)
    covers = (has_hue[:, None] & chromatic[None, :] & (apart <= MAIN_STEPS)) | np.eye(
        len(lab), dtype=np.bool_
    )
    black = neutral & (L < BLACK_BELOW)
    white = neutral & (L >= WHITE_FROM)
    touch = black & (float(np.asarray(target)[0]) >= DARK_TARGET)
    if target_strength >= GREYED_BELOW:
        away = wheel_steps(wheel, target_wheel)
        nearest = float(np.where(chromatic, away, np.inf).min(initial=np.inf))
        touch |= chromatic & (away > max(STRAY_STEPS, nearest + STRAY_SLACK))
    return Roles(
        start=_start(
            chromatic,
            neutral & ~white & ~(touch if is_grey else black),
            strong,
            wheel_steps(wheel, target_wheel),
            target_strength,
        )
        & colours,
        mutes=mutes,
        covers=covers,
        touch=touch,
        white=white,
        black=black,
        pale=colours & (L >= PALE_FROM),
    )


def _start(
    chromatic: BoolArray,
    greys: BoolArray,
    strong: FloatArray,
    away: FloatArray,
    target_strength: float,
) -> BoolArray:
    """Which pencils may begin; where none is fit to, all of them."""
    if target_strength < NEUTRAL_BELOW:
        may = greys | (chromatic & (strong < DULL_BELOW))
    else:
        nearest = float(np.where(chromatic, away, np.inf).min(initial=np.inf))
        may = chromatic & (away <= max(NEAR_STEPS, nearest + NEAREST_SLACK))
        if target_strength < GREYED_BELOW or not may.any():
            may = may | greys
    for fallback in (chromatic, np.ones_like(chromatic)):
        if not may.any():
            may = fallback
    return may
