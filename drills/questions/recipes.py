"""Recipes of a few layers: how they are made up, every order of them, and the working rules."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import wheel_steps
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import Palette
from drills.layering.predict import as_arrays, extend, predict_many, sheet_lab, start
from drills.questions.draw import VISIBLE_STEP, FloatArray, IntArray, family_of

OPPOSITE = 4.0
"""Wheel steps from which a pencil counts as a complement that mutes."""
KIN = (0.5, 2.5)
"""Wheel steps of an underlayer from its main colour: a kindred, lighter hue."""
ORDERS = 5
"""Orders of a recipe in a rough look at how far apart they lie."""
LEAST_SPREAD = 1.5 * VISIBLE_STEP
"""Least median ΔE00 of all orders from the planned one: under it, order hardly matters."""

LIGHT_FIRST = "light before heavy: firm pressure first fills the tooth, and later layers slide"
HELD_INSIDE = "the muting layer is held inside: some colour under it, the main colour over it"
FINISH_LAST = "the blender comes before the finishing layer, which takes its haze off"
BLEND_BARE = "the blender needs colour on the paper before it"

Order = tuple[int, ...]


@dataclass(frozen=True)
class Recipe:
    """Moves in their working order: a main colour and what mutes it."""

    main: int
    muter: int
    moves: tuple[Move, ...]


@lru_cache(maxsize=64)
def across(palette: Palette, family: str) -> list[tuple[int, int]]:
    """Each main colour of a family with each pencil across the wheel."""
    hued = hued_of(palette)
    return [
        (int(main), int(other))
        for main in hued
        if family_of(palette, main) == family
        for other in hued[wheel_steps(palette.wheel[main], palette.wheel[hued]) >= OPPOSITE]
    ]


@lru_cache(maxsize=8)
def hued_of(palette: Palette) -> IntArray:
    """The pencils that are no greys."""
    colours = palette.colour_indices
    return colours[strength(palette.lab[colours]) >= NEUTRAL_BELOW]


def make_recipe(palette: Palette, main: int, muter: int, rng: random.Random) -> Recipe:
    """Three to five moves in their working order, no two alike."""
    hued = hued_of(palette)
    away = wheel_steps(palette.wheel[main], palette.wheel[hued])
    lighter = palette.lab[hued, 0] > palette.lab[main, 0] + 5.0
    kin = hued[(away >= KIN[0]) & (away <= KIN[1]) & lighter]
    # A light muter hardly shows where it lies: order matters more with a middle one.
    muting = MIDDLE if rng.random() < 0.7 else LIGHT
    moves = [Move("lay", main, MIDDLE), Move("lay", muter, muting), Move("lay", main, FIRM)]
    if kin.size and rng.random() < 0.6:
        moves.insert(0, Move("lay", int(kin[rng.randrange(kin.size)]), LIGHT))
    if palette.blender is not None and rng.random() < 0.7:
        moves.insert(len(moves) - 1, Move("blend", palette.blender, LIGHT))
    return Recipe(main, muter, tuple(moves))


def rough_spread(
    palette: Palette, plans: Sequence[Sequence[Move]], rng: random.Random
) -> list[float]:
    """About how far off a shuffled order lands (ΔE00), for each plan, from a few orders of it."""
    most = max(map(len, plans))
    recipes = []
    for plan in plans:
        # A layer without pressure lays nothing: it brings all to one length.
        idle = [Move("lay", plan[0].pencil, 0.0)] * (most - len(plan))
        recipes.append([*plan, *idle])
        recipes.extend([*rng.sample(plan, len(plan)), *idle] for _ in range(ORDERS))
    labs = predict_many(palette, recipes).reshape(len(plans), 1 + ORDERS, 3)
    rough: list[float] = np.median(delta_e00(labs[:, 1:], labs[:, :1]), axis=1).tolist()
    return rough


def every_order(palette: Palette, moves: Sequence[Move]) -> tuple[list[Order], FloatArray]:
    """All n! orders of n moves, and the Lab (n!, 3) of each; a common beginning is laid once."""
    pencil, pressure, action = (column[0] for column in as_arrays([moves]))
    orders: list[Order] = [()]
    sheet = start(palette)
    for _ in moves:
        nexts = [(row, i) for row, o in enumerate(orders) for i in range(len(moves)) if i not in o]
        orders = [(*orders[row], i) for row, i in nexts]
        rows, at = np.array(nexts, dtype=np.int64).T
        sheet = extend(palette, sheet.take(rows), pencil[at], pressure[at], action[at])
    return orders, sheet_lab(sheet)


def rules_asked(moves: Sequence[Move]) -> tuple[str, ...]:
    """The working rules that moves can break; a blend is either first or last, not both."""
    blends = any(move.action == "blend" for move in moves)
    return (LIGHT_FIRST, HELD_INSIDE, *((FINISH_LAST,) if blends else ()))


def rules_broken(main: int, muter: int, moves: Sequence[Move]) -> tuple[str, ...]:
    """The working rules that moves of a main colour and its muter break in this order.

    Common practice, no source.
    """
    broken = []
    # The muting layer is held inside whatever its pressure; the others go from light to firm.
    presses = [m.pressure for m in moves if m.action == "lay" and m.pencil != muter]
    if presses != sorted(presses):
        broken.append(LIGHT_FIRST)
    at = next(i for i, move in enumerate(moves) if move.pencil == muter)
    under = any(m.action == "lay" and m.pencil != muter for m in moves[:at])
    over = any(m.pencil == main for m in moves[at + 1 :])
    if not (under and over):
        broken.append(HELD_INSIDE)
    blends = [i for i, move in enumerate(moves) if move.action == "blend"]
    if blends and blends[0] == 0:
        broken.append(BLEND_BARE)
    if blends and moves[-1].action == "blend":
        broken.append(FINISH_LAST)
    return tuple(broken)
