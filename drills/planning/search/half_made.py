"""Half-made plans, many at once: the sheets they have come to and what the craft must remember."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.palette import Palette
from drills.layering.sheet import Sheet, blank
from drills.planning.search.craft import BoolArray

IntArray = NDArray[np.int64]

PRESSURES: FloatArray = np.array([c.LIGHT, c.MIDDLE, c.FIRM])
"""The three hands a plan asks for."""
LIGHT_AT, FIRM_AT = 0, 2


@dataclass(frozen=True, eq=False)
class Trails:
    """B half-made plans of d moves, over n pencils (places in the search's own list).

    ``sheet`` of B; ``lab`` (B, 3) as they look and ``off`` (B,) their ΔE00 from the
    target; ``pencil`` (B, d), −1 for the blender, ``pressure`` (B, d) and ``action``
    (B, d); ``used`` (B, n); ``lays`` (B,) layers of colour and ``firms`` (B,) the firm
    ones; ``bare`` (B,) a muting layer waits to be covered; ``hazy`` just blended;
    ``blended`` ever blended.
    """

    sheet: Sheet
    lab: FloatArray
    off: FloatArray
    pencil: IntArray
    pressure: FloatArray
    action: IntArray
    used: BoolArray
    lays: IntArray
    firms: IntArray
    bare: BoolArray
    hazy: BoolArray
    blended: BoolArray

    def __len__(self) -> int:
        return len(self.lab)

    @property
    def moves(self) -> int:
        """How many moves each has made."""
        return int(self.pencil.shape[1])

    @property
    def main(self) -> IntArray:
        """The pencil (B,) each began with. There must be one move or more."""
        return self.pencil[:, 0]

    def take(self, rows: IntArray) -> Trails:
        """The trails of these rows."""
        return Trails(self.sheet.take(rows), *(getattr(self, name)[rows] for name in _ARRAYS))

    @staticmethod
    def join(first: Trails, second: Trails) -> Trails:
        """Trails of equal length as one."""
        if not len(second):
            return first
        return Trails(
            Sheet.join([first.sheet, second.sheet]),
            *(np.concatenate([getattr(first, name), getattr(second, name)]) for name in _ARRAYS),
        )


_ARRAYS = tuple(field.name for field in fields(Trails) if field.name != "sheet")


def begin(palette: Palette, n: int, paper_lab: FloatArray) -> Trails:
    """One trail of no moves."""
    no = np.zeros(1, dtype=np.bool_)
    none = np.zeros(1, dtype=np.int64)
    return Trails(
        blank(palette.paper, 1),
        paper_lab.reshape(1, 3),
        np.full(1, np.inf),
        np.empty((1, 0), dtype=np.int64),
        np.empty((1, 0)),
        np.empty((1, 0), dtype=np.int64),
        np.zeros((1, n), dtype=np.bool_),
        none,
        none,
        no,
        no,
        no,
    )
