"""The curves of a screen from a match by eye: a grey against a pattern half white, half black.

From a distance the pattern is one grey of half the light of white and of white's own colour,
whatever the curves are. The levels of the grey that equals it tell each channel's power
(a common way of setting screens by eye; common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from drills.screen.model import Triple

HALF = 0.5
LOWEST, HIGHEST = 1.4, 3.0
"""Powers beyond which no screen in use lies: the match went wrong."""
AGREE = 0.15
"""How far two matches may lie apart, in the power of any channel, and still be one (ours)."""
MOST = 255


@dataclass(frozen=True)
class GreyMatch:
    """The levels of the grey that is moved, each 1–254."""

    red: int
    green: int
    blue: int

    @property
    def levels(self) -> tuple[int, int, int]:
        return self.red, self.green, self.blue

    def moved(self, red: int = 0, green: int = 0, blue: int = 0) -> GreyMatch:
        """The grey with its channels moved by levels, as far as there are any."""
        return replace(
            self,
            red=max(1, min(MOST - 1, self.red + red)),
            green=max(1, min(MOST - 1, self.green + green)),
            blue=max(1, min(MOST - 1, self.blue + blue)),
        )

    def powers(self) -> Triple:
        """The power of each channel, for which this grey has half the light of white."""
        red, green, blue = (math.log(HALF) / math.log(level / MOST) for level in self.levels)
        return red, green, blue


def start(lighter: bool) -> GreyMatch:
    """Where a match begins: plainly lighter than any half, or plainly darker."""
    level = 215 if lighter else 150
    return GreyMatch(level, level, level)


def agreed(matches: Sequence[GreyMatch]) -> Triple | None:
    """The powers midway between matches; None where those lie apart, or where no screen's do."""
    found = [match.powers() for match in matches]
    channels = list(zip(*found, strict=True))
    if any(max(of) - min(of) > AGREE for of in channels):
        return None
    red, green, blue = (sum(of) / len(of) for of in channels)
    middle = (red, green, blue)
    return middle if all(LOWEST <= power <= HIGHEST for power in middle) else None
