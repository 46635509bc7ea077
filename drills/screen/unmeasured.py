"""Which colours keep their name on screens that nobody has measured, or only by eye.

Two faults are common and turn hues: the three channels follow powers that differ by a tenth,
whichever of them is high, and a screen wider than sRGB whose system corrects nothing. A hue
that one of these would give another name is not asked about on such a screen. That channels
differ by no more is our estimate. A match by eye leaves the channels a few hundredths apart.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from itertools import permutations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.data.tables import FloatArray
from drills.colour.spaces import screen_rgb
from drills.screen.known import ScreenKnown
from drills.screen.model import STANDARD, WIDE_XY, Screen, powers

POWERS = (2.1, 2.2, 2.3)
"""Of red, green and blue, in any order."""
BY_EYE = (2.15, 2.2, 2.25)
"""The same once corrected by eye: from two matches, each channel of each a level off (sd), a
power is 0.03 off (sd). Of what is left to ask, 1 or 2 keys in 100 are turned; ours."""


@lru_cache(maxsize=2)
def plausible(by_eye: bool = False) -> tuple[Screen, ...]:
    """The screens that an unmeasured one may well be, beside the standard one; or one corrected
    ``by_eye``."""
    of = BY_EYE if by_eye else POWERS
    uneven = tuple(Screen(powers((r, g, b))) for r, g, b in permutations(of))
    return uneven if by_eye else (*uneven, Screen(STANDARD.curves, primaries=WIDE_XY))


def keeps_answer(
    labs: ArrayLike, answer_of: Callable[[FloatArray], int], known: ScreenKnown = False
) -> bool:
    """Whether a question about the colours (n, 3) together has one answer on all those screens."""
    if known is True:
        return True
    given = np.asarray(labs, dtype=np.float64)
    levels, own = screen_rgb(given), answer_of(given)
    return all(answer_of(screen.lab(levels)) == own for screen in plausible(bool(known)))


def keeps_name(
    lab: ArrayLike,
    name_of: Callable[[FloatArray], NDArray[np.int64]],
    known: ScreenKnown = False,
) -> NDArray[np.bool_]:
    """Whether colours (n, 3) are of the same name on each of those screens, shape (n,).

    ``name_of`` gives the name of Lab (n, 3), as a number.
    """
    given = np.asarray(lab, dtype=np.float64)
    levels = screen_rgb(given)
    own = name_of(given)
    kept = np.ones(own.shape, dtype=np.bool_)
    for screen in plausible(bool(known)) if known is not True else ():
        kept &= name_of(screen.lab(levels)) == own
    return kept
