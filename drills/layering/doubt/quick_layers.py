"""Layers laid by many draws of films and hands at once, quickly: to choose by and to count misses.

Single precision, and every other band: within ΔE00 0.05 of ``drills.layering.predict``. The
faint haze of a blending (ΔE00 0.1, gone under the next layer) is left out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import weights
from drills.layering import constants as c
from drills.layering.calibrate import near_absorption, surface_of
from drills.layering.films import FloatArray, decay, masstone
from drills.layering.laying import LearnedHand
from drills.layering.palette import Palette
from drills.layering.paper import SURFACE, Paper, deeper, deposit, drawing_paper
from drills.layering.sheet import Sheet, blend
from drills.layering.surface import ends

IntArray = NDArray[np.int64]
SingleArray = NDArray[np.float32]
EVERY_OTHER = slice(None, None, 2)
_BLOCK = 50_000
"""Numbers worked on together: what the processor's cache holds."""


@lru_cache(maxsize=1)
def coarse_weights() -> FloatArray:
    """(16, 3): as ``tables.weights`` for D50, for reflectance at every other band.

    The bands between are had by cubics through four neighbours (Lagrange).
    """
    between = np.zeros((31, 16))
    between[np.arange(0, 31, 2), np.arange(16)] = 1.0
    for at in range(15):
        first = min(max(at - 1, 0), 12)
        nodes = np.arange(first, first + 4)
        for node in nodes:
            others = nodes[nodes != node]
            between[2 * at + 1, node] = np.prod((at + 0.5 - others) / (node - others))
    folded: FloatArray = between.T @ weights("D50")
    return folded


def coarse(paper: Paper) -> Paper:
    """The paper at every other band."""
    return replace(paper, reflectance=paper.reflectance[EVERY_OTHER])


@dataclass(frozen=True, eq=False)
class QuickSheets:
    """B sheets, each as V draws have it: ``R`` (B, V, Z, 16), ``thickness``, ``surface`` (B, V, Z)
    as in ``drills.layering.sheet.Sheet``."""

    R: SingleArray
    thickness: SingleArray
    surface: SingleArray

    def __len__(self) -> int:
        return len(self.R)

    def take(self, rows: IntArray) -> QuickSheets:
        """The sheets of these rows."""
        return QuickSheets(self.R[rows], self.thickness[rows], self.surface[rows])

    @staticmethod
    def join(first: QuickSheets, second: QuickSheets) -> QuickSheets:
        """Both as one."""
        return QuickSheets(
            np.concatenate([first.R, second.R]),
            np.concatenate([first.thickness, second.thickness]),
            np.concatenate([first.surface, second.surface]),
        )


