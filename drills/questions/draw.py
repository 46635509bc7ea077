"""What several kinds of drill share: drawing colours from the pool."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.spaces import lab_to_lch, screen_rgb, shown_lab, srgb_to_lab
from drills.colour.words import NEUTRAL_BELOW, strength_at
from drills.layering.palette import Palette
from drills.questions.protocol import JSON, CannotAskError, Kind, Lab

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

VISIBLE_STEP = 1.0
"""ΔE00 under which two swatches side by side pass for one.

About one just-noticeable difference for large adjoining samples (common
practice; compare CIE 142:2001, where parametric conditions scale it)."""

LEAST_OF_A_FAMILY = 8
"""Colours a family needs in the pool before it is drilled: fewer would soon be known by heart."""


def as_lab(row: ArrayLike) -> Lab:
    """One row of an array as a plain Lab."""
    L, a, b = (float(part) for part in np.asarray(row))
    return (L, a, b)


def as_json(lab: ArrayLike) -> JSON:
    """A Lab as the record keeps it: three numbers to a thousandth."""
    return [round(part, 3) for part in as_lab(lab)]


def as_shown(lab: ArrayLike) -> Lab:
    """The Lab that 8 bits a channel really show for this one."""
    return as_lab(shown_lab(np.asarray(lab, dtype=np.float64)))


@dataclass(frozen=True, eq=False)
class ShownPool:
    """The n colours of a pool that a screen shows truly, as its 8 bits show them.

    ``places`` (n,) in the pool; ``lab`` (n, 3); ``wheel`` (n,); ``family`` (n,)
    the place in FAMILIES, or −1 for a grey, which has none to name;
    ``strength`` (n,) about Munsell chroma.
    """

    places: IntArray
    lab: FloatArray
    wheel: FloatArray
    family: IntArray
    strength: FloatArray

    def of(self, family: str) -> IntArray:
        """Where the colours of one family stand; nowhere for what is no family's name."""
        if family not in FAMILIES:
            return np.empty(0, dtype=np.int64)
        return np.flatnonzero(self.family == FAMILIES.index(family))


@lru_cache(maxsize=8)
def shown_pool(palette: Palette) -> ShownPool:
    """The colours of these pencils that drills may show, none twice."""
    pool = palette.pool
    places = np.flatnonzero(pool.on_screen)
    levels = screen_rgb(pool.lab[places])
    _, first = np.unique(levels @ [65536, 256, 1], return_index=True)
    first.sort()
    places = places[first]
    lab = srgb_to_lab(levels[first] / 255)
    wheel = wheel_position(lab)
    about = strength_at(lab_to_lch(lab)[:, 1], wheel, lab[:, 0])
    family = np.where(about < NEUTRAL_BELOW, -1, family_at(wheel))
    return ShownPool(places, lab, wheel, family, about)


def colours_of(palette: Palette, region: str) -> tuple[ShownPool, IntArray]:
    """The pool, and where a family's colours stand in it. Raises CannotAskError for none."""
    pool = shown_pool(palette)
    mine = pool.of(region)
    if not mine.size:
        raise CannotAskError(f"these pencils make no {region}")
    return pool, mine


def families_with(palette: Palette, least: int = LEAST_OF_A_FAMILY) -> tuple[str, ...]:
    """The families in which these pencils make at least ``least`` colours."""
    family = shown_pool(palette).family
    counts = np.bincount(family[family >= 0], minlength=len(FAMILIES))
    return tuple(name for name, count in zip(FAMILIES, counts, strict=True) if count >= least)


def family_of(palette: Palette, pencil: int) -> str:
    """The hue family of a pencil's own swatch."""
    return FAMILIES[int(palette.family[pencil])]


def askable(kind: Kind, palette: Palette, regions: Sequence[str]) -> tuple[str, ...]:
    """Those regions for which a question really comes of these pencils, tried at three steps."""
    easiest, hardest = kind.steps
    found = []
    for region in regions:
        for turn, step in enumerate((easiest, math.sqrt(easiest * hardest), hardest)):
            try:
                kind.make(palette, region, step, random.Random(turn))
            except CannotAskError:
                continue
            found.append(region)
            break
    return tuple(found)


def one_near(values: FloatArray, wanted: float, rng: random.Random, among: int = 12) -> int:
    """A place in ``values``, at random among the ``among`` nearest to ``wanted``."""
    order = np.argsort(np.abs(values - wanted), kind="stable")
    return int(order[rng.randrange(min(among, len(order)))])
