"""Pencils that might be missing: one of each kind, by family, value and chroma."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np

from drills.colour.hue import FAMILIES, wheel_position, wheel_steps
from drills.colour.recover import try_recover
from drills.colour.spaces import lch_to_lab
from drills.colour.words import strength_at
from drills.layering import constants as c
from drills.layering.calibrate import ceiling
from drills.layering.films import FloatArray
from drills.layering.palette import Palette, prepare
from drills.pencils.file import make_set
from drills.pencils.pencil import Pencil, PencilSet

LIGHTNESSES = (30.0, 55.0, 80.0)
"""L* of a dark, a middle and a light pencil (Munsell value about 3, 5.4 and 8)."""
STRENGTHS = (2.5, 4.8, 7.5, 11.0, 14.0)
"""About the Munsell chroma of a greyed, dull, moderate, bright and very bright pencil."""
GREYS = (15.0, 30.0, 55.0, 80.0, 96.0)
"""L* of black, three greys and white."""

_OPACITY: Final = "semi"


@lru_cache(maxsize=1)
def kinds() -> Palette:
    """Invented pencils, one of each kind that a film over white paper can be.

    Those too bright for any such film (a light, very bright violet) are left out.
    """
    hues = np.arange(0.0, 360.0, 1.0)
    labs = [np.array([L, 0.0, 0.0]) for L in GREYS]
    for family in range(len(FAMILIES)):
        for strong in STRENGTHS:
            for L in LIGHTNESSES:
                chroma = strong / float(strength_at(1.0, family, L))
                ring = lch_to_lab(
                    np.column_stack([np.full_like(hues, L), np.full_like(hues, chroma), hues])
                )
                labs.append(ring[np.argmin(wheel_steps(wheel_position(ring), family))])
    met = try_recover(np.array(labs), ceiling(c.SCATTERING[_OPACITY]))[1]
    pencils = tuple(
        Pencil(f"kind {i}", lab=(float(lab[0]), float(lab[1]), float(lab[2])), opacity=_OPACITY)
        for i, lab in enumerate(labs)
        if met[i]
    )
    return prepare(make_set("kinds of pencil", pencils))


def with_kind(palette: Palette, kind: int) -> Palette:
    """The palette with one more pencil, at the end: the ``kind``-th of ``kinds()``."""
    extra = kinds()
    pencils = (*palette.set.pencils, extra.set.pencils[kind])

    def both(ours: FloatArray, theirs: FloatArray) -> FloatArray:
        joined: FloatArray = np.concatenate([ours, theirs[kind : kind + 1]])
        return joined

    return replace(
        palette,
        set=PencilSet(palette.set.name, pencils, f"{palette.set.fingerprint}+{kind}"),
        names=(*palette.names, extra.names[kind]),
        K=both(palette.K, extra.K),
        S=both(palette.S, extra.S),
        limit=both(palette.limit, extra.limit),
        pole=both(palette.pole, extra.pole),
        decay=both(palette.decay, extra.decay),
        surface=both(palette.surface, extra.surface),
        reflectance=both(palette.reflectance, extra.reflectance),
        lab=both(palette.lab, extra.lab),
        wheel=both(palette.wheel, extra.wheel),
        family=np.append(palette.family, extra.family[kind]),
        colour_indices=np.append(palette.colour_indices, len(palette)),
        pressed=both(palette.pressed, extra.pressed),
        pressed_sd=both(palette.pressed_sd, extra.pressed_sd),
    )
