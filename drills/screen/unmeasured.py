"""Which colours keep their name on screens that nobody has measured.

Two faults are common and turn hues: the three channels follow powers that differ by a tenth,
whichever of them is high, and a screen wider than sRGB whose system corrects nothing. A hue
that one of these would give another name is not asked about on such a screen. That channels
differ by no more is our estimate.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from itertools import permutations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.data.tables import FloatArray
from drills.colour.spaces import screen_rgb
from drills.screen.model import STANDARD, WIDE_XY, Screen, powers

POWERS = (2.1, 2.2, 2.3)
"""Of red, green and blue, in any order."""


@lru_cache(maxsize=1)
def plausible() -> tuple[Screen, ...]:
    """The screens that an unmeasured one may well be, beside the standard one."""
    uneven = tuple(Screen(powers((r, g, b))) for r, g, b in permutations(POWERS))
    return (*uneven, Screen(STANDARD.curves, primaries=WIDE_XY))


def keeps_answer(labs: ArrayLike, answer_of: Callable[[FloatArray], int]) -> bool:
    """Whether a question about the colours (n, 3) together has one answer on all those screens."""
    given = np.asarray(labs, dtype=np.float64)
    levels, own = screen_rgb(given), answer_of(given)
    return all(answer_of(screen.lab(levels)) == own for screen in plausible())


def keeps_name(
    lab: ArrayLike, name_of: Callable[[FloatArray], NDArray[np.int64]]
) -> NDArray[np.bool_]:
    """Whether colours (n, 3) are of the same name on each of those screens, shape (n,).

    ``name_of`` gives the name of Lab (n, 3), as a number.
    """
    given = np.asarray(lab, dtype=np.float64)
    levels = screen_rgb(given)
    own = name_of(given)
    kept = np.ones(own.shape, dtype=np.bool_)
    for screen in plausible():
        kept &= name_of(screen.lab(levels)) == own
    return kept
