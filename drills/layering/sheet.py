"""A sheet of paper as it is worked: what lies on each zone, for many recipes at once.

B is how many sheets are held, Z the zones of tooth, 31 the wavelengths. Each
zone keeps its own stack: a film laid on it changes its reflectance exactly as
Kubelka's closed form says, so order counts. What has been laid is also summed
(K·x, S·x), for a blender works on the sum. Sheets are never changed in place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import weights
from drills.layering import constants as c
from drills.layering.films import FloatArray, clear_film, decay, masstone, over
from drills.layering.paper import SURFACE, Paper, deposit, fill
from drills.layering.surface import ends

IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]


class Films(Protocol):
    """What a sheet needs of a palette: K, S, ends and decay of each pencil, all (N, 31), and
    what its surface turns back, (N,)."""

    @property
    def K(self) -> FloatArray: ...
    @property
    def S(self) -> FloatArray: ...
    @property
    def limit(self) -> FloatArray: ...
    @property
    def pole(self) -> FloatArray: ...
    @property
    def decay(self) -> FloatArray: ...
    @property
    def surface(self) -> FloatArray: ...


@dataclass(frozen=True)
class Sheet:
    """The state of B worked sheets.

    ``R``, ``KX``, ``SX`` (B, Z, 31): what each zone's stack sends out through its
    surface (u of ``drills.layering.surface``), and the absorption and scattering laid
    there in all. ``thickness`` (B, Z) in firm films, ``haze`` (B, Z) as S·x of a clear
    film lying on top, ``surface`` (B, Z) what the surface itself turns back to the eye,
    ``sealed`` (B,) true once burnished.
    """

    paper: Paper
    R: FloatArray
    KX: FloatArray
    SX: FloatArray
    thickness: FloatArray
    haze: FloatArray
    surface: FloatArray
    sealed: BoolArray

    def __len__(self) -> int:
        return len(self.R)

    def take(self, rows: IntArray | slice) -> Sheet:
        """The sheets of these rows, in this order; a row may come twice."""
        return Sheet(
            self.paper,
            self.R[rows],
            self.KX[rows],
            self.SX[rows],
            self.thickness[rows],
            self.haze[rows],
            self.surface[rows],
            self.sealed[rows],
        )

    @staticmethod
    def join(sheets: Sequence[Sheet]) -> Sheet:
        """Several sheets of one paper as one, in order."""
        return Sheet(
            sheets[0].paper,
            np.concatenate([s.R for s in sheets]),
            np.concatenate([s.KX for s in sheets]),
            np.concatenate([s.SX for s in sheets]),
            np.concatenate([s.thickness for s in sheets]),
            np.concatenate([s.haze for s in sheets]),
            np.concatenate([s.surface for s in sheets]),
            np.concatenate([s.sealed for s in sheets]),
        )


def blank(paper: Paper, batch: int = 1) -> Sheet:
    """``batch`` sheets with nothing on them."""
    bands = len(paper.reflectance)
    shape = (batch, paper.zones, bands)
    return Sheet(
        paper,
        np.broadcast_to(paper.without_surface, shape),
        np.broadcast_to(0.0, shape),
        np.broadcast_to(0.0, shape),
        np.zeros(shape[:2]),
        np.zeros(shape[:2]),
        np.full(shape[:2], SURFACE),
        np.zeros(batch, dtype=np.bool_),
    )


def lay(sheet: Sheet, films: Films, pencil: IntArray | int, pressure: FloatArray | float) -> Sheet:
    """Lay one layer of colour: ``pencil`` and ``pressure`` are one for all, or (B,).

    A sealed sheet takes nothing. Some of a haze comes off under the point.
    """
    press = np.broadcast_to(np.asarray(pressure, dtype=np.float64), (len(sheet),))
    x = deposit(sheet.paper, sheet.thickness, press)
    x *= ~sheet.sealed[:, None]
    # One pencil for all has no row of its own: (31,) serves as (1, 1, 31).
    rows = np.atleast_1d(np.asarray(pencil))[:, None]
    x_bands = x[:, :, None]
    haze = sheet.haze
    if haze.any():
        taken = -np.expm1(-c.HAZE_TAKEN * press) * ~sheet.sealed
        haze = haze * (1.0 - taken[:, None])
    return Sheet(
        sheet.paper,
        over(sheet.R, films.limit[rows], films.pole[rows], films.decay[rows] * x_bands),
        sheet.KX + films.K[rows] * x_bands,
        sheet.SX + films.S[rows] * x_bands,
        sheet.thickness + x,
        haze,
        new_surface(sheet.surface, films.surface[rows], x),
        sheet.sealed,
    )


def new_surface(before: FloatArray, pencil: FloatArray, x: FloatArray) -> FloatArray:
    """What a surface turns back after ``x`` more firm films of a pencil; all broadcast."""
    after: FloatArray = pencil + (before - pencil) * np.exp(x / -c.SURFACE_DEPTH)
    return after


def blend(sheet: Sheet, pressure: FloatArray | float = c.LIGHT) -> Sheet:
    """Rub with the colourless blender, ``pressure`` one for all or (B,).

    A share of every zone's area is rubbed into one even film of all that was
    laid there. Some of the pigment rubbed is carried off and left in emptier
    zones; none is lost. A thin film of clear wax stays on top: it takes some of the
    surface's matt look, and leaves a slight haze.
    """
    press = np.broadcast_to(np.asarray(pressure, dtype=np.float64), (len(sheet),))
    press = np.clip(press, 0.0, c.HEAVIEST) * ~sheet.sealed
    rubbed = -np.expm1(-c.RUB * press)
    # What is carried off is left where there is room.
    room = 1.0 - fill(sheet.thickness, sheet.paper.laying)
    mixed = _mix(sheet, rubbed, c.CARRY, room)
    wax = c.WAX * press[:, None] * (1.0 - fill(mixed.thickness, sheet.paper.laying))
    haze = mixed.haze + c.HAZE * press[:, None]
    gloss = c.BLEND_GLOSS * np.minimum(press, 1.0)
    surface = mixed.surface * (1.0 - gloss[:, None])
    return replace(mixed, thickness=mixed.thickness + wax, haze=haze, surface=surface)


def burnish(sheet: Sheet) -> Sheet:
    """Press everything flat and full: one even, glossy film almost everywhere, without haze.

    A burnished sheet takes no more: later moves change nothing.
    """
    open_sheets = (~sheet.sealed).astype(np.float64)
    level = np.ones_like(sheet.thickness)
    mixed = _mix(sheet, c.BURNISH_RUB * open_sheets, c.BURNISH_CARRY, level)
    haze = np.where(sheet.sealed[:, None], mixed.haze, 0.0)
    surface = mixed.surface * (1.0 - c.BURNISH_GLOSS * open_sheets[:, None])
    sealed = np.ones(len(sheet), dtype=np.bool_)
    return replace(mixed, haze=haze, surface=surface, sealed=sealed)


def _mix(sheet: Sheet, rubbed: FloatArray, carry: float, room: FloatArray) -> Sheet:
    """Rub the share ``rubbed`` (B,) of every zone into one even film.

    The share ``carry`` of what is rubbed is carried off and left in proportion
    to ``room`` (B, Z). No pigment is lost.
    """
    areas = sheet.paper.areas
    w = room / (room @ areas)[:, None]  # 1 on average over the area

    def carried(amount: FloatArray) -> FloatArray:
        flat = amount.reshape(len(sheet), len(areas), -1)
        moved = np.einsum("z,bzl->bl", areas, flat)[:, None, :] * w[:, :, None]
        result: FloatArray = ((1.0 - carry) * flat + carry * moved).reshape(amount.shape)
        return result

    K, S, X = carried(sheet.KX), carried(sheet.SX), carried(sheet.thickness)
    part = rubbed[:, None, None]
    even = over(sheet.paper.without_surface, *ends(masstone(K, S)), decay(K, S))
    return replace(
        sheet,
        R=sheet.R + part * (even - sheet.R),
        KX=sheet.KX + part * (K - sheet.KX),
        SX=sheet.SX + part * (S - sheet.SX),
        thickness=sheet.thickness + rubbed[:, None] * (X - sheet.thickness),
    )


def zone_reflectance(sheet: Sheet) -> FloatArray:
    """Reflectance (B, Z, 31) of each zone, haze and surface and all."""
    zones: FloatArray = _under_haze(sheet) + sheet.surface[:, :, None]
    return zones


def _under_haze(sheet: Sheet) -> FloatArray:
    if not sheet.haze.any():
        return sheet.R
    return clear_film(sheet.haze[:, :, None], sheet.R)


def reflectance(sheet: Sheet) -> FloatArray:
    """Reflectance (B, 31) of the sheet seen from where its tooth can't be made out."""
    areas = sheet.paper.areas
    mean: FloatArray = np.einsum("z,bzl->bl", areas, _under_haze(sheet))
    mean += (sheet.surface @ areas)[:, None]
    return mean


def fleck(sheet: Sheet) -> FloatArray:
    """How flecked the swatch is, (B,): the standard deviation of L* over its area."""
    Y = zone_reflectance(sheet) @ weights("D50")[:, 1] / 100.0
    L = np.where(Y > (6 / 29) ** 3, 116.0 * np.cbrt(Y) - 16.0, Y * (29 / 3) ** 3)
    mean = L @ sheet.paper.areas
    spread: FloatArray = np.sqrt((L - mean[:, None]) ** 2 @ sheet.paper.areas)
    return spread


def tooth_filled(sheet: Sheet) -> FloatArray:
    """Share 0–1 of the tooth filled, (B,), mean over the area. FULL and more takes little."""
    share: FloatArray = fill(sheet.thickness, sheet.paper.laying) @ sheet.paper.areas
    return share
