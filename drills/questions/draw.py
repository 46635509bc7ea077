"""What several kinds of drill share: drawing colours from the pool, and words for results."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.munsell import munsell_value
from drills.colour.spaces import lab_to_lch, screen_rgb, shown_lab, srgb_to_lab
from drills.colour.words import NEUTRAL_BELOW, strength, strength_at
from drills.layering.moves import Move, move_words
from drills.layering.palette import Palette
from drills.questions.protocol import (
    JSON,
    Answers,
    CannotAskError,
    Choice,
    Kind,
    Lab,
    Mark,
    Swatch,
)

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

LEAST_OF_A_FAMILY = 8
"""Colours a family needs in the pool before it is drilled: fewer would soon be known by heart."""

MODEL_LIMITS = (
    "Worked out by a model of layers on white drawing paper. It can't know your hand, your "
    "paper or how two binders drag on each other: try it on a scrap first."
)


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


def near_miss(excess: float, scale: float) -> float:
    """A score that falls from 1 as an answer's excess error grows: 0.37 at one ``scale``."""
    return math.exp(-max(0.0, excess) / scale)


def wrong_way_round(values: Sequence[float]) -> tuple[float, float]:
    """How far out of order values are that should rise: (share 0–1, widest).

    Kendall's count of pairs that stand the wrong way round (1938), each pair
    weighted by how far apart it is, so that two near ones swapped cost little;
    as a share of what the whole row reversed would cost. With even gaps that is
    (1 − ρ)/2 of Spearman (1904). ``widest`` is the difference of the widest such
    pair, 0 where all is in order.
    """
    pairs = [later - value for i, value in enumerate(values) for later in values[i + 1 :]]
    wrong = [-pair for pair in pairs if pair < 0.0]
    return sum(wrong) / (sum(map(abs, pairs)) or 1.0), max(wrong, default=0.0)


def change_in_numbers(before: ArrayLike, after: ArrayLike) -> str:
    """How value (Munsell), chroma (C*ab) and hue (wheel steps) changed: "value 5.2 → 4.6, …"."""
    pair = np.stack([np.asarray(before, np.float64), np.asarray(after, np.float64)])
    value = munsell_value(pair)
    lch = lab_to_lch(pair)
    place = wheel_position(pair)
    turn = (place[1] - place[0] + 6.0) % 12.0 - 6.0
    hue = f"hue turned {abs(turn):.1f} of a wheel step"
    if min(strength(pair)) < NEUTRAL_BELOW:
        hue = "no hue left to speak of"
    elif abs(turn) < 0.15:
        hue = "hue held"
    return f"value {value[0]:.1f} → {value[1]:.1f}, chroma {lch[0, 1]:.0f} → {lch[1, 1]:.0f}, {hue}"


def listed(words: Sequence[str]) -> str:
    """Words joined as in speech: "a, b and c"."""
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


LETTERS = ("A", "B", "C", "D", "E")
"""What swatches are called where a name would give the answer away."""

ORDINALS = ("1st", "2nd", "3rd", "4th", "5th")


def lettered(labs: Sequence[Lab]) -> tuple[Choice, ...]:
    """Swatches to choose from or to put in order, called A, B, C …"""
    return tuple(
        Choice(letter, letter, Swatch(lab)) for letter, lab in zip(LETTERS, labs, strict=False)
    )


def order_given(answers: Answers) -> tuple[int, ...]:
    """The places of lettered swatches in the order a learner put them."""
    return tuple(LETTERS.index(key) for key in answers[0])


def mark_of(mine: bool, best: bool) -> Mark:
    """How a result is marked in a reveal."""
    if mine:
        return "yours, best" if best else "yours"
    return "best" if best else ""


def made_words(palette: Palette, moves: Sequence[Move]) -> str:
    """Moves in the order they are made, as one phrase."""
    return ", then ".join(move_words(palette, move) for move in moves)
