"""What moves come to: the colour of the finished swatch, for one recipe or thousands."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.colour.spaces import reflectance_to_lab
from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.moves import ACTIONS, BLEND, BURNISH, LAY, Move
from drills.layering.palette import Palette
from drills.layering.sheet import (
    IntArray,
    Sheet,
    blank,
    blend,
    burnish,
    lay,
    reflectance,
    zone_reflectance,
)
from drills.pencils.pencil import Lab

Recipes = tuple[IntArray, FloatArray, IntArray]
"""Pencil, pressure and action (a place in ACTIONS), each (B, n)."""


def start(palette: Palette, batch: int = 1) -> Sheet:
    """``batch`` blank sheets of the palette's paper."""
    return blank(palette.paper, batch)


def apply(palette: Palette, sheet: Sheet, move: Move) -> Sheet:
    """Every sheet after one more move. Raises ValueError for a move that can't be made."""
    check_move(palette, move)
    blender = move.pencil >= 0 and palette.set.pencils[move.pencil].is_blender
    if move.action == "blend" or (move.action == "lay" and blender):
        return blend(sheet, move.pressure)
    if move.action == "lay":
        return lay(sheet, palette, move.pencil, move.pressure)
    if move.pencil >= 0 and not blender:
        sheet = lay(sheet, palette, move.pencil, c.HEAVIEST)
    return burnish(sheet)


def check_move(palette: Palette, move: Move) -> None:
    """Raises ValueError for a move that can't be made."""
    if move.action == "lay" and move.pencil < 0:
        raise ValueError("a layer needs a pencil")
    if not -1 <= move.pencil < len(palette):
        raise ValueError(f"there is no pencil {move.pencil}")


def sheet_lab(sheet: Sheet) -> FloatArray:
    """Lab (B, 3) of the sheets."""
    return reflectance_to_lab(reflectance(sheet))


def predict(palette: Palette, moves: Sequence[Move]) -> Lab:
    """Lab of the swatch after all moves; of the bare paper if there are none."""
    sheet = start(palette)
    for move in moves:
        sheet = apply(palette, sheet, move)
    return _lab(sheet_lab(sheet)[0])


def predict_steps(palette: Palette, moves: Sequence[Move]) -> FloatArray:
    """Lab (len(moves), 3) of the swatch after each move."""
    sheet = start(palette)
    seen = []
    for move in moves:
        sheet = apply(palette, sheet, move)
        seen.append(reflectance(sheet)[0])
    return reflectance_to_lab(np.array(seen).reshape(len(seen), -1)) if seen else np.empty((0, 3))


def predict_grain(palette: Palette, moves: Sequence[Move]) -> tuple[tuple[float, Lab], ...]:
    """What stands in the tooth's zones: the share of the area and the D50 Lab of each.

    Together they are what ``predict`` gives the mean of. Raises ValueError as it does.
    """
    sheet = start(palette)
    for move in moves:
        sheet = apply(palette, sheet, move)
    labs = reflectance_to_lab(zone_reflectance(sheet)[0])
    areas = sheet.paper.areas.tolist()
    return tuple((area, _lab(lab)) for area, lab in zip(areas, labs, strict=True))


def predict_many(palette: Palette, recipes: Sequence[Sequence[Move]] | Recipes) -> FloatArray:
    """Final Lab (B, 3) of many recipes of equal length n.

    ``recipes`` is a list of move lists, or arrays (pencil, pressure, action) of
    shape (B, n). Raises ValueError when lengths differ.
    """
    pencil, pressure, action = recipes if isinstance(recipes, tuple) else as_arrays(recipes)
    sheet = start(palette, len(pencil))
    for at in range(pencil.shape[1]):
        sheet = extend(palette, sheet, pencil[:, at], pressure[:, at], action[:, at])
    return sheet_lab(sheet)


def extend(
    palette: Palette,
    sheet: Sheet,
    pencil: IntArray,
    pressure: FloatArray,
    action: IntArray | int = LAY,
) -> Sheet:
    """Each sheet after a move of its own; all arguments (B,), ``action`` a place in ACTIONS."""
    colourless = palette.family[pencil] < 0
    kinds = np.broadcast_to(np.asarray(action), (len(sheet),))
    kinds = np.where((kinds == LAY) & colourless, BLEND, kinds)
    if not kinds.any():
        return lay(sheet, palette, pencil, pressure)
    parts, places = [], []
    for kind in (LAY, BLEND, BURNISH):
        rows = np.flatnonzero(kinds == kind)
        if not rows.size:
            continue
        part = sheet.take(rows)
        if kind == BLEND:
            part = blend(part, pressure[rows])
        elif kind == LAY:
            part = lay(part, palette, pencil[rows], pressure[rows])
        else:
            # A pencil burnishes with all its weight; none, or a blender, adds no colour.
            bare = (pencil[rows] < 0) | colourless[rows]
            with_colour = np.where(bare, 0.0, c.HEAVIEST)
            part = burnish(lay(part, palette, pencil[rows], with_colour))
        parts.append(part)
        places.append(rows)
    return Sheet.join(parts).take(np.argsort(np.concatenate(places)))


def as_arrays(recipes: Sequence[Sequence[Move]]) -> Recipes:
    """Move lists of one length as arrays. Raises ValueError when lengths differ."""
    if len({len(moves) for moves in recipes}) > 1:
        raise ValueError("recipes must be of one length")
    shape = (len(recipes), len(recipes[0]) if recipes else 0)
    pencil = np.array([[m.pencil for m in moves] for moves in recipes], dtype=np.int64)
    pressure = np.array([[m.pressure for m in moves] for moves in recipes], dtype=np.float64)
    action = np.array([[ACTIONS.index(m.action) for m in moves] for moves in recipes], np.int64)
    return pencil.reshape(shape), pressure.reshape(shape), action.reshape(shape)


def _lab(row: FloatArray) -> Lab:
    L, a, b = row.tolist()
    return (L, a, b)
