"""The main colours of a picture.

Every pixel is counted into cells of colour, so neither the order of the pixels nor chance has
a part in what is found. The cells, in CIECAM16's uniform space (CAM16-UCS; Li et al. 2017), are
clustered by k-means (Lloyd 1982, IEEE Transactions on Information Theory 28). It starts from
seeds of k-means++ (Arthur & Vassilvitskii 2007) without the dice: each seed is the cell of the
greatest term where theirs is drawn in proportion to it. A seed weighs as the cube root of the
pixels about it, and then a cell as the root of its own (our choice), so that a small accent,
far from all else, is a seed before the big masses are cut finer.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray
from drills.colour.spaces import Lab, srgb_to_xyz, xyz_to_lab
from drills.pictures.picture import LevelArray, Picture
from drills.pictures.spot import Correction

MOST: Final = 24
"""Main colours that may be asked for."""
_BITS = 7
_MOST_CELLS = 200_000
_CELL = 2.0  # side of a cell in the uniform space
_SPECK = 2e-4
"""Share of the pixels that a colour must have, with what lies next to it, to be no noise."""
_NEXT = 3.0
"""Colours nearer than this in the uniform space are one."""
_MOST_ROUNDS = 60
_SETTLED = 0.02
_COPY_SIDE = 1000


@dataclass(frozen=True)
class MainColour:
    """A main colour: Lab under D50, and the share 0–1 of the pixels that it stands for."""

    lab: Lab
    share: float


def main_colours(
    picture: Picture, count: int, correction: Correction | None = None
) -> tuple[MainColour, ...]:
    """At most ``count`` main colours (1 to 24), the one with most pixels first.

    Fewer where the picture has fewer that can be told apart. A ``correction`` of uneven light
    differs from place to place, so it is made on a smaller copy. Raises InputError for a count
    out of range.
    """
    if correction is not None and not correction.even:
        labs = corrected_copy(picture, correction, _COPY_SIDE).reshape(-1, 3)
        return cluster(labs, np.ones(len(labs)), count)
    filed, pixels = histogram(picture.strips())
    xyz = picture.xyz(filed)
    if correction is not None:
        xyz = correction.corrected(xyz, np.zeros((len(xyz), 2)))
    return cluster(xyz_to_lab(xyz), pixels, count)


def corrected_copy(picture: Picture, correction: Correction | None, most: int) -> FloatArray:
    """Lab (h, w, 3) of a copy whose longer side has at most ``most`` pixels."""
    scale = min(1.0, most / max(picture.width, picture.height))
    wide = max(1, round(picture.width * scale))
    high = max(1, round(picture.height * scale))
    xyz = srgb_to_xyz(picture.fitted(wide, high) / 255)
    if correction is not None:
        across = (np.arange(wide) + 0.5) * (picture.width / wide)
        down = (np.arange(high) + 0.5) * (picture.height / high)
        xyz = correction.corrected(xyz, np.stack(np.meshgrid(across, down), -1))
    return xyz_to_lab(xyz)


def histogram(strips: Iterable[LevelArray]) -> tuple[LevelArray, FloatArray]:
    """The colours (n, 3) that pixels fall in, 128 or 64 levels a channel, and how many of each."""
    bits, levels = _BITS, 1 << _BITS
    counts = np.zeros(levels**3, dtype=np.int64)
    for strip in strips:
        steps = strip.reshape(-1, 3) >> (8 - _BITS)
        place = steps[:, 0].astype(np.int32)
        for channel in (1, 2):
            place <<= _BITS
            place |= steps[:, channel]
        counts += np.bincount(place, minlength=levels**3)
    if np.count_nonzero(counts) > _MOST_CELLS:
        # Rich in colours: cells of twice the side do, and are an eighth as many.
        counts = counts.reshape((levels // 2, 2) * 3).sum(axis=(1, 3, 5)).reshape(-1)
        bits, levels = bits - 1, levels // 2
    found = np.flatnonzero(counts)
    steps3 = np.stack([found >> 2 * bits, found >> bits & levels - 1, found & levels - 1], -1)
    # The ends of the scale stay what they are: white is white.
    colours = np.rint(steps3 * (255 / (levels - 1))).astype(np.uint8)
    return colours, counts[found].astype(np.float64)


def cluster(labs: FloatArray, pixels: FloatArray, count: int) -> tuple[MainColour, ...]:
    """Main colours of Lab (n, 3) that stand for ``pixels`` (n,) each. Raises InputError."""
    if not 1 <= count <= MOST:
        limit = f"Give 1 to {MOST}."
        raise InputError("main colours", f"{count} is out of range", limit)
    place, lab, weight = _cells(uniform(labs), labs, pixels)
    seeds = _seeds(place, weight, count)
    of = _k_means(place, np.sqrt(weight), place[seeds])
    found = []
    for i in range(len(seeds)):
        mine = of == i
        if mine.any():
            mean = np.average(lab[mine], axis=0, weights=weight[mine])
            found.append((float(weight[mine].sum() / weight.sum()), tuple(mean.tolist())))
    found.sort(key=lambda one: (-one[0], one[1]))
    return tuple(MainColour(lab, share) for share, lab in found)


def uniform(labs: FloatArray) -> FloatArray:
    """CAM16-UCS J', a', b' (n, 3) of Lab (n, 3), in the viewing conditions of the wheel."""
    from drills.colour.hue import cam16_ucs

    return cam16_ucs(labs)


