"""A patch: what was laid, on what, and the colour it came to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from drills.layering import constants as c
from drills.layering.moves import Move
from drills.pencils.pencil import Lab

Ground = Literal["white", "black"]
MOST_MOVES = 6
"""A patch of more teaches no more, for its tooth is full."""


@dataclass(frozen=True)
class Recipe:
    """Layers, or blending, on drawing paper; raises ValueError for burnishing, or for too many."""

    moves: tuple[Move, ...]
    paper: Ground = "white"

    def __post_init__(self) -> None:
        if not 1 <= len(self.moves) <= MOST_MOVES:
            raise ValueError(f"a patch has 1 to {MOST_MOVES} moves")
        if any(move.action == "burnish" for move in self.moves):
            raise ValueError("a burnished patch isn't learned from")


@dataclass(frozen=True)
class Patch:
    """A recipe once painted: ``lab`` is its colour, ``sd`` the doubt in it as a ΔE00; ``sheet``
    names the sheet that it is on, if it is on one."""

    recipe: Recipe
    lab: Lab
    sd: float = c.PATCH_SD
    sheet: str = ""
