"""What an artist without a planner might do: the nearest pencil, or the wheel's rule."""

from __future__ import annotations

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import wheel_steps
from drills.layering.films import FloatArray
from drills.layering.moves import FIRM, LIGHT, MIDDLE
from drills.layering.palette import Palette
from drills.layering.predict import predict_many
from tests.bench.exhaustive import IntArray


def nearest_single(palette: Palette, places: IntArray, target: FloatArray) -> float:
    """ΔE00 of the nearest pencil, at the best of three pressures."""
    pencil = np.repeat(places, 3)[:, None]
    pressure = np.tile([LIGHT, MIDDLE, FIRM], len(places))[:, None]
    lab = predict_many(palette, (pencil, pressure, np.zeros_like(pencil)))
    return float(delta_e00(lab, target).min())


def wheel_rule(palette: Palette, places: IntArray, target: FloatArray) -> float:
    """ΔE00 of the textbook recipe: the nearest pencil, muted by its opposite on the wheel.

    Main colour, the pencil nearest its complement held lightly inside, main colour;
    at the best of three pressures, or without the complement where that is nearer.
    """
    main = places[int(np.argmin(delta_e00(palette.lab[places], target)))]
    opposite = (palette.wheel[main] + 6.0) % 12.0
    others = places[places != main]
    across = others[int(np.argmin(wheel_steps(palette.wheel[others], opposite)))]
    hands = [LIGHT, MIDDLE, FIRM]
    muted = [[[main, one], [across, LIGHT], [main, two]] for one in hands for two in hands]
    plain = [[[main, one], [main, two]] for one in hands for two in hands]
    off = []
    for recipes in (muted, plain):
        table = np.array(recipes)
        pencil = table[:, :, 0].astype(np.int64)
        lab = predict_many(palette, (pencil, table[:, :, 1], np.zeros_like(pencil)))
        off.append(float(delta_e00(lab, target).min()))
    return min(off)
