"""What a set of pencils holds, what it lacks and what to mind, in plain words."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from drills.colour.hue import FAMILIES
from drills.colour.spaces import in_screen_gamut
from drills.layering.palette import Palette


@dataclass(frozen=True)
class Survey:
    """``counts`` in one phrase; a line for each ``families`` present; ``notes`` to mind."""

    counts: str
    families: tuple[str, ...]
    notes: tuple[str, ...]


def survey(palette: Palette) -> Survey:
    """Look a set over. The borders of light, dark and grey are those of colour readings."""
    pencils = palette.set.pencils
    colours = palette.colour_indices.tolist()
    readings = {i: found for i, found in enumerate(palette.readings) if found is not None}
    blenders = len(pencils) - len(colours)
    families: list[str] = []
    missing: list[str] = []
    for family in FAMILIES:
        names = [palette.names[i] for i, r in readings.items() if r.family == family]
        if names:
            families.append(f"{family}: {', '.join(names)}")
        else:
            missing.append(family)
    greys = [palette.names[i] for i, r in readings.items() if r.neutral]
    if greys:
        families.append(f"greys, white and black: {', '.join(greys)}")

    notes: list[str] = []
    if missing:
        notes.append(f"there is no {_listed(missing)}; drills of such colours use mixes or wait.")
    if not blenders:
        notes.append("there is no colourless blender, so blending is not drilled.")
    if not greys:
        notes.append("there is no grey, white or black.")
    values = np.array([reading.value for reading in readings.values()])
    if values.max() < 8.0:
        notes.append("no pencil is lighter than value 8, so the lightest lights are bare paper.")
    if values.min() > 3.5:
        notes.append("no pencil is darker than value 3.5, so darks will stay weak.")
    unknown = sum(1 for i in colours if not pencils[i].lightfastness)
    if unknown:
        who = "every pencil" if unknown == len(colours) else f"{unknown} of {len(colours)}"
        notes.append(f"lightfastness is not given for {who}.")
    gone = [pencil.name for pencil in pencils if pencil.used_up]
    if gone:
        notes.append(f"used up, and so neither planned with nor asked about: {', '.join(gone)}.")
    fugitive = [p.name for p in pencils if p.lightfastness in ("IV", "V")]
    if fugitive:
        notes.append(f"{_listed(fugitive)} will fade in the light (class IV or V).")
    off_screen = [palette.names[i] for i in colours if not in_screen_gamut(palette.lab[i])]
    if off_screen:
        notes.append(f"a screen can't show {_listed(off_screen)} truly.")
    measured = [i for i in colours if pencils[i].reflectance is not None]
    if measured and len(measured) < len(colours):
        notes.append(f"{len(measured)} swatches are spectra; the other spectra are recovered.")
    if palette.set.ignored:
        notes.append(f"columns not used: {', '.join(palette.set.ignored)}.")
    counts = f"{len(colours)} colour{'s' * (len(colours) != 1)}"
    if blenders:
        counts += f" and {blenders} colourless blender{'s' if blenders > 1 else ''}"
    return Survey(counts, tuple(families), tuple(notes))


def _listed(names: list[str]) -> str:
    if len(names) == 1:
        return names[0]
    return f"{', '.join(names[:-1])} or {names[-1]}"
