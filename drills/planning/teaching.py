"""How a teacher lays a plan, beyond what a plan must never break. Common practice, no source.

A plan may set one of these aside where that brings it clearly nearer; then it is named,
with what keeping it would have cost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drills.colour.hue import wheel_position, wheel_steps
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.films import FloatArray
from drills.layering.moves import Move, pressure_word
from drills.layering.palette import Palette
from drills.planning.search.craft import FAR_STEPS, GREYED_BELOW

BEGIN_NEAR = "begin in the target's own family or the one beside it"
LIGHT_FIRST = "lay the first layer lightly"
HOME = "finish with the main colour"
BESIDE = 1.5
"""Wheel steps from the target within which a pencil is of its family or of one beside it."""


@dataclass(frozen=True, eq=False)
class Teaching:
    """For one target: ``near`` (N,) pencils of its family or beside it, or greys where it is
    greyed; ``mutes`` (N,) those from across the wheel, and greys and black."""

    near: NDArray[np.bool_]
    mutes: NDArray[np.bool_]

    @classmethod
    def of(cls, palette: Palette, target: FloatArray) -> Teaching:
        """``target`` is a Lab (3,)."""
        away = wheel_steps(palette.wheel, float(wheel_position(target)))
        grey = (strength(palette.lab) < NEUTRAL_BELOW) | (palette.family < 0)
        greyed = float(strength(target)) < GREYED_BELOW
        near = (~grey & (away <= BESIDE)) | (grey & greyed)
        return cls(near, grey | (away >= FAR_STEPS))

    def set_aside(self, moves: Sequence[Move]) -> tuple[str, ...]:
        """The rules that these moves set aside, each once, in order."""
        lays = [move for move in moves if move.action == "lay"]
        if not lays:
            return ()
        found = []
        if not self.near[lays[0].pencil]:
            found.append(BEGIN_NEAR)
        if len(lays) > 1 and pressure_word(lays[0].pressure) != "light":
            found.append(LIGHT_FIRST)
        if len(lays) > 1 and self.mutes[lays[-1].pencil] and not self.near[lays[-1].pencil]:
            found.append(HOME)
        return tuple(found)
