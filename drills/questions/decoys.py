"""Wrong choices picked so that no mark but the one asked about tells the right one.

A right pencil that is mostly the darkest of those offered, or the farthest round the
wheel, can be named without a look at the target. So for each such mark it is left to chance
how many of the wrong ones have more of it than the right one.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

import numpy as np

from drills.questions.draw import FloatArray

OTHERS = 3
RIVALS = 5
"""How many, nearest the wanted gap first, are tried as the rival."""
MANY = 16
"""Of more that lie beyond the rival, so many are drawn."""
STEP_SHARE = 4.0
"""What missing the wanted gap weighs, per unit of its natural logarithm, against one rank."""
FIRST_MARK = 4.0
"""What missing a rank of the first mark, the likeliest to be gone by, weighs against another's."""


def ranks_wanted(marks: int, rng: random.Random) -> tuple[int, ...]:
    """For each mark, how many of the three others are to have more of it than the right one."""
    return tuple(rng.randrange(OTHERS + 1) for _ in range(marks))


def decoys(
    gap: FloatArray,
    rivals: Sequence[int],
    marks: FloatArray,
    best: int,
    step: float,
    wanted: Sequence[int],
    rng: random.Random,
) -> tuple[float, list[int]]:
    """How ill it fits (0 is as wanted), and the best with three others, a rival first.

    ``gap`` (n,) is how much worse each is than the best; the one nearest to the best among
    those offered, the rival, is to lie near ``step``. ``marks`` (n, k) say how much each has of
    what could be gone by, the likeliest first. ``rivals`` are the places that may be offered.
    Empty where they are under three.
    """
    weights = np.ones(marks.shape[1])
    weights[0] = FIRST_MARK
    fit = math.inf
    offered: list[int] = []
    open_ones = np.array(sorted(rivals, key=lambda i: gap[i]), dtype=np.int64)
    more = marks[open_ones] > marks[best]
    for at in np.argsort(np.abs(gap[open_ones] - step), kind="stable")[:RIVALS].tolist():
        # Two more must lie beyond the rival, or the gap asked would not be the gap there is.
        beyond = np.arange(at + 1, len(open_ones))
        if len(beyond) < 2:
            continue
        if len(beyond) > MANY:
            beyond = np.array(rng.sample(beyond.tolist(), MANY))
        first, second = (beyond[side] for side in np.triu_indices(len(beyond), 1))
        counts = more[at].astype(int) + more[first] + more[second]
        miss = np.abs(counts - np.asarray(wanted)) @ weights
        least = np.flatnonzero(miss == miss.min())
        ill = float(miss.min()) + STEP_SHARE * abs(math.log(gap[open_ones[at]] / step))
        if ill < fit:
            pair = least[rng.randrange(len(least))]
            fit = ill
            offered = [best, *open_ones[[at, first[pair], second[pair]]].tolist()]
    return fit, offered
