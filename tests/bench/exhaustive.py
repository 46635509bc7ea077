"""Every plan of up to three layers of colour, laid once, and the best of them for a target.

An independent reading of the planner's craft for the bench: recipes are laid with
``predict_many``, in double precision, and the rules of ``drills.planning.search.craft`` are
put to whole arrays of recipes. It shares with the planner the roles of the
pencils (which may begin, which mute) and the rules' numbers, and nothing of its search.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drills.colour.difference import delta_e00
from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.palette import Palette
from drills.layering.paper import deposit, fill
from drills.layering.predict import predict_many
from drills.planning.search import craft

IntArray = NDArray[np.int64]
PRESSURES = np.array([c.LIGHT, c.MIDDLE, c.FIRM])
_CHUNK = 20_000


@dataclass(frozen=True, eq=False)
class Recipes:
    """All sequences of one to three layers of m (pencil, pressure) choices.

    ``pencil``, ``press`` (m,) of the choices; ``lab1`` (m, 3), ``lab2`` (m, m, 3),
    ``lab3`` (m, m, m, 3) what one, two and three layers come to.
    """

    pencil: IntArray
    press: IntArray
    lab1: FloatArray
    lab2: FloatArray
    lab3: FloatArray

    @property
    def count(self) -> int:
        m = len(self.pencil)
        return int(m + m**2 + m**3)


def lay_all(palette: Palette, places: IntArray) -> Recipes:
    """Lay every recipe of these pencils."""
    m = 3 * len(places)
    choice = np.arange(m)
    pencil, press = choice // 3, choice % 3

    def lay(length: int) -> FloatArray:
        out = np.empty((m**length, 3), dtype=np.float64)
        for at in range(0, len(out), _CHUNK):
            codes = np.arange(at, min(at + _CHUNK, len(out)))
            layers = np.stack(np.unravel_index(codes, (m,) * length), axis=1)
            out[codes] = predict_many(
                palette,
                (places[pencil[layers]], PRESSURES[press[layers]], np.zeros_like(layers)),
            )
        return out.reshape((m,) * length + (3,))

    return Recipes(pencil, press, lay(1), lay(2), lay(3))


def best_recipes(
    palette: Palette, places: IntArray, recipes: Recipes, target: FloatArray
) -> tuple[float, float]:
    """Least ΔE00 from ``target`` (3,): of plans that keep the craft, and of all recipes."""
    L, a, b = target.tolist()
    roles = craft.roles(palette, (L, a, b), places)
    p, press = recipes.pencil, recipes.press
    off1 = delta_e00(recipes.lab1, target)
    off2 = delta_e00(recipes.lab2, target)
    off3 = delta_e00(recipes.lab3, target)
    firm, light = press == 2, press == 0
    one = roles.start[p] & (light | ~roles.touch[p])
    # By pairs (first, second): what a second layer owes to the first.
    mutes, covers = roles.mutes[np.ix_(p, p)], roles.covers[np.ix_(p, p)]
    both = _chalk(roles, p)
    laid = (light[None, :] | ~(mutes | roles.touch[p][None, :])) & ~both
    two = one[:, None] & ~firm[:, None] & laid
    two &= ~(roles.pale[p][None, :] & (recipes.lab1[:, 0] < craft.DARK_GROUND_BELOW)[:, None])
    two &= mutes | (off2 <= off1[:, None] - craft.GAIN)
    # A third layer: (first, second, third).
    three = two[:, :, None] & laid[:, None, :] & ~both[None]
    three &= ~(firm[None, :, None] & ~firm[None, None, :])
    same = p[:, None] == p[None, :]
    three &= ~(same[:, :, None] & same[None])
    dark = recipes.lab2[..., 0] < craft.DARK_GROUND_BELOW
    three &= ~(dark[:, :, None] & roles.pale[p][None, None, :])
    three &= ~mutes[:, None, :]  # what mutes isn't the last
    three &= ~mutes[:, :, None] | covers[:, None, :]
    three &= off3 <= off2[:, :, None] - craft.GAIN
    three &= _room(palette)[press][:, press][:, :, None]
    two &= ~mutes
    least = min(
        float(np.where(allowed, off, np.inf).min())
        for allowed, off in ((one, off1), (two, off2), (three, off3))
    )
    return least, float(min(off1.min(), off2.min(), off3.min()))


def _chalk(roles: craft.Roles, p: IntArray) -> NDArray[np.bool_]:
    """(m, m): white and black together."""
    white, black = roles.white[p], roles.black[p]
    chalk: NDArray[np.bool_] = white[:, None] & black[None, :] | black[:, None] & white[None, :]
    return chalk


def _room(palette: Palette) -> NDArray[np.bool_]:
    """(3, 3): whether the tooth takes a layer after two at these pressures."""
    first = deposit(palette.paper, np.zeros((3, palette.paper.zones)), PRESSURES)
    room = np.zeros((3, 3), dtype=np.bool_)
    for i in range(3):
        under = np.repeat(first[i : i + 1], 3, axis=0)
        both = under + deposit(palette.paper, under, PRESSURES)
        room[i] = fill(both) @ palette.paper.areas < c.FULL
    return room
