"""What every next layer would look like, worked out without laying it.

The film's closed form over a ground g (drills.layering.films) is a ratio of two
straight lines in g:

    R = ((e − r²)·g + r(1 − e)) / ((1 − r²e) − r(1 − e)·g),  r = R∞, e = exp(−decay·x)

Its coefficients depend on the pencil and on the thickness x alone, and x follows
from the pressures so far, whatever the pencils. So sheets with one history of
pressures share them, and a layer costs two products and a division a number.
Single precision: 1e-4 in Lab, plenty to choose by; what is shown is worked again.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import weights
from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.palette import Palette
from drills.layering.paper import deposit
from drills.layering.sheet import Sheet

SingleArray = NDArray[np.float32]

_BLOCK = 40_000
"""Numbers worked on together: what the processor's cache holds."""


@dataclass(frozen=True, eq=False)
class Looker:
    """The films of n pencils in single precision; ``r``, ``fade`` (n, 31), ``to_xyz`` (Z·31, 3)."""

    r: SingleArray
    fade: SingleArray
    pressures: FloatArray
    to_xyz: SingleArray

    @staticmethod
    def of(palette: Palette, pencils: NDArray[np.int64], pressures: FloatArray) -> Looker:
        """A looker for these pencils at these pressures (P,)."""
        mean_to_xyz = palette.paper.areas[:, None, None] * weights("D50")[None]
        return Looker(
            palette.r_inf[pencils].astype(np.float32),
            -palette.decay[pencils].astype(np.float32),
            pressures,
            mean_to_xyz.reshape(-1, 3).astype(np.float32),
        )

    def xyz(self, sheet: Sheet, hard: NDArray[np.int64]) -> SingleArray:
        """XYZ (B, P, n, 3) of B open sheets after each pencil at each pressure.

        Of sheet i, pressures before place ``hard`` (B,) are passed over (NaN).
        """
        B, _ = sheet.thickness.shape
        P, n = len(self.pressures), len(self.r)
        out = np.full((B, P, n, 3), np.nan, dtype=np.float32)
        grounds = sheet.R.reshape(B, -1).astype(np.float32)
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
            out[rows, least:] = self._group(grounds[rows], x, sheet.haze[row], press)
        return out

    def _group(
        self, grounds: SingleArray, x: FloatArray, haze: FloatArray, press: FloatArray
    ) -> SingleArray:
        """XYZ (b, p, n, 3) of sheets (b, Z·31) that stand equally thick, x (p, Z) to be added."""
        n, bands = self.r.shape
        out = np.empty((len(grounds), len(press), n, 3), dtype=np.float32)
        r = self.r[:, None, :]
        rr = r * r
        # One pressure at a time: the products below then stay small enough to be worked
        # by one thread, for two that wait for each other on a busy machine cost far more.
        for at, thickness in enumerate(x.astype(np.float32)):
            e = np.exp(self.fade[:, None, :] * thickness[None, :, None])
            slope, lift, level = (
                one.reshape(n, -1) for one in (e - rr, r * (1.0 - e), 1.0 - rr * e)
            )
            left: SingleArray | None = None
            if haze.any():
                stays = float(np.exp(-c.HAZE_TAKEN * press[at]))
                left = np.repeat((haze * stays).astype(np.float32), bands)
            step = max(1, _BLOCK // slope.size)
            for start in range(0, len(grounds), step):
                g = grounds[start : start + step, None, :]
                out[start : start + step, at] = _over(g, slope, lift, level, left) @ self.to_xyz
        return out


def _over(
    g: SingleArray,
    slope: SingleArray,
    lift: SingleArray,
    level: SingleArray,
    haze: SingleArray | None,
) -> SingleArray:
    """Reflectance (b, n, Z·31) of films over grounds g (b, 1, Z·31), under a clear haze."""
    top = slope * g
    top += lift
    under = lift * g
    np.subtract(level, under, out=under)
    top /= under
    if haze is not None:
        # A clear film of scattering h over R: (R + h(1 − R)) / (1 + h(1 − R)).
        np.subtract(1.0, top, out=under)
        under *= haze
        top += under
        under += 1.0
        top /= under
    return top
