"""A colour set by steps in lightness, chroma and hue: the method of adjustment (Fechner 1860).

A step is about the same size to the eye in each of the three, whatever the colour; what
can't be shown on a screen is shown as dull as it takes.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, Literal

Lab = tuple[float, float, float]
Part = Literal["lightness", "chroma", "hue"]
PARTS: Final[tuple[Part, ...]] = ("lightness", "chroma", "hue")

COARSE, FINE = 3.0, 0.8
"""ΔE00 of a step, about."""
LIGHTEST, DARKEST = 97.0, 6.0
MOST_CHROMA: Final = 134.0
"""C*ab of sRGB's blue, the most an sRGB screen shows."""
_LEAST_TURN_CHROMA: Final = 6.0
"""C*ab below which a turn is no longer made wider, or one key would go half round."""
START_OFF: Final = (9.0, 12.0, 25.0)
"""How far off a setting starts, at most: L*, C*ab and degrees of hue."""


@dataclass(frozen=True)
class Setting:
    """L* (0–100), C*ab and hue angle (degrees, 0–360) as set.

    ``lab`` is what is shown of it. The hue stays known where the chroma is 0.
    """

    lightness: float
    chroma: float
    hue: float

    @staticmethod
    def of(lab: Lab) -> Setting:
        """The setting that shows a colour, or the nearest to it that a screen shows."""
        from drills.colour.spaces import lab_to_lch

        L, C, h = lab_to_lch(lab).tolist()
        return Setting(min(LIGHTEST, max(DARKEST, L)), min(MOST_CHROMA, C), h)

    @cached_property
    def lab(self) -> Lab:
        """What is shown (D50 Lab): no duller than it takes to lie within sRGB."""
        from drills.colour.spaces import lch_to_lab
        from drills.colour.turn import fitted_to_screen

        L, a, b = fitted_to_screen(lch_to_lab([self.lightness, self.chroma, self.hue]))[0].tolist()
        return (L, a, b)

    def moved(self, part: Part, by: float) -> Setting:
        """The setting ``by`` steps of one ΔE00 further: lighter, brighter, or on round the hue
        angle; less where a limit is met.

        The weights S_L, S_C and S_H of CIE 142-2001, without its terms in hue.
        """
        if part == "lightness":
            weight = 1.0 + 0.015 * (off := (self.lightness - 50.0) ** 2) / (20.0 + off) ** 0.5
            lightness = min(LIGHTEST, max(DARKEST, self.lightness + by * weight))
            return replace(self, lightness=lightness)
        shown = float((self.lab[1] ** 2 + self.lab[2] ** 2) ** 0.5)
        if part == "chroma":
            step = by * (1.0 + 0.045 * shown)
            wanted = replace(self, chroma=min(MOST_CHROMA, max(0.0, shown + step)))
            # Beyond what a screen shows it stays: else a key back would do nothing at first.
            reached = min(wanted.chroma, float((wanted.lab[1] ** 2 + wanted.lab[2] ** 2) ** 0.5))
            return replace(self, chroma=max(shown, reached) if by > 0 else reached)
        about = max(shown, _LEAST_TURN_CHROMA)
        degrees = 57.2958 * by * (1.0 + 0.015 * about) / about
        return replace(self, hue=(self.hue + degrees) % 360.0)

    def put(self, part: Part, share: float) -> Setting:
        """The setting with one part at a ``share`` 0–1 of its range, as a scale shows it."""
        share = min(1.0, max(0.0, share))
        if part == "lightness":
            return replace(self, lightness=DARKEST + share * (LIGHTEST - DARKEST))
        if part == "chroma":
            return replace(self, chroma=share * MOST_CHROMA).moved("chroma", 0.0)
        return replace(self, hue=(share * 360.0) % 360.0)

    def share(self, part: Part) -> float:
        """Where one part stands in its range, 0–1."""
        if part == "lightness":
            return (self.lightness - DARKEST) / (LIGHTEST - DARKEST)
        if part == "chroma":
            return float((self.lab[1] ** 2 + self.lab[2] ** 2) ** 0.5) / MOST_CHROMA
        return self.hue / 360.0


def start_near(lab: Lab, rng: random.Random) -> Setting:
    """A setting off in all three parts, so that none can be left as it is found."""
    at = Setting.of(lab)
    by_L, by_C, by_h = (rng.choice((-1, 1)) * rng.uniform(0.5, 1.0) * most for most in START_OFF)
    lightness = at.lightness + by_L
    if not DARKEST <= lightness <= LIGHTEST:
        lightness = at.lightness - by_L
    chroma = at.chroma + by_C if at.chroma + by_C >= 0.0 else at.chroma - by_C
    return Setting(lightness, chroma, (at.hue + by_h) % 360.0)


def key_of(lab: Lab) -> str:
    """A colour set, as a reply and the record keep it: "52.310 12.004 -7.120"."""
    return " ".join(f"{part:.3f}" for part in lab)


def lab_of(key: str) -> Lab:
    """The colour that a reply stands for. Raises ValueError for what is none."""
    L, a, b = (float(part) for part in key.split(" "))
    if not (0.0 <= L <= 100.0 and max(abs(a), abs(b)) <= 2 * MOST_CHROMA):
        raise ValueError("no colour that a screen shows")
    return (L, a, b)


@dataclass(frozen=True)
class Matched:
    """A colour found by ``settings`` of an eye: their mean Lab, and ``spread``, the standard
    deviation of one setting about it as a ΔE00 (0 where there is one)."""

    lab: Lab
    spread: float
    settings: tuple[Lab, ...]


def matched(settings: Sequence[Lab]) -> Matched:
    """What one or more settings of one colour come to. Raises ValueError for none."""
    import numpy as np

    from drills.colour.difference import delta_e00

    if not settings:
        raise ValueError("no settings")
    lab = np.array(settings, dtype=np.float64)
    mean = lab.mean(axis=0)
    off = delta_e00(lab, np.broadcast_to(mean, lab.shape))
    spread = float(np.sqrt((off**2).sum() / (len(lab) - 1))) if len(lab) > 1 else 0.0
    L, a, b = mean.tolist()
    return Matched((L, a, b), spread, tuple(settings))
