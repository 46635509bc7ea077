"""How sure a plan is: where its swatch lands when hands wander, and when the model errs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.colour.difference import delta_e00, metric
from drills.layering import constants as c
from drills.layering.doubt.drawn_films import lots
from drills.layering.doubt.draws import many_in_doubt
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import as_arrays, predict_many
from drills.planning.plan import LikelyMiss

HANDS = 40
"""Hands tried."""
SHARE = 90.0
"""Per cent of hands that stay within the spread."""
LEFT_OUT = 3.5
"""Per cent of draws beyond each end of a range that nine misses of ten lie in: fewer than 5,
for few draws show little of the tails and not all that isn't known is drawn. Held to 85 to 95
of 100 by ``python -m tests.bench ranges``."""
DRAWS = 128
"""What isn't known, drawn so many times, each laid by one hand."""


def likely_miss(
    palette: Palette, moves: Sequence[Move], target: FloatArray, seed: int, target_sd: float = 0.0
) -> LikelyMiss:
    """How far from ``target``, Lab (3,), moves are likely to land. The same seed, the same answer.

    Raises ValueError for a move that can't be made.
    """
    goals = as_it_may_be(target, target_sd, seed)
    return miss_of(delta_e00(in_doubt(palette, [moves], seed)[0], goals))


def as_it_may_be(
    read: FloatArray, sd: float, seed: int, draws: int = DRAWS, which: int = 0
) -> FloatArray:
    """Lab (draws, 3) of what a colour ``read`` (3,) may be that is in doubt by ``sd``, the root
    mean square of a ΔE00. ``which`` tells colours of one seed apart."""
    every = np.repeat(np.asarray(read, dtype=np.float64)[None], draws, axis=0)
    if sd > 0.0:
        off = lots(np.random.default_rng([seed, 2, which]), draws, 3) * (sd / np.sqrt(3.0))
        every = every + off @ np.linalg.inv(metric(every[:1])[0]).T
    return every


def in_doubt(palette: Palette, recipes: Sequence[Sequence[Move]], seed: int) -> FloatArray:
    """Lab (n, DRAWS, 3) of what recipes may come to, all by the same draws."""
    return many_in_doubt(palette, recipes, DRAWS, seed)


def miss_of(off: FloatArray) -> LikelyMiss:
    """The miss to count on, of those (DRAWS,) that were drawn, ΔE00."""
    low, high = _percentiles(off, LEFT_OUT, 100.0 - LEFT_OUT)
    return LikelyMiss(float(off.mean()), low, high)


def wandering(
    palette: Palette, recipes: Sequence[Sequence[Move]], seed: int, count: int = HANDS
) -> list[FloatArray]:
    """Lab (count, 3) of each recipe, drawn by hands that wander; the same hands for all.

    Each layer's pressure is off by itself, of standard deviation ``HAND_SD``. Hands come in
    pairs that err in opposite ways, so that few of them tell much.
    """
    if not recipes:
        return []
    longest = max(len(moves) for moves in recipes)
    half = c.HAND_SD * np.random.default_rng(seed).standard_normal((count // 2, longest))
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
    return _percentiles(delta_e00(wandered, nominal), SHARE)[0]


def _percentiles(values: FloatArray, *shares: float) -> list[float]:
    """As ``numpy.percentile``, which would bring in all of ``numpy.ma`` for a first plan."""
    at = np.array(shares) / 100.0 * (len(values) - 1)
    found: list[float] = np.interp(at, np.arange(len(values)), np.sort(values)).tolist()
    return found
