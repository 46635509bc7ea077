"""Half-made plans, many at once: the sheets they have come to and what the craft must remember."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.moves import BLEND, LAY
from drills.layering.palette import Palette
from drills.layering.predict import sheet_lab
from drills.layering.sheet import Sheet, blank, blend, lay, tooth_filled
from drills.planning.craft import DARK_GROUND_BELOW, LAYERS_BEFORE_BLEND, BoolArray, Roles

IntArray = NDArray[np.int64]

PRESSURES: FloatArray = np.array([c.LIGHT, c.MIDDLE, c.FIRM])
"""The three hands a plan asks for."""
LIGHT_AT, FIRM_AT = 0, 2


@dataclass(frozen=True, eq=False)
class Trails:
    """B half-made plans of d moves, over n pencils (places in the search's own list).

    ``sheet`` of B; ``lab`` (B, 3) as they look; ``pencil`` (B, d), −1 for the
    blender, ``pressure`` (B, d) and ``action`` (B, d); ``used`` (B, n);
    ``lays`` (B,) layers of colour; ``firm`` one of them firm; ``bare`` a muting
    layer waits to be covered; ``hazy`` just blended; ``blended`` ever blended.
    """

    sheet: Sheet
    lab: FloatArray
    pencil: IntArray
    pressure: FloatArray
    action: IntArray
    used: BoolArray
    lays: IntArray
    firm: BoolArray
    bare: BoolArray
    hazy: BoolArray
    blended: BoolArray

    def __len__(self) -> int:
        return len(self.lab)

    def take(self, rows: IntArray) -> Trails:
        """The trails of these rows."""
        return Trails(
            self.sheet.take(rows),
            *(
                getattr(self, name)[rows]
                for name in (
                    "lab", "pencil", "pressure", "action", "used",
                    "lays", "firm", "bare", "hazy", "blended",
                )
            ),
        )  # fmt: skip

    @staticmethod
    def join(first: Trails, second: Trails) -> Trails:
        """Trails of equal length as one."""
        if not len(second):
            return first
        return Trails(
            Sheet.join([first.sheet, second.sheet]),
            *(
                np.concatenate([getattr(first, name), getattr(second, name)])
                for name in (
                    "lab", "pencil", "pressure", "action", "used",
                    "lays", "firm", "bare", "hazy", "blended",
                )
            ),
        )  # fmt: skip


def begin(palette: Palette, n: int, paper_lab: FloatArray) -> Trails:
    """One trail of no moves."""
    no = np.zeros(1, dtype=np.bool_)
    return Trails(
        blank(palette.paper, 1),
        paper_lab.reshape(1, 3),
        np.empty((1, 0), dtype=np.int64),
        np.empty((1, 0)),
        np.empty((1, 0), dtype=np.int64),
        np.zeros((1, n), dtype=np.bool_),
        np.zeros(1, dtype=np.int64),
        no, no, no, no,
    )  # fmt: skip


def full(sheet: Sheet) -> BoolArray:
    """Whether the tooth is full, (B,)."""
    is_full: BoolArray = tooth_filled(sheet) >= c.FULL
    return is_full


def may_lay(trails: Trails, roles: Roles, left: int, most: int) -> BoolArray:
    """Which layer (B, 3, n) may come next, of ``left`` moves and ``most`` pencils in all."""
    B, n = trails.used.shape
    d = trails.pencil.shape[1]
    if d == 0:
        return np.broadcast_to(roles.start, (1, 3, n)).copy()
    colours = np.where(trails.action == LAY, trails.pencil, -1)
    main = colours[:, 0]
    may = np.ones((B, n), dtype=np.bool_)
    at_most = trails.used.sum(axis=1) >= most
    may[at_most] = trails.used[at_most]
    may &= ~(trails.used @ roles.white)[:, None] | ~roles.black
    may &= ~(trails.used @ roles.black)[:, None] | ~roles.white
    dark = trails.lab[:, 0] < DARK_GROUND_BELOW
    may &= ~(dark[:, None] & roles.pale)
    if d >= 2:
        again = (colours[:, -1] == colours[:, -2]) & (colours[:, -1] >= 0)
        rows = np.flatnonzero(again)
        may[rows, colours[rows, -1]] = False
    may &= ~full(trails.sheet)[:, None]
    if left == 1:
        # What mutes must be covered, and there is no move left to do it.
        may &= ~trails.bare[:, None] | roles.covers[main]
    out = np.repeat(may[:, None, :], 3, axis=1)
    mutes = roles.mutes[main]
    out[:, LIGHT_AT] &= ~(mutes & ((left == 1) | trails.hazy[:, None]))
    out[:, LIGHT_AT + 1 :] &= ~mutes[:, None, :]
    out[trails.firm, :FIRM_AT] = False
    return out


def may_end(trails: Trails, roles: Roles) -> BoolArray:
    """After which next layer (B, n) a plan may end."""
    n = trails.used.shape[1]
    if trails.pencil.shape[1] == 0:
        return np.ones((1, n), dtype=np.bool_)
    main = trails.pencil[:, 0]
    ends: BoolArray = ~roles.mutes[main] & (~trails.bare[:, None] | roles.covers[main])
    return ends


def laid(
    palette: Palette,
    places: IntArray,
    trails: Trails,
    roles: Roles,
    rows: IntArray,
    press: IntArray,
    pencil: IntArray,
    lab: FloatArray,
) -> Trails:
    """The trails ``rows`` after one more layer each: ``pencil`` of the search's list, at ``press``.

    ``lab`` (k, 3) is what they look like, known already.
    """
    before = trails.take(rows)
    k = len(rows)
    pressure = PRESSURES[press]
    used = before.used.copy()
    used[np.arange(k), pencil] = True
    if before.pencil.shape[1]:
        main = before.pencil[:, 0]
        mutes, covers = roles.mutes[main, pencil], roles.covers[main, pencil]
    else:
        mutes = covers = np.zeros(k, dtype=np.bool_)
    return Trails(
        lay(before.sheet, palette, places[pencil], pressure),
        lab,
        np.column_stack([before.pencil, pencil]),
        np.column_stack([before.pressure, pressure]),
        np.column_stack([before.action, np.full(k, LAY)]),
        used,
        before.lays + 1,
        before.firm | (press == FIRM_AT),
        mutes | (before.bare & ~covers),
        np.zeros(k, dtype=np.bool_),
        before.blended,
    )


def may_blend(trails: Trails) -> BoolArray:
    """Which trails (B,) may be blended now."""
    may: BoolArray = (trails.lays >= LAYERS_BEFORE_BLEND) & ~trails.blended & ~trails.bare
    return may


def blended(trails: Trails, rows: IntArray) -> Trails:
    """The trails ``rows`` after a light blending."""
    before = trails.take(rows)
    k = len(rows)
    yes = np.ones(k, dtype=np.bool_)
    sheet = blend(before.sheet, c.LIGHT)
    return Trails(
        sheet,
        sheet_lab(sheet),
        np.column_stack([before.pencil, np.full(k, -1)]),
        np.column_stack([before.pressure, np.full(k, c.LIGHT)]),
        np.column_stack([before.action, np.full(k, BLEND)]),
        before.used,
        before.lays,
        before.firm,
        before.bare,
        yes,
        yes,
    )
