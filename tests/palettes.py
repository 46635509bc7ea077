"""Palettes for the tests of the drill kinds: many pencils, few, and awkward ones."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache

import numpy as np

from drills.colour.recover import try_recover
from drills.colour.spaces import hex_of, in_screen_gamut, srgb_to_lab
from drills.layering.calibrate import ceiling
from drills.layering.constants import SCATTERING
from drills.layering.palette import Palette, prepare
from drills.pencils.file import make_set
from drills.pencils.pencil import Opacity, Pencil, PencilSet
from drills.pencils.sets import demo_set, pocket_set


def pencil(name: str, hex_text: str, opacity: Opacity = "semi") -> Pencil:
    """A pencil whose swatch is ``hex_text``."""
    return Pencil(name, hex=hex_text, opacity=opacity)


BLENDER = Pencil("Clearwax", opacity="colourless")


def many_pencils(count: int = 120, seed: int = 1) -> PencilSet:
    """``count`` pencils: the demo set, then its colours again a little lighter, duller or turned.

    The same number and seed give the same set.
    """
    rng = random.Random(seed)
    demo = demo_set().pencils
    colours = [one for one in demo if not one.is_blender]
    made = list(demo[:count])
    while len(made) < count:
        like = colours[len(made) % len(colours)]
        assert like.hex is not None
        rgb = [int(like.hex[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        L, a, b = srgb_to_lab(rgb).tolist()
        keep = rng.uniform(0.6, 1.0)
        lab = (
            min(92.0, max(22.0, L + rng.gauss(0.0, 7.0))),
            keep * a + rng.gauss(0.0, 5.0),
            keep * b + rng.gauss(0.0, 5.0),
        )
        made.append(replace(like, name=f"Trial {len(made) + 1}", code="", hex=hex_of(lab)))
    return make_set(f"{count} pencils", tuple(made))


def drawn_pencils(seed: int, count: int = 40) -> PencilSet:
    """``count`` pencils of colours and opacities drawn by lot, then a white and a black.

    Their swatches are what a film can be: no screen colour brighter than white paper.
    """
    rng = random.Random(seed)
    opacities: tuple[Opacity, ...] = ("transparent", "semi", "opaque")
    made: list[Pencil] = []
    while len(made) < count:
        lab = (rng.uniform(22.0, 88.0), rng.gauss(0.0, 32.0), rng.gauss(0.0, 32.0))
        if in_screen_gamut(lab) and try_recover(np.array(lab), ceiling(SCATTERING["semi"]))[1]:
            made.append(pencil(f"Drawn {len(made)}", hex_of(lab), rng.choice(opacities)))
    ends = (pencil("White", "#f4f3ef", "opaque"), pencil("Black", "#333437", "opaque"))
    return make_set(f"drawn {seed}", (*made, *ends))


@cache
def palette_of(name: str) -> Palette:
    """A palette by name, made once: "demo", "pocket", "drawn 1", or a number of pencils."""
    sets = {"demo": demo_set, "pocket": pocket_set}
    if name.startswith("drawn "):
        return prepare(drawn_pencils(int(name.removeprefix("drawn "))))
    return prepare(sets[name]() if name in sets else many_pencils(int(name)))


def palette_with(*pencils: Pencil) -> Palette:
    """A palette of just these pencils."""
    return prepare(make_set("test", pencils))
