"""Muting: a light layer of one pencil held between two layers of another, and what it does."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import wheel_position, wheel_steps
from drills.colour.spaces import in_screen_gamut
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.moves import LIGHT, MIDDLE
from drills.layering.palette import Palette
from drills.layering.predict import extend, sheet_lab, start
from drills.planning.search.craft import BLACK_BELOW, WHITE_FROM
from drills.planning.ways import EARTH_BELOW
from drills.questions.decoys import OTHERS, decoys
from drills.questions.draw import VISIBLE_STEP, BoolArray, FloatArray, IntArray, as_shown, family_of
from drills.questions.protocol import Lab

By = Literal["by the complement", "by greys and earths"]
COMPLEMENT: By = "by the complement"
"""The ways of muting, as the planner has them (``drills.planning.ways``)."""
GREYS: By = "by greys and earths"
WAYS = (COMPLEMENT, GREYS)
BRIGHT_FROM = 5.0
"""Least strength (about Munsell chroma) of a main colour: a dull one needs no muting."""
TOO_BRIGHT = 2.0
"""Least ΔE00 between the main colour alone and the target."""
OVER = LIGHT
"""Pressure of the main colour's layer over the muting one, enough to hold it in."""
OPPOSITE = 4.0
"""Wheel steps from which a pencil counts as a complement that mutes."""
ACROSS = 1.5
"""Wheel steps from which a pencil may tempt: kin of the main colour quiets nothing."""
KEPT = 1.0
"""Wheel steps the target may turn off the main colour: muted, not another colour."""
PAIRS = 240
"""How many pairs of a main colour and its complement are looked at for a family."""


@lru_cache(maxsize=64)
def muting_pairs(palette: Palette, family: str, by: By = COMPLEMENT) -> list[tuple[int, int]]:
    """Each bright main colour of a family with each pencil that mutes it, its hue kept.

    ``by`` says which may mute. Of very many, a sample that depends on nothing but the pencils.
    """
    colours = palette.at_hand
    about = strength(palette.lab[colours])
    bright = [int(i) for i in colours[about >= BRIGHT_FROM] if family_of(palette, i) == family]
    across = [muters(palette, main, colours, by) for main in bright]
    found = [(m, int(c)) for m, yes in zip(bright, across, strict=True) for c in colours[yes]]
    if len(found) > PAIRS:
        seed = f"mute:{family}:{palette.set.fingerprint}{'' if by == COMPLEMENT else by}"
        found = random.Random(seed).sample(found, PAIRS)
    if not found:
        return []
    main, muter = np.array(found, dtype=np.int64).T
    muted = sandwiches(palette, main, muter)
    plain = unmuted(palette, main)
    kept = wheel_steps(wheel_position(muted), palette.wheel[main]) <= KEPT
    quieter = (delta_e00(plain, muted) >= TOO_BRIGHT) & (strength(muted) < strength(plain))
    seen = in_screen_gamut(muted) & in_screen_gamut(plain)
    return [pair for pair, sound in zip(found, kept & quieter & seen, strict=True) if sound]


def muters(palette: Palette, main: int, others: IntArray, by: By) -> BoolArray:
    """Which pencils mute a main colour this way."""
    if by == COMPLEMENT:
        return opposite(palette, main, others)
    # White and black shift the value more than they mute.
    between = (palette.lab[others, 0] < WHITE_FROM) & (palette.lab[others, 0] >= BLACK_BELOW)
    earthy: BoolArray = between & (strength(palette.lab[others]) < EARTH_BELOW) & (others != main)
    return earthy


def opposite(palette: Palette, main: int, others: IntArray) -> BoolArray:
    """Which pencils stand across the wheel and have colour enough to mute by it."""
    apart = wheel_steps(palette.wheel[main], palette.wheel[others])
    return (apart >= OPPOSITE) & (strength(palette.lab[others]) >= NEUTRAL_BELOW)


def sandwiches(
    palette: Palette, main: IntArray, muter: IntArray, light: FloatArray | float = LIGHT
) -> FloatArray:
    """Lab (n, 3) of each muter (n,) laid lightly between two layers of its main (n,)."""
    mains, rows = np.unique(main, return_inverse=True)
    under = extend(palette, start(palette, len(mains)), mains, np.full(len(mains), MIDDLE))
    held = extend(palette, under.take(rows), muter, np.broadcast_to(light, main.shape))
    return sheet_lab(extend(palette, held, main, np.full(len(main), OVER)))


def unmuted(palette: Palette, main: IntArray) -> FloatArray:
    """Lab (n, 3) of each main colour (n,) with no muting layer: itself held in itself."""
    mains, rows = np.unique(main, return_inverse=True)
    return np.asarray(sandwiches(palette, mains, mains)[rows])


@dataclass(frozen=True, eq=False)
class Tried:
    """Every other coloured pencil (n,) tried on a main colour.

    ``alone`` is the main colour with nothing inside, ``results`` (n, 3) those muted; ``mutes``
    (n,) says which mute it the way that is asked, ``tempt`` which may be offered,
    and where it is ``strict`` no others; ``marks``
    (n, 3) are what a muter could be told by with no look at the target: the way round the wheel,
    how unlike the main colour it is, how dark.
    """

    alone: Lab
    others: IntArray
    results: FloatArray
    mutes: BoolArray
    tempt: BoolArray
    strict: bool
    marks: FloatArray


MARKS = 3


@lru_cache(maxsize=256)
def with_each(palette: Palette, main: int, by: By = COMPLEMENT) -> Tried:
    """A main colour muted with every other coloured pencil."""
    others = palette.at_hand[palette.at_hand != main]
    labs = palette.lab[others]
    away = wheel_steps(palette.wheel[others], palette.wheel[main])
    mutes = muters(palette, main, others, by)
    # Kin of the main colour quiets nothing, and a grey has no hue to go by.
    across = (strength(labs) >= NEUTRAL_BELOW) & (away >= ACROSS)
    return Tried(
        alone=as_shown(unmuted(palette, np.array([main]))[0]),
        others=others,
        results=sandwiches(palette, np.full_like(others, main), others),
        mutes=mutes,
        tempt=across if by == COMPLEMENT else mutes,
        strict=by == GREYS,
        marks=np.stack([away, delta_e00(labs, palette.lab[main]), -labs[:, 0]], axis=1),
    )


def tempting(
    tried: Tried, errors: FloatArray, step: float, wanted: Sequence[int], rng: random.Random
) -> tuple[float, list[int]]:
    """The best and three that tempt, as ``decoys.decoys`` gives them; ``wanted`` for each mark.

    ``errors`` (n,) is how far each result lies from the target (ΔE00).
    """
    best = int(np.argmin(errors))
    gap = errors - errors[best]
    rivals = np.flatnonzero(tried.tempt & (gap >= VISIBLE_STEP)).tolist()
    if len(rivals) < OTHERS and not tried.strict:
        # Of few pencils whatever is told apart from the best must do.
        rivals = np.flatnonzero(gap >= VISIBLE_STEP).tolist()
    return decoys(gap, rivals, tried.marks, best, step, wanted, rng)
