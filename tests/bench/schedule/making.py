"""How making a match hangs on seeing: four ways, given out among the learners in turn.

Nobody knows how a hand's matches hang on what its eye can tell apart, so a schedule that
serves one way alone has proved little. A learner's level at *make the match* in a family is

    own + share × (seen − own),   own = novice + depth × expertise from making itself,

``seen`` being levels of other drills in the same family, as the way says. Shares and lists
are our estimates; "by another eye" and "by doing alone" gain nothing from the steps
that the day's arc asks most.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from statistics import fmean
from typing import NamedTuple

STEPS = (
    *("hue-and-lean", "nearest-start", "lighter-or-darker"),
    *("mute-with-complement", "order-of-layers"),
)
OTHERS = ("brighter-or-duller", "hold-in-mind", "surround-lies", "through-the-cast")


class Way(NamedTuple):
    """``of`` are the drills that making hangs on, put together by ``by``."""

    name: str
    share: float
    of: tuple[str, ...]
    by: Callable[[Sequence[float]], float] = fmean


WAYS = (
    Way("by all its steps", 0.6, STEPS),
    Way("by its weakest step", 0.6, STEPS, min),
    Way("by another eye", 0.6, OTHERS),
    Way("by doing alone", 0.0, ()),
)


def way_of(learner: int) -> Way:
    """The way of a learner, by number."""
    return WAYS[learner % len(WAYS)]
