"""Paper: its colour, and its tooth as zones of height."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.laying import USUAL, Laying

SURFACE = c.MATT * c.SURFACE_OUT
"""What a matt surface turns back to the eye, 0–1 (drills.layering.surface)."""


@dataclass(frozen=True)
class Paper:
    """A sheet of paper.

    ``reflectance`` (31,) as it is seen; ``heights`` (Z,) from 0, a valley, to 1, the
    highest peak, or (B, Z) for a tooth that differs from sheet to sheet; ``areas``
    (Z,) sum to 1. ``name`` is what an artist calls it, ``laying`` how it is worked.
    """

    name: str
    reflectance: FloatArray
    heights: FloatArray
    areas: FloatArray
    laying: Laying = USUAL

    @property
    def without_surface(self) -> FloatArray:
        """Reflectance (31,) without what its surface turns back."""
        rest: FloatArray = self.reflectance - SURFACE
        return rest

    @property
    def zones(self) -> int:
        """How many zones of height the tooth is cut into."""
        return len(self.areas)


def fill(thickness: FloatArray, laying: Laying = USUAL) -> FloatArray:
    """Share 0–1 of the tooth filled by ``thickness`` (firm films)."""
    share: FloatArray = -np.expm1(thickness / -laying.capacity)
    return share


def deposit(paper: Paper, thickness: FloatArray, pressure: FloatArray) -> FloatArray:
    """Thickness (B, Z), in firm films, that a stroke adds where ``thickness`` (B, Z) lies.

    ``pressure`` (B,) runs from 0 to 1.5. What a stroke sheds grows with pressure;
    a zone takes it as far as the point reaches down to it, and less as it fills.
    A filled valley stands higher, so the point comes to reach it.
    """
    laying = paper.laying
    press = laying.pressed(np.clip(pressure, 0.0, c.HEAVIEST)[:, None])
    filled = fill(thickness, laying)
    height = paper.heights + (1.0 - paper.heights) * filled
    touch = 1.0 / (1.0 + np.exp((1.0 - c.REACH * press - height) / c.EDGE))
    added: FloatArray = press**laying.power * touch * (1.0 - filled)
    return added


def deeper(paper: Paper, tooth: FloatArray | float) -> Paper:
    """The paper, its tooth ``tooth`` times as deep; (B,) from sheet to sheet."""
    depth = np.asarray(tooth)[..., None]
    return replace(paper, heights=1.0 - depth * (1.0 - paper.heights))


def _paper(kind: str, name: str) -> Paper:
    curve = np.interp(np.arange(400, 701, 10), np.arange(400, 701, 50), c.WHITE_PAPER)
    heights = 1.0 - c.TOOTH[kind] * (1.0 - np.array(c.ZONE_HEIGHTS))
    areas = np.array(c.ZONE_AREAS)
    return Paper(name, curve, heights, areas / areas.sum())


def drawing_paper() -> Paper:
    """White drawing paper of middle tooth: what swatches are made on."""
    return _paper("drawing", "drawing paper")


def smooth_paper() -> Paper:
    """White paper of fine tooth: it covers soon and fills soon."""
    return _paper("smooth", "smooth paper")


def rough_paper() -> Paper:
    """White paper of coarse tooth: its valleys stay white long."""
    return _paper("rough", "rough paper")


def black_paper() -> Paper:
    """Black paper of middle tooth, for ``on_black`` swatches."""
    paper = drawing_paper()
    return replace(
        paper, name="black paper", reflectance=np.full_like(paper.reflectance, c.BLACK_PAPER)
    )
