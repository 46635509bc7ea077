"""What a teacher would stop the hand for, in an artist's words. Common practice, no source."""

from __future__ import annotations

from collections.abc import Sequence

from drills.layering import constants as c
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import apply, start
from drills.layering.sheet import tooth_filled

AFTER_BURNISH = "nothing takes after burnishing: the tooth is pressed flat"
BLEND_BARE = "there is nothing on the paper yet to blend"
BLEND_LAST = "the blender leaves a faint haze: finish with a layer of colour"
OVERFULL = "the tooth is full: more layers slide off and turn waxy"


def broken_rules(palette: Palette, moves: Sequence[Move]) -> tuple[str, ...]:
    """The rules these moves break, each said once, in the order they are broken.

    Raises ValueError for a move that can't be made.
    """
    broken: list[str] = []
    sheet = start(palette)
    hazy = False
    for at, move in enumerate(moves):
        if not -1 <= move.pencil < len(palette):
            raise ValueError(f"there is no pencil {move.pencil}")
        blending = move.action == "blend" or (
            move.action == "lay" and palette.set.pencils[move.pencil].is_blender
        )
        if sheet.sealed[0]:
            broken.append(AFTER_BURNISH)
        elif blending and at == 0:
            broken.append(BLEND_BARE)
        elif not blending and move.pencil >= 0 and tooth_filled(sheet)[0] >= c.FULL:
            broken.append(OVERFULL)
        if not sheet.sealed[0]:
            hazy = blending
        sheet = apply(palette, sheet, move)
    if hazy:
        broken.append(BLEND_LAST)
    return tuple(dict.fromkeys(broken))
