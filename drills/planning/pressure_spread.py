"""A hand varies: how far a plan's swatch wanders when its pressures do."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.colour.difference import delta_e00
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import as_arrays, predict_many

WANDER = 0.15
"""Each layer's pressure lies anywhere within this share of what was meant."""
HANDS = 40
"""Hands tried."""
SHARE = 90.0
"""Per cent of hands that stay within the spread."""


def wandering(
    palette: Palette, recipes: Sequence[Sequence[Move]], seed: int, count: int = HANDS
) -> list[FloatArray]:
    """Lab (count, 3) of each recipe, drawn by hands that wander; the same hands for all.

    Hands come in pairs that err in opposite ways, so that few of them tell much.
    """
    if not recipes:
        return []
    longest = max(len(moves) for moves in recipes)
    half = np.random.default_rng(seed).uniform(-WANDER, WANDER, (count // 2, longest))
    sway = 1.0 + np.concatenate([half, -half])
    out: list[FloatArray] = [np.empty(0)] * len(recipes)
    for length in sorted({len(moves) for moves in recipes}):
        places = [i for i, moves in enumerate(recipes) if len(moves) == length]
        pencil, pressure, action = as_arrays([recipes[i] for i in places])
        shape = (len(places) * len(sway), length)
        lab = predict_many(
            palette,
            (
                np.repeat(pencil, len(sway), axis=0),
                (pressure[:, None, :] * sway[None, :, :length]).reshape(shape),
                np.repeat(action, len(sway), axis=0),
            ),
        ).reshape(len(places), len(sway), 3)
        for i, one in zip(places, lab, strict=True):
            out[i] = one
    return out


def spread(nominal: FloatArray, wandered: FloatArray) -> float:
    """ΔE00 from ``nominal`` (3,) within which nine hands of ten stay."""
    return float(np.percentile(delta_e00(wandered, nominal), SHARE))


def expected_miss(target: FloatArray, wandered: FloatArray) -> float:
    """Mean ΔE00 from ``target`` (3,) over the hands."""
    return float(delta_e00(wandered, target).mean())
