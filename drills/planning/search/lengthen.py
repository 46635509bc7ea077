"""From half-made plans to longer ones: what the craft lets come next, and what it leads to."""

from __future__ import annotations

import numpy as np

from drills.colour.difference import delta_e00
from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.moves import BLEND, LAY
from drills.layering.palette import Palette
from drills.layering.predict import sheet_lab
from drills.layering.sheet import blend, lay, tooth_filled
from drills.planning.search.craft import (
    DARK_GROUND_BELOW,
    GAIN,
    LAYERS_BEFORE_BLEND,
    MOST_FIRM,
    BoolArray,
    Roles,
)
from drills.planning.search.half_made import FIRM_AT, LIGHT_AT, PRESSURES, IntArray, Trails


def may_lay(trails: Trails, roles: Roles, left: int, most: int) -> BoolArray:
    """Which layer (B, 3, n) may come next, of ``left`` moves and ``most`` pencils in all.

    All rules of the craft but one: that it leads nearer (``leads_on``), which can be
    told only when it has been looked at.
    """
    B, n = trails.used.shape
    may = np.ones((B, n), dtype=np.bool_)
    if trails.moves == 0:
        may &= roles.start
        mutes = np.zeros((B, n), dtype=np.bool_)
    else:
        at_most = trails.used.sum(axis=1) >= most
        may[at_most] = trails.used[at_most]
        may &= ~(trails.used @ roles.white)[:, None] | ~roles.black
        may &= ~(trails.used @ roles.black)[:, None] | ~roles.white
        dark = trails.lab[:, 0] < DARK_GROUND_BELOW
        may &= ~(dark[:, None] & roles.pale)
        may &= ~_third_running(trails, n)
        may &= (tooth_filled(trails.sheet) < c.FULL)[:, None]
        may &= (trails.firms < MOST_FIRM)[:, None]
        mutes = roles.mutes[trails.main]
        if left == 1:
            # What mutes must be covered, and there is no move left to do it.
            may &= ~trails.bare[:, None] | roles.covers[trails.main]
            may &= ~mutes
        may &= ~(mutes & (trails.hazy | trails.bare)[:, None])
    out = np.repeat(may[:, None, :], len(PRESSURES), axis=1)
    out[:, LIGHT_AT + 1 :] &= ~(mutes | roles.touch)[:, None, :]
    out[trails.firms > 0, :FIRM_AT] = False
    return out


def _third_running(trails: Trails, n: int) -> BoolArray:
    """(B, n): the pencil of a trail's last two layers, blending between them or not."""
    out = np.zeros((len(trails), n), dtype=np.bool_)
    last = np.full(len(trails), -1, dtype=np.int64)
    twice = np.zeros(len(trails), dtype=np.bool_)
    for at in range(trails.moves):
        laid_now = trails.action[:, at] == LAY
        pencil = trails.pencil[:, at]
        twice = np.where(laid_now, pencil == last, twice)
        last = np.where(laid_now, pencil, last)
    rows = np.flatnonzero(twice)
    out[rows, last[rows]] = True
    return out


def leads_on(
    trails: Trails, roles: Roles, row: IntArray, pencil: IntArray, off: FloatArray
) -> BoolArray:
    """Which layers (k,), of trails ``row`` with ``pencil``, to ``off`` from the target, lead on.

    Those that mute may lead away for a while; others earn their place.
    """
    nearer: BoolArray = off <= trails.off[row] - GAIN
    return nearer if trails.moves == 0 else nearer | roles.mutes[trails.main[row], pencil]


def may_end(trails: Trails, roles: Roles) -> BoolArray:
    """After which next layer (B, n) a plan may end."""
    if trails.moves == 0:
        return np.ones(trails.used.shape, dtype=np.bool_)
    main = trails.main
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
    off: FloatArray,
) -> Trails:
    """The trails ``rows`` after one more layer each: ``pencil`` of the search's list, at ``press``.

    ``lab`` (k, 3) and ``off`` (k,) are what they look like, known already.
    """
    before = trails.take(rows)
    k = len(rows)
    pressure = PRESSURES[press]
    used = before.used.copy()
    used[np.arange(k), pencil] = True
    bare = before.bare
    if before.moves:
        main = before.main
        bare = roles.mutes[main, pencil] | (bare & ~roles.covers[main, pencil])
    return Trails(
        lay(before.sheet, palette, places[pencil], pressure),
        lab,
        off,
        np.column_stack([before.pencil, pencil]),
        np.column_stack([before.pressure, pressure]),
        np.column_stack([before.action, np.full(k, LAY)]),
        used,
        before.lays + 1,
        before.firms + (press == FIRM_AT),
        bare,
        np.zeros(k, dtype=np.bool_),
        before.blended,
    )


def may_blend(trails: Trails) -> BoolArray:
    """Which trails (B,) may be blended now, with room left for the finishing layer."""
    may: BoolArray = (
        (trails.lays >= LAYERS_BEFORE_BLEND)
        & (trails.firms < MOST_FIRM)
        & ~trails.blended
        & ~trails.bare
    )
    return may


def blended(trails: Trails, rows: IntArray, target: FloatArray) -> Trails:
    """The trails ``rows`` after a light blending."""
    before = trails.take(rows)
    k = len(rows)
    yes = np.ones(k, dtype=np.bool_)
    sheet = blend(before.sheet, c.LIGHT)
    lab = sheet_lab(sheet)
    return Trails(
        sheet,
        lab,
        delta_e00(lab, target),
        np.column_stack([before.pencil, np.full(k, -1)]),
        np.column_stack([before.pressure, np.full(k, c.LIGHT)]),
        np.column_stack([before.action, np.full(k, BLEND)]),
        before.used,
        before.lays,
        before.firms,
        before.bare,
        yes,
        yes,
    )


def may_burnish(trails: Trails) -> BoolArray:
    """Which trails (B,) may be burnished now, which ends them."""
    may: BoolArray = (trails.lays >= LAYERS_BEFORE_BLEND) & ~trails.bare & ~trails.hazy
    return may