def _cells(
    place: FloatArray, labs: FloatArray, pixels: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Colours gathered in cells: mean place (c, 3), mean Lab (c, 3), pixels (c,)."""
    key = np.floor(place / _CELL).astype(np.int64) + 512
    _, of = np.unique((key[:, 0] << 20) | (key[:, 1] << 10) | key[:, 2], return_inverse=True)
    weight = np.asarray(np.bincount(of, pixels), dtype=np.float64)
    sums = [np.bincount(of, pixels * column) for column in (*place.T, *labs.T)]
    means = np.stack(sums, -1) / weight[:, None]
    return means[:, :3], means[:, 3:], weight


def _seeds(place: FloatArray, weight: FloatArray, count: int) -> NDArray[np.int64]:
    """Places of the seeds: at first the heaviest cell, then those of the greatest term."""
    body = _mass_about(place, weight)
    can = body >= max(_SPECK * weight.sum(), min(2.0, weight.sum() / 4))
    if not can.any():
        can = body == body.max()
    seeds = [int(np.argmax(np.where(can, body, -1.0)))]
    off = np.linalg.norm(place - place[seeds[0]], axis=1)
    while len(seeds) < count:
        term = np.where(can & (off > _NEXT), off**2 * np.cbrt(body), -1.0)
        best = int(np.argmax(term))
        if term[best] < 0:
            break
        seeds.append(best)
        off = np.minimum(off, np.linalg.norm(place - place[best], axis=1))
    return np.array(seeds)


def _mass_about(place: FloatArray, weight: FloatArray) -> FloatArray:
    """The pixels (c,) in each cell's neighbourhood of three cells a side."""
    key = np.floor(place / _CELL).astype(np.int64)
    key -= key.min(axis=0) - 1
    shape = key.max(axis=0) + 2
    grid = np.zeros(shape)
    np.add.at(grid, tuple(key.T), weight)
    for axis in range(3):
        grid = grid + np.roll(grid, 1, axis) + np.roll(grid, -1, axis)
    mass: FloatArray = grid[tuple(key.T)]
    return mass


def _k_means(place: FloatArray, weight: FloatArray, centres: FloatArray) -> NDArray[np.int64]:
    """The cluster (c,) of each cell after Lloyd's rounds."""
    across = np.ascontiguousarray(place.T)
    of = np.zeros(len(place), dtype=np.int64)
    for _ in range(_MOST_ROUNDS):
        off = (centres**2).sum(1)[:, None] - 2 * (centres @ across)
        of = np.argmin(off, axis=0).astype(np.int64)
        total = np.bincount(of, weight, len(centres))
        sums = [np.bincount(of, weight * axis, len(centres)) for axis in across]
        # A centre that lost all its cells stays where it was.
        moved = np.where(
            total[:, None] > 0, np.stack(sums, -1) / np.maximum(total, 1e-12)[:, None], centres
        )
        settled = np.abs(moved - centres).max() < _SETTLED
        centres = moved
        if settled:
            break
    return of
