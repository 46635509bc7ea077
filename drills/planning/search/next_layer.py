"""What every next layer would look like, worked out without laying it.

The film's closed form over a ground g (drills.layering.films) is a ratio of two
straight lines in g:

    R = ((e − lp)·g + l(1 − e)) / ((1 − lp·e) − p(1 − e)·g),  e = exp(−decay·x)

with l and p the film's limit and pole.

Its coefficients depend on the pencil and on the thickness x alone, and x follows
from the pressures so far, whatever the pencils. So sheets with one history of
pressures share them, and a layer costs two products and a division a number.
Single precision: 1e-4 in Lab, plenty to choose by; what is shown is worked again.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import weights
from drills.layering import constants as c
from drills.layering.doubt.quick_layers import EVERY_OTHER, coarse_weights
from drills.layering.films import FloatArray
from drills.layering.palette import Palette
from drills.layering.paper import deposit
from drills.layering.sheet import Sheet, new_surface

SingleArray = NDArray[np.float32]

_BLOCK = 40_000
"""Numbers worked on together: what the processor's cache holds."""


@dataclass(frozen=True, eq=False)
class Looker:
    """The films of n pencils in single precision; ``limit``, ``pole``, ``fade`` (n, 31),
    ``to_xyz`` (Z·31, 3); ``surface`` (n,) what they turn back, ``areas`` (Z,),
    ``white`` (3,) the XYZ of all light turned back. A ``bands`` of every other band has 16
    for 31: within ΔE00 0.05, in half the time."""

    limit: SingleArray
    pole: SingleArray
    fade: SingleArray
    surface: FloatArray
    areas: FloatArray
    white: SingleArray
    pressures: FloatArray
    to_xyz: SingleArray
    bands: slice

    @staticmethod
    def of(
        palette: Palette,
        pencils: NDArray[np.int64],
        pressures: FloatArray,
        quick: bool = False,
    ) -> Looker:
        """A looker for these pencils at these pressures (P,); a ``quick`` one is less exact."""
        bands = EVERY_OTHER if quick else slice(None)
        to_xyz = coarse_weights() if quick else weights("D50")
        mean_to_xyz = palette.paper.areas[:, None, None] * to_xyz[None]
        return Looker(
            palette.limit[pencils][:, bands].astype(np.float32),
            palette.pole[pencils][:, bands].astype(np.float32),
            -palette.decay[pencils][:, bands].astype(np.float32),
            palette.surface[pencils],
            palette.paper.areas,
            weights("D50").sum(axis=0).astype(np.float32),
            pressures,
            mean_to_xyz.reshape(-1, 3).astype(np.float32),
            bands,
        )

    @cached_property
    def _of_zones(self) -> tuple[SingleArray, SingleArray, SingleArray, SingleArray]:
        """``limit``, ``pole``, their product and ``fade`` as (n, Z·31), the same for each zone:
        long rows are worked on several times as fast as short ones."""
        l, p, fade = (np.tile(one, len(self.areas)) for one in (self.limit, self.pole, self.fade))
        return l, p, l * p, fade

    def xyz(self, sheet: Sheet, hard: NDArray[np.int64]) -> SingleArray:
        """XYZ (B, P, n, 3) of B open sheets after each pencil at each pressure.

        Of sheet i, pressures before place ``hard`` (B,) are passed over (NaN).
        """
        B, _ = sheet.thickness.shape
        P, n = len(self.pressures), len(self.limit)
        out = np.full((B, P, n, 3), np.nan, dtype=np.float32)
        grounds = sheet.R[..., self.bands].astype(np.float32).reshape(B, -1)
        keys = np.column_stack([np.round(sheet.thickness, 9), np.round(sheet.haze, 9), hard])
        _, first, group = np.unique(keys, axis=0, return_index=True, return_inverse=True)
        group = group.reshape(-1)
        for g, row in enumerate(first):
            rows = np.flatnonzero(group == g)
            least = int(hard[row])
            press = self.pressures[least:]
            if not press.size:
                continue
            x = deposit(
                sheet.paper, np.repeat(sheet.thickness[row : row + 1], len(press), 0), press
            )
            xyz = self._group(grounds[rows], x, sheet.haze[row], press)
            xyz += self._turned_back(sheet.surface[rows], x)
            out[rows, least:] = xyz
        return out

    def _turned_back(self, surface: FloatArray, x: FloatArray) -> SingleArray:
        """XYZ (b, p, n, 3) that surfaces (b, Z) turn back once x (p, Z) lies on them."""
        stays = self.areas * new_surface(np.ones(1), np.zeros(1), x)
        seen = (surface @ stays.T)[:, :, None] + np.outer(1.0 - stays.sum(axis=1), self.surface)
        xyz: SingleArray = seen.astype(np.float32)[..., None] * self.white
        return xyz

    def _group(
        self, grounds: SingleArray, x: FloatArray, haze: FloatArray, press: FloatArray
    ) -> SingleArray:
        """XYZ (b, p, n, 3) of sheets (b, Z·31) that stand equally thick, x (p, Z) to be added."""
        n, bands = self.limit.shape
        out = np.empty((len(grounds), len(press), n, 3), dtype=np.float32)
        l, p, both, fade = self._of_zones
        # One pressure at a time: the products below then stay small enough to be worked
        # by one thread, for two that wait for each other on a busy machine cost far more.
        for at, thickness in enumerate(x.astype(np.float32)):
            e = np.exp(fade * np.repeat(thickness, bands))
            lines = (e - both, l * (1.0 - e), 1.0 - both * e, p * (1.0 - e))
            if haze.any():
                left = (haze * np.exp(-c.HAZE_TAKEN * press[at])).astype(np.float32)
                lines = _under_haze(lines, np.repeat(left, bands))
            slope, lift, level, drop = lines
            step = max(1, _BLOCK // slope.size)
            for start in range(0, len(grounds), step):
                g = grounds[start : start + step, None, :]
                out[start : start + step, at] = _over(g, slope, lift, level, drop) @ self.to_xyz
        return out


_Lines = tuple[SingleArray, SingleArray, SingleArray, SingleArray]
"""slope, lift, level, drop of R = (slope·g + lift) / (level − drop·g)."""


def _under_haze(lines: _Lines, h: SingleArray) -> _Lines:
    """The same under a clear film of scattering h: (R + h(1 − R)) / (1 + h(1 − R))."""
    slope, lift, level, drop = lines
    return (
        slope - h * (slope + drop),
        lift + h * (level - lift),
        level + h * (level - lift),
        drop + h * (slope + drop),
    )


def _over(
    g: SingleArray, slope: SingleArray, lift: SingleArray, level: SingleArray, drop: SingleArray
) -> SingleArray:
    """What films (n, Z·31) over grounds g (b, 1, Z·31) send out, (b, n, Z·31)."""
    top = slope * g
    top += lift
    under = drop * g
    np.subtract(level, under, out=under)
    top /= under
    return top
