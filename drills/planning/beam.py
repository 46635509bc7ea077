"""The search: layer by layer, keeping the half-made plans that promise most."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab, xyz_to_lab
from drills.layering.films import FloatArray
from drills.layering.moves import BURNISH
from drills.layering.palette import Palette
from drills.layering.predict import sheet_lab
from drills.layering.sheet import burnish
from drills.planning.craft import LAYERS_BEFORE_BLEND, BoolArray, Roles
from drills.planning.look import Looker
from drills.planning.trail import (
    FIRM_AT,
    PRESSURES,
    IntArray,
    Trails,
    begin,
    blended,
    laid,
    may_blend,
    may_end,
    may_lay,
)

KEPT = 24
"""Finished plans kept of each number of pencils at each step."""


@dataclass(frozen=True, eq=False)
class Found:
    """m finished plans of d moves: ``pencil`` (places in the palette, −1 for none),
    ``pressure``, ``action`` (m, d), ``delta_e00`` (m,), ``pencils`` (m,) how many."""

    pencil: IntArray
    pressure: FloatArray
    action: IntArray
    delta_e00: FloatArray
    pencils: IntArray

    def __len__(self) -> int:
        return len(self.pencil)


@dataclass(frozen=True)
class Width:
    """``beam`` half-made plans kept at each step, ``blends`` of them blended,
    ``burnishes`` tried to the end."""

    beam: int = 200
    blends: int = 24
    burnishes: int = 16


def search(
    palette: Palette,
    places: IntArray,
    target: FloatArray,
    roles: Roles,
    max_layers: int,
    max_pencils: int,
    insist: BoolArray,
    blender: bool,
    burnishing: bool,
    width: Width,
) -> list[Found]:
    """Finished plans for ``target`` (3,), of every length to ``max_layers``."""
    looker = Looker.of(palette, places, PRESSURES)
    trails = begin(palette, len(places), reflectance_to_lab(palette.paper.reflectance))
    found: list[Found] = []
    for step in range(max_layers):
        left = max_layers - step
        if burnishing and step >= LAYERS_BEFORE_BLEND:
            found += _burnished(palette, places, trails, target, insist, width.burnishes)
        may = may_lay(palette, trails, roles, left, max_pencils)
        xyz = looker.xyz(trails.sheet, np.where(trails.firm, FIRM_AT, 0))
        row, press, pencil = np.nonzero(may)
        lab = xyz_to_lab(xyz[row, press, pencil])
        off = delta_e00(lab, target)
        count = trails.used.sum(axis=1)[row] + ~trails.used[row, pencil]
        ends = may_end(trails, roles)[row, pencil]
        if insist.any():
            missing = (insist & ~trails.used).sum(axis=1)[row] - (
                insist[pencil] & ~trails.used[row, pencil]
            )
            ends &= missing == 0
            fits = (missing <= left - 1) & (missing <= max_pencils - count)
        else:
            fits = np.ones(len(row), dtype=np.bool_)
        done = np.flatnonzero(ends)
        found += _collect(places, trails, row, press, pencil, off, count, done)
        if left == 1:
            break
        go = np.flatnonzero(fits)
        go = go[_best(off[go], width.beam)]
        after = laid(
            palette, places, trails, roles, row[go], press[go], pencil[go], lab[go]
        )
        if blender and left >= 3 and step + 1 > LAYERS_BEFORE_BLEND:
            can = np.flatnonzero(may_blend(trails))
            can = can[_best(delta_e00(trails.lab[can], target), width.blends)]
            after = Trails.join(after, blended(trails, can))
        trails = after
    return found


def _best(score: FloatArray, most: int) -> IntArray:
    """Places of the ``most`` least scores, best first; ties by place."""
    if len(score) > most:
        near = np.argpartition(score, most - 1)[:most]
        near.sort()
        return near[np.argsort(score[near], kind="stable")]
    return np.argsort(score, kind="stable")


def _collect(
    places: IntArray,
    trails: Trails,
    row: IntArray,
    press: IntArray,
    pencil: IntArray,
    off: FloatArray,
    count: IntArray,
    done: IntArray,
) -> list[Found]:
    """The best finished plans of each number of pencils."""
    found = []
    for pencils in np.unique(count[done]):
        these = done[count[done] == pencils]
        these = these[_best(off[these], KEPT)]
        found.append(_recipes(places, trails, row[these], press[these], pencil[these], off[these]))
    return found


def _recipes(
    places: IntArray,
    trails: Trails,
    row: IntArray,
    press: IntArray,
    pencil: IntArray,
    off: FloatArray,
) -> Found:
    before = trails.pencil[row]
    used = trails.used[row].copy()
    used[np.arange(len(row)), pencil] = True
    return Found(
        np.column_stack([np.where(before >= 0, places[before], -1), places[pencil]]),
        np.column_stack([trails.pressure[row], PRESSURES[press]]),
        np.column_stack([trails.action[row], np.zeros(len(row), dtype=np.int64)]),
        off,
        used.sum(axis=1),
    )


def _burnished(
    palette: Palette,
    places: IntArray,
    trails: Trails,
    target: FloatArray,
    insist: BoolArray,
    most: int,
) -> list[Found]:
    """The nearest of the trails pressed flat, as finished plans."""
    ready = (trails.lays >= LAYERS_BEFORE_BLEND) & ~trails.bare & ~trails.hazy
    ready &= trails.used[:, insist].all(axis=1)
    rows = np.flatnonzero(ready)
    rows = rows[_best(delta_e00(trails.lab[rows], target), most)]
    if not rows.size:
        return []
    some = trails.take(rows)
    lab = sheet_lab(burnish(some.sheet))
    k = len(rows)
    before = some.pencil
    return [
        Found(
            np.column_stack([np.where(before >= 0, places[before], -1), np.full(k, -1)]),
            np.column_stack([some.pressure, np.ones(k)]),
            np.column_stack([some.action, np.full(k, BURNISH)]),
            delta_e00(lab, target),
            some.used.sum(axis=1),
        )
    ]