@dataclass(frozen=True, eq=False)
class QuickFilms:
    """The films of M pencils as V draws have them, and the hands that lay them.

    ``limit``, ``pole``, ``fade``, ``K``, ``S`` (F, M, 16) and ``surface`` (F, M) are those of F
    lots of films; ``lot_of`` (V,) says which a draw has; ``tooth``, ``habit`` (V,) and ``sway``
    (V, n) are as in ``drills.layering.doubt``. ``paper`` is at every other band.
    """

    limit: SingleArray
    pole: SingleArray
    fade: SingleArray
    K: SingleArray
    S: SingleArray
    surface: SingleArray
    lot_of: IntArray
    tooth: FloatArray
    habit: FloatArray
    sway: FloatArray
    paper: Paper

    def __len__(self) -> int:
        return len(self.lot_of)

    @cached_property
    def _of_zones(self) -> tuple[SingleArray, SingleArray, SingleArray]:
        """``limit``, ``pole`` and ``fade`` as (F·M, Z·16), the same for each zone: long rows are
        worked on several times as fast as short ones."""
        width = self.limit.shape[2] * self.paper.zones
        limit, pole, fade = (
            np.tile(part, self.paper.zones).reshape(-1, width)
            for part in (self.limit, self.pole, self.fade)
        )
        return limit, pole, fade

    def blank(self, batch: int) -> QuickSheets:
        """``batch`` sheets with nothing on them."""
        shape = (batch, len(self), self.paper.zones)
        ground = self.paper.without_surface.astype(np.float32)
        return QuickSheets(
            np.broadcast_to(ground, (*shape, len(ground))),
            np.zeros(shape, dtype=np.float32),
            np.full(shape, SURFACE, dtype=np.float32),
        )

    def pressed(self, pressure: FloatArray, step: int) -> FloatArray:
        """(B, V): what meaning ``pressure`` (B,) at move ``step`` comes to."""
        by: FloatArray = self.sway[:, step % self.sway.shape[1]]
        harder: FloatArray = pressure[:, None] ** self.habit * by
        return harder

    def lay(
        self, under: QuickSheets, rows: IntArray, pencil: IntArray, pressure: FloatArray, step: int
    ) -> QuickSheets:
        """The sheets ``rows`` (B,) after a layer each: ``pencil`` of the M, ``pressure`` (B,)."""
        B, V, Z = len(rows), len(self), self.paper.zones
        thickness, surface = under.thickness[rows], under.surface[rows]
        x = self._added(thickness, pressure, step)
        bands = self.limit.shape[2]
        width, every = Z * bands, self.limit.shape[1]
        limits, poles, fades = self._of_zones
        grounds = under.R.reshape(-1, V * width)
        out = np.empty((B, V, width), dtype=np.float32)
        block = max(1, min(B, _BLOCK // (V * width)))
        scratch = np.empty((5, block, V, width), dtype=np.float32)
        for start in range(0, B, block):
            part = slice(start, start + block)
            of = self.lot_of * every + pencil[part, None]
            limit, pole, e, ground, through = scratch[:, : len(of)]
            # Places are known to be right; "clip" spares numpy a copy that "raise" makes.
            limits.take(of, axis=0, out=limit, mode="clip")
            poles.take(of, axis=0, out=pole, mode="clip")
            fades.take(of, axis=0, out=e, mode="clip")
            by_zone = e.reshape(*of.shape, Z, bands)
            by_zone *= x[part, ..., None]
            np.exp(e, out=e)
            grounds.take(rows[part], axis=0, out=ground.reshape(len(of), -1), mode="clip")
            np.multiply(pole, ground, out=through)
            np.subtract(1.0, through, out=through)
            ground -= limit
            ground *= e
            limit *= through
            limit += ground
            ground *= pole
            ground += through
            np.divide(limit, ground, out=out[part])
        own = self.surface[self.lot_of, pencil[:, None]][:, :, None]
        stays = np.exp(x * np.float32(-1.0 / c.SURFACE_DEPTH))
        return QuickSheets(
            out.reshape(B, V, Z, bands), thickness + x, own + (surface - own) * stays
        )

    def blend(
        self, sheets: QuickSheets, pencil: IntArray, pressure: FloatArray, hand: float
    ) -> QuickSheets:
        """The sheets (B) blended by ``hand``; what lies there: ``pencil``, ``pressure`` (B, d)."""
        B, V, Z, bands = sheets.R.shape
        thickness = np.zeros((B, V, Z), dtype=np.float32)
        KX, SX = np.zeros_like(sheets.R), np.zeros_like(sheets.R)
        for step in range(pencil.shape[1]):
            x = self._added(thickness, pressure[:, step], step)
            thickness = thickness + x
            of = (self.lot_of, pencil[:, step, None])
            KX += self.K[of][:, :, None] * x[..., None]
            SX += self.S[of][:, :, None] * x[..., None]
        flat = (B * V, Z, bands)
        R, K, S = (part.reshape(flat).astype(np.float64) for part in (sheets.R, KX, SX))
        laid = Sheet(
            self.paper,
            R,
            K,
            S,
            thickness.reshape(-1, Z).astype(np.float64),
            np.zeros((B * V, Z)),
            sheets.surface.reshape(-1, Z).astype(np.float64),
            np.zeros(B * V, dtype=np.bool_),
        )
        mixed = blend(laid, self.pressed(np.full(B, hand), pencil.shape[1]).reshape(-1))
        return QuickSheets(
            mixed.R.astype(np.float32).reshape(sheets.R.shape),
            mixed.thickness.astype(np.float32).reshape(B, V, Z),
            mixed.surface.astype(np.float32).reshape(B, V, Z),
        )

    def _added(self, thickness: SingleArray, pressure: FloatArray, step: int) -> SingleArray:
        """Thickness (B, V, Z) that a layer at ``pressure`` (B,) adds to ``thickness``."""
        heights: Any = deeper(self.paper, self.tooth).heights.astype(np.float32)
        Z = self.paper.zones
        on = replace(self.paper, heights=np.broadcast_to(heights, thickness.shape).reshape(-1, Z))
        # In single precision throughout, whatever deposit() is written for.
        press: Any = self.pressed(pressure, step).astype(np.float32).reshape(-1)
        flat: Any = thickness.reshape(-1, Z)
        added: Any = deposit(on, flat, press)
        return cast(SingleArray, added.reshape(thickness.shape))

    def xyz(self, sheets: QuickSheets) -> SingleArray:
        """XYZ (B, V, 3) of the sheets."""
        areas = self.paper.areas.astype(np.float32)
        to_xyz = coarse_weights().astype(np.float32)
        folded = (areas[:, None, None] * to_xyz).reshape(-1, 3)
        flat = sheets.R.reshape(len(sheets) * len(self), len(folded))
        seen: SingleArray = flat @ folded
        # A product of so few numbers can raise a false alarm in some libraries; a sum doesn't.
        turned_back = np.einsum("...z,z->...", sheets.surface, areas).reshape(-1, 1)
        seen += turned_back * to_xyz.sum(axis=0)
        return seen.reshape(len(sheets), len(self), 3)


def nominal(palette: Palette, pencils: IntArray) -> QuickFilms:
    """One draw: the films as they are taken to be, by the hand that was meant."""
    at = (pencils, EVERY_OTHER)
    films = (palette.limit[at], palette.pole[at], -palette.decay[at], palette.K[at], palette.S[at])
    limit, pole, fade, K, S = (part[None].astype(np.float32) for part in films)
    surface = palette.surface[pencils][None].astype(np.float32)
    lot, one = np.zeros(1, dtype=np.int64), np.ones(1)
    paper = coarse(palette.paper)
    return QuickFilms(limit, pole, fade, K, S, surface, lot, one, one, np.ones((1, 1)), paper)


def eight(palette: Palette, pencils: IntArray) -> QuickFilms:
    """Eight draws that tell as much of a plan's spread as some thirty drawn by lot.

    What matters most, the tooth, the habit of the hand and each layer's pressure, is one
    standard deviation up or down, in an orthogonal design (Hadamard's of order 8; Plackett &
    Burman 1946, Biometrika 33, 305): the squares of all seven effects add up as they should.
    From the sixth move on pressures err as from the first.
    """
    two = np.array([[1.0, 1.0], [1.0, -1.0]])
    design = np.kron(two, np.kron(two, two))[:, 1:]
    teeth = np.exp(c.TOOTH_SD * np.array([-1.0, 1.0]))
    hand = palette.hand or LearnedHand(())
    target = palette.reflectance[pencils]
    S = palette.S[pencils][:, EVERY_OTHER]
    surface = surface_of(target, SURFACE * hand.shine)
    lots = []
    for tooth in teeth.tolist():
        K = near_absorption(
            target[:, EVERY_OTHER],
            S,
            surface,
            coarse(deeper(drawing_paper(), np.full(len(pencils), hand.tooth * tooth))),
            palette.K[pencils][:, EVERY_OTHER],
            palette.pressed[pencils],
        )
        lots.append((*ends(masstone(K, S)), -decay(K, S), K, S, surface))
    limit, pole, fade, K_of, S_of, own = (
        np.array(part, dtype=np.float32) for part in zip(*lots, strict=True)
    )
    up = design[:, 0] > 0
    return QuickFilms(
        limit,
        pole,
        fade,
        K_of,
        S_of,
        own,
        up.astype(np.int64),
        np.where(up, teeth[1], teeth[0]),
        1.0 + c.HABIT_SD * design[:, 1],
        1.0 + c.HAND_SD * design[:, 2:],
        coarse(palette.paper),
    )
