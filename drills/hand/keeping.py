"""Patches as the record keeps them, by set of pencils; what comes back may be anything."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from drills.basics.errors import InputError
from drills.hand.patch import Patch, Recipe
from drills.layering import constants as c
from drills.layering.moves import Move
from drills.pencils.pencil import PencilSet

MOST_PATCHES = 200
"""Kept of one set: a fit of more would be waited for."""
LONGEST_SHEET = 12
"""Letters of a sheet's name."""


def to_json(patches: Sequence[Patch]) -> list[Any]:
    """Patches as JSON values."""
    return [
        {
            "moves": [[m.action, m.pencil, m.pressure] for m in one.recipe.moves],
            "paper": one.recipe.paper,
            "lab": list(one.lab),
            "sd": one.sd,
            **({"sheet": one.sheet} if one.sheet else {}),
        }
        for one in patches
    ]


def from_json(values: object, pencil_set: PencilSet) -> tuple[Patch, ...]:
    """Patches of this set. Raises InputError naming the first that can't be one."""
    if not isinstance(values, list) or len(values) > MOST_PATCHES:
        raise _fault("they are not a list of patches, or too long a one")
    out = []
    for number, value in enumerate(values, 1):
        try:
            out.append(_patch(value, pencil_set))
        except (KeyError, TypeError, ValueError, OverflowError) as error:
            raise _fault(f"patch {number} is none of these pencils can make") from error
    return tuple(out)


def _fault(what: str) -> InputError:
    return InputError(
        "the patches kept of your hand", what, "Begin them anew with: coach hand anew"
    )


def _patch(value: Any, pencil_set: PencilSet) -> Patch:
    moves = []
    for action, pencil, pressure in value["moves"]:
        blends = action == "blend" and pencil == -1
        lays = (
            action == "lay"
            and type(pencil) is int
            and 0 <= pencil < len(pencil_set)
            and not pencil_set.pencils[pencil].is_blender
        )
        if not (blends or lays):
            raise ValueError
        moves.append(Move("lay" if lays else "blend", pencil, _number(pressure, 0.05, c.HEAVIEST)))
    if value["paper"] not in ("white", "black") or not any(m.action == "lay" for m in moves):
        raise ValueError
    L, a, b = value["lab"]
    lab = (_number(L, 0.0, 100.0), _number(a, -200.0, 200.0), _number(b, -200.0, 200.0))
    sheet = value.get("sheet", "")
    if not isinstance(sheet, str) or len(sheet) > LONGEST_SHEET:
        raise ValueError
    recipe = Recipe(tuple(moves), value["paper"])
    return Patch(recipe, lab, _number(value["sd"], 0.1, 20.0), sheet)


def _number(value: Any, least: float, most: float) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError
    if not (math.isfinite(value) and least <= value <= most):
        raise ValueError
    return float(value)
