"""Swatches these pencils make: where the drills draw their colours from."""

from __future__ import annotations

import random
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drills.colour.hue import cam_chroma, family_at, wheel_position
from drills.colour.spaces import in_screen_gamut, reflectance_to_lab
from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.paper import Paper
from drills.layering.sheet import Films, blank, lay, reflectance

IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

PRESSURES = (c.LIGHT, c.MIDDLE, c.FIRM)
PAIRS = 1200
"""Two-layer mixes: main firm or middle, the second light or middle."""
SANDWICHES = 500
"""Three-layer mixes: a light layer held between two of a main colour."""


@dataclass(frozen=True, eq=False)
class Pool:
    """n swatches and how each was made.

    ``lab`` (n, 3); ``wheel`` (n,) place on the wheel; ``family`` (n,) place in
    FAMILIES; ``chroma`` (n,) of CIECAM16; ``on_screen`` (n,) true where an sRGB
    screen shows it; ``pencils`` (n, 3), −1 where there is no layer, and
    ``pressures`` (n, 3).
    """

    lab: FloatArray
    wheel: FloatArray
    family: IntArray
    chroma: FloatArray
    on_screen: BoolArray
    pencils: IntArray
    pressures: FloatArray

    def __len__(self) -> int:
        return len(self.lab)

    def moves(self, i: int) -> tuple[Move, ...]:
        """The moves that made swatch ``i``."""
        return tuple(
            Move("lay", int(pencil), float(pressure))
            for pencil, pressure in zip(self.pencils[i], self.pressures[i], strict=True)
            if pencil >= 0
        )


def make_pool(fingerprint: str, films: Films, places: IntArray, paper: Paper) -> Pool:
    """Every pencil at three pressures, and a sample of its mixes of two and three layers.

    ``places`` are those of the coloured pencils among the ``films``. The sample depends on
    nothing but the pencils (their ``fingerprint``).
    """
    rng = random.Random(f"pool:{fingerprint}")
    colours = places.tolist()
    n = len(colours)
    singles = [(i, p) for i in colours for p in PRESSURES]
    base = blank(paper, len(singles))
    first = lay(base, films, np.array([i for i, _ in singles]), np.array([p for _, p in singles]))
    # A mix starts from a middle or firm single (rows 1 and 2 of each pencil's three).
    pairs = _sample(rng, n * 2 * (n - 1) * 2, PAIRS)
    on, over, press = [], [], []
    for code in pairs:
        code, hard = divmod(code, 2)
        code, other = divmod(code, n - 1)
        main, firm = divmod(code, 2)
        on.append(3 * main + 1 + firm)
        over.append(other + (other >= main))
        press.append(PRESSURES[hard])
    on_rows, over_rows = np.array(on, dtype=np.int64), np.array(over, dtype=np.int64)
    pressures = np.array(press)
    second = lay(first.take(on_rows), films, places[over_rows], pressures)
    light = np.flatnonzero(pressures == c.LIGHT)
    held = light[_sample(rng, len(light), SANDWICHES)]
    main_rows = on_rows[held] // 3
    third = lay(second.take(held), films, places[main_rows], c.MIDDLE)

    pencils = np.full((len(singles) + len(pairs) + len(held), 3), -1, dtype=np.int64)
    weight = np.zeros(pencils.shape)
    ones, twos = slice(0, len(singles)), slice(len(singles), len(singles) + len(pairs))
    threes = slice(len(singles) + len(pairs), None)
    pencils[ones, 0] = [i for i, _ in singles]
    weight[ones, 0] = [p for _, p in singles]
    pencils[twos, 0], weight[twos, 0] = pencils[ones, 0][on_rows], weight[ones, 0][on_rows]
    pencils[twos, 1], weight[twos, 1] = places[over_rows], pressures
    pencils[threes, :2], weight[threes, :2] = pencils[twos, :2][held], weight[twos, :2][held]
    pencils[threes, 2], weight[threes, 2] = places[main_rows], c.MIDDLE
    lab = reflectance_to_lab(
        np.concatenate([reflectance(first), reflectance(second), reflectance(third)])
    )
    wheel = wheel_position(lab)
    return Pool(
        lab, wheel, family_at(wheel), cam_chroma(lab), in_screen_gamut(lab), pencils, weight
    )


def _sample(rng: random.Random, count: int, most: int) -> list[int]:
    """At most ``most`` different numbers under ``count``, in order."""
    return sorted(rng.sample(range(count), min(most, count)))
