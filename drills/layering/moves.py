"""One move of the hand: which pencil, how hard, or blending or burnishing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, Protocol

from drills.layering import constants as c

LIGHT: Final = c.LIGHT
MIDDLE: Final = c.MIDDLE
FIRM: Final = c.FIRM

Action = Literal["lay", "blend", "burnish"]
ACTIONS: Final[tuple[Action, ...]] = ("lay", "blend", "burnish")
LAY, BLEND, BURNISH = 0, 1, 2
"""Places in ``ACTIONS``, for arrays of moves."""


@dataclass(frozen=True)
class Move:
    """``pencil`` is a place in the palette, −1 for none; ``pressure`` 0 to 1.5, firm being 1.

    "lay" lays colour; "blend" rubs with the colourless blender; "burnish"
    presses all flat, first laying ``pencil`` as hard as it goes if it is one.
    """

    action: Action
    pencil: int = -1
    pressure: float = c.FIRM


def pressure_word(pressure: float) -> str:
    """ "light", "middle", "firm" or "heavy", whichever is nearest."""
    words = ((c.LIGHT, "light"), (c.MIDDLE, "middle"), (c.FIRM, "firm"), (c.HEAVIEST, "heavy"))
    return min(words, key=lambda word: abs(word[0] - pressure))[1]


class Named(Protocol):
    """What words for a move need of a palette: the pencils' names."""

    @property
    def names(self) -> tuple[str, ...]: ...


def move_words(palette: Named, move: Move) -> str:
    """A move in an artist's words: "Flagloft Red, light pressure"."""
    name = palette.names[move.pencil] if move.pencil >= 0 else ""
    if move.action == "blend":
        hand = "lightly" if pressure_word(move.pressure) == "light" else "firmly"
        return f"{name or 'colourless blender'}, {hand}"
    if move.action == "burnish":
        return f"burnish with {name}" if name else "burnish"
    return f"{name}, {pressure_word(move.pressure)} pressure"
