"""A set of pencils made ready to lay: films, swatches and their places on the wheel."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from drills.basics.errors import plain
from drills.colour.hue import family_at, wheel_position
from drills.colour.reading import Reading, read_colours
from drills.colour.recover import try_recover
from drills.colour.spaces import reflectance_to_lab, srgb_to_lab
from drills.layering import constants as c
from drills.layering.calibrate import (
    ceiling,
    scatter_shape,
    solve_absorption,
    solve_scale,
    surface_of,
)
from drills.layering.films import FloatArray, decay, masstone
from drills.layering.laying import LearnedHand
from drills.layering.paper import SURFACE, Paper, deeper, drawing_paper
from drills.layering.pool import Pool, make_pool
from drills.layering.surface import ends
from drills.pencils.pencil import Lab, Opacity, Pencil, PencilsError, PencilSet, Spectrum
from drills.screen.known import ScreenKnown

IntArray = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Palette:
    """N pencils ready to lay on ``paper``.

    ``K``, ``S``, ``limit``, ``pole``, ``decay`` (N, 31) describe one firm film of each, and
    ``surface`` (N,) what it turns back to the eye (drills.layering.surface);
    ``reflectance`` (N, 31) and ``lab`` (N, 3) its swatch (firm, white drawing
    paper) as the file gave it; ``wheel`` (N,) its place on the twelve-part
    wheel, ``family`` (N,) its place in ``FAMILIES``. A blender has K = S = 0,
    the paper's colour, and −1 as family; ``colour_indices`` are all the others, of which
    ``at_hand`` may be laid: those that are not used up.
    ``pressed`` (N,) is how hard each swatch was laid, 1 being firm, as far as is known, and
    ``pressed_sd`` (N,) the doubt in its log: 0 but for swatches that were painted by hand.
    ``hand`` is the learned one that the films were made for; None for the default.
    ``screen_known``: what is drawn is corrected for the screen, or is not for one. Where it is
    so by eye alone, or not at all, drills of hue ask only what such screens can't turn
    (drills.screen).
    """

    set: PencilSet
    names: tuple[str, ...]
    K: FloatArray
    S: FloatArray
    limit: FloatArray
    pole: FloatArray
    decay: FloatArray
    surface: FloatArray
    reflectance: FloatArray
    lab: FloatArray
    wheel: FloatArray
    family: IntArray
    paper: Paper
    blender: int | None
    colour_indices: IntArray
    pressed: FloatArray
    pressed_sd: FloatArray
    hand: LearnedHand | None = None
    screen_known: ScreenKnown = True

    @cached_property
    def at_hand(self) -> IntArray:
        """Places of the coloured pencils that may be laid."""
        there = [self.set.pencils[i].lays_colour for i in self.colour_indices.tolist()]
        return self.colour_indices[np.array(there, dtype=np.bool_)]

    @property
    def film_model(self) -> int | str:
        """Which model predicts: its number, and after how many patches it has learned."""
        return c.FILM_MODEL if self.hand is None else f"{c.FILM_MODEL}+hand{self.hand.patches}"

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
        return make_pool(self.set.fingerprint, self, self.at_hand, self.paper)


def prepare(
    pencil_set: PencilSet, paper: Paper | None = None, hand: LearnedHand | None = None
) -> Palette:
    """Work out every pencil's film. ``paper`` is drawing paper unless given.

    ``hand`` is one learned from patches of this set (drills.hand).

    Raises PencilsError naming the row of a pencil whose colour nothing can reflect.
    """
    paper = paper or drawing_paper()
    pencils = pencil_set.pencils
    colours = np.array([i for i, p in enumerate(pencils) if not p.is_blender], dtype=np.int64)
    target = swatch_reflectance(pencil_set)
    K, S = np.zeros_like(target), np.zeros_like(target)
    learned = hand or LearnedHand((1.0,) * len(pencils))
    scale = np.array([c.SCATTERING[pencils[i].opacity] for i in colours])
    measured = [at for at, i in enumerate(colours) if pencils[i].on_black is not None]
    if measured:
        of = colours[measured]
        black = _black_labs([pencils[i] for i in of], pencil_set)
        scale[measured] = solve_scale(target[of], surface_of(target[of]), scale[measured], black)
    surface = surface_of(target, SURFACE * learned.shine)
    swatches_on = None
    if hand is not None:
        scale = np.clip(scale * np.array(hand.scales)[colours], *c.S_SCALES)
        paper = replace(deeper(paper, hand.tooth), laying=hand.laying)
        swatches_on = deeper(drawing_paper(), hand.tooth)
    S[colours] = scale[:, None] * scatter_shape(target[colours], learned.scatter_power)
    pressed, pressed_sd = np.ones(len(pencils)), swatch_sd(pencil_set)
    if learned.pressed:
        pressed, pressed_sd = np.array(learned.pressed), np.array(learned.pressed_sd)
    K[colours] = solve_absorption(
        target[colours], S[colours], surface[colours], swatches_on, pressed[colours]
    )
    limit, pole = ends(masstone(K, S))
    lab = reflectance_to_lab(target)
    wheel = np.zeros(len(pencils))
    family = np.full(len(pencils), -1, dtype=np.int64)
    wheel[colours] = wheel_position(lab[colours])
    family[colours] = family_at(wheel[colours])
    return Palette(
        set=pencil_set,
        names=tuple(pencil.name for pencil in pencils),
        K=K,
        S=S,
        limit=limit,
        pole=pole,
        decay=decay(K, S),
        surface=surface,
        reflectance=target,
        lab=lab,
        wheel=wheel,
        family=family,
        paper=paper,
        blender=pencil_set.blender,
        colour_indices=colours,
        pressed=pressed,
        pressed_sd=pressed_sd,
        hand=hand,
    )


def swatch_sd(pencil_set: PencilSet) -> FloatArray:
    """The doubt (N,) in the log of how hard each swatch was laid: a hand's, over its swatches."""
    times = np.array([pencil.painted for pencil in pencil_set.pencils])
    sd: FloatArray = np.where(times > 0, c.HAND_SD / np.sqrt(np.maximum(times, 1)), 0.0)
    return sd


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


def _black_labs(of: list[Pencil], pencil_set: PencilSet) -> FloatArray:
    """The Lab (n, 3) of swatches over black paper. Raises InputError as ``prepare`` does."""
    lab = _labs([pencil.on_black for pencil in of])
    measured = np.array([isinstance(p.on_black, tuple) and len(p.on_black) == 31 for p in of])
    _all_met(measured | try_recover(lab)[1], of, pencil_set, "on_black colour")
    return lab


def _labs(given: list[str | Lab | Spectrum | None]) -> FloatArray:
    """Lab (n, 3) of swatches given as hex, Lab or spectrum."""
    lab = np.empty((len(given), 3))
    for i, colour in enumerate(given):
        if isinstance(colour, tuple) and len(colour) == 31:
            lab[i] = reflectance_to_lab(np.array(colour))
        elif isinstance(colour, str):
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
