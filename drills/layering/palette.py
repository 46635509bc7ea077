"""A set of pencils made ready to lay: films, swatches and their places on the wheel."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from drills.basics.errors import plain
from drills.colour.hue import family_at, wheel_position
from drills.colour.reading import Reading, read_colours
from drills.colour.recover import try_recover
from drills.colour.spaces import reflectance_to_lab, srgb_to_lab
from drills.layering import constants as c
from drills.layering.calibrate import ceiling, solve_films
from drills.layering.films import FloatArray, decay, masstone
from drills.layering.paper import Paper, drawing_paper
from drills.layering.pool import Pool, make_pool
from drills.pencils.pencil import Lab, Opacity, Pencil, PencilsError, PencilSet, Spectrum

IntArray = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Palette:
    """N pencils ready to lay on ``paper``.

    ``K``, ``S``, ``r_inf``, ``decay`` (N, 31) describe one firm film of each;
    ``reflectance`` (N, 31) and ``lab`` (N, 3) its swatch (firm, white drawing
    paper) as the file gave it; ``wheel`` (N,) its place on the twelve-part
    wheel, ``family`` (N,) its place in ``FAMILIES``. A blender has K = S = 0,
    the paper's colour, and −1 as family; ``colour_indices`` are all the others.
    """

    set: PencilSet
    names: tuple[str, ...]
    K: FloatArray
    S: FloatArray
    r_inf: FloatArray
    decay: FloatArray
    reflectance: FloatArray
    lab: FloatArray
    wheel: FloatArray
    family: IntArray
    paper: Paper
    blender: int | None
    colour_indices: IntArray

    def __len__(self) -> int:
        return len(self.names)

    @cached_property
    def readings(self) -> tuple[Reading | None, ...]:
        """Each swatch read in an artist's words; None for a blender."""
        found = iter(read_colours(self.lab[self.colour_indices]))
        return tuple(None if pencil.is_blender else next(found) for pencil in self.set.pencils)

    @cached_property
    def pool(self) -> Pool:
        """A sample of the swatches these pencils make, the same every time."""
        return make_pool(self.set.fingerprint, self, self.colour_indices, self.paper)


def prepare(pencil_set: PencilSet, paper: Paper | None = None) -> Palette:
    """Work out every pencil's film. ``paper`` is drawing paper unless given.

    Raises PencilsError naming the row of a pencil whose colour nothing can reflect.
    """
    paper = paper or drawing_paper()
    pencils = pencil_set.pencils
    colours = np.array([i for i, p in enumerate(pencils) if not p.is_blender], dtype=np.int64)
    target = swatch_reflectance(pencil_set)
    n, bands = len(pencils), target.shape[1]
    K, S = np.zeros((n, bands)), np.zeros((n, bands))
    black = _black_reflectance(pencil_set)
    measured = np.array([pencils[i].on_black is not None for i in colours])
    for on_black in (False, True):
        rows = np.flatnonzero(measured == on_black)
        if rows.size:
            places = colours[rows]
            scatter = np.array([c.SCATTERING[pencils[i].opacity] for i in places])
            K[places], S[places] = solve_films(
                target[places],
                np.repeat(scatter[:, None], bands, axis=1),
                black[places] if on_black else None,
            )
    lab = reflectance_to_lab(target)
    wheel = np.zeros(n)
    family = np.full(n, -1, dtype=np.int64)
    wheel[colours] = wheel_position(lab[colours])
    family[colours] = family_at(wheel[colours])
    return Palette(
        set=pencil_set,
        names=tuple(pencil.name for pencil in pencils),
        K=K,
        S=S,
        r_inf=masstone(K, S),
        decay=decay(K, S),
        reflectance=target,
        lab=lab,
        wheel=wheel,
        family=family,
        paper=paper,
        blender=pencil_set.blender,
        colour_indices=colours,
    )


def swatch_reflectance(pencil_set: PencilSet) -> FloatArray:
    """The reflectance (N, 31) of every swatch, recovered where only a colour is given.

    A recovered spectrum is kept under what a film of that opacity can reflect
    over white paper, where some spectrum under it has the colour. A blender gets
    the paper's own. Raises PencilsError as ``prepare`` does.
    """
    pencils = pencil_set.pencils
    spectra = np.repeat(drawing_paper().reflectance[None, :], len(pencils), axis=0)
    by_opacity: dict[Opacity, list[int]] = {}
    for i, pencil in enumerate(pencils):
        if pencil.reflectance is not None:
            spectra[i] = np.clip(pencil.reflectance, 1e-4, 1.0 - 1e-4)
        elif not pencil.is_blender:
            by_opacity.setdefault(pencil.opacity, []).append(i)
    for opacity, places in by_opacity.items():
        lab = _labs([pencils[i].hex or pencils[i].lab for i in places])
        found, met = try_recover(lab, ceiling(c.SCATTERING[opacity]))
        if not met.all():
            found[~met], met[~met] = try_recover(lab[~met])
        _all_met(met, [pencils[i] for i in places], pencil_set, "colour")
        spectra[places] = found
    return spectra


def _black_reflectance(pencil_set: PencilSet) -> FloatArray:
    """The reflectance (N, 31) of every swatch over black paper; 0 where none is given."""
    pencils = pencil_set.pencils
    spectra = np.zeros((len(pencils), 31))
    places = []
    for i, pencil in enumerate(pencils):
        if pencil.on_black is not None and len(pencil.on_black) == 31:
            spectra[i] = pencil.on_black
        elif pencil.on_black is not None:
            places.append(i)
    if places:
        found, met = try_recover(_labs([pencils[i].on_black for i in places]))
        _all_met(met, [pencils[i] for i in places], pencil_set, "on_black colour")
        spectra[places] = found
    return spectra


def _labs(given: list[str | Lab | Spectrum | None]) -> FloatArray:
    """Lab (n, 3) of swatches given as hex or Lab."""
    lab = np.empty((len(given), 3))
    for i, colour in enumerate(given):
        if isinstance(colour, str):
            lab[i] = srgb_to_lab([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
        else:
            lab[i] = colour
    return lab


def _all_met(met: NDArray[np.bool_], of: list[Pencil], pencil_set: PencilSet, what: str) -> None:
    for pencil, reachable in zip(of, met, strict=True):
        if not reachable:
            raise PencilsError(
                plain(pencil_set.source or pencil_set.name, 200),
                f"no paper can reflect the {what} of “{pencil.name}”",
                "Check the measurement.",
                pencil.row,
            )
