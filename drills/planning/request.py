"""One job for the planner, checked: pencils, target, limits, and the search that serves them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.layering.films import FloatArray
from drills.layering.palette import Palette
from drills.pencils.pencil import Lab
from drills.planning.aim import aim
from drills.planning.other_light import spectrum_of
from drills.planning.plan_limits import Limits, usable
from drills.planning.plan_words import as_lab
from drills.planning.search.craft import roles
from drills.planning.search.finished_plans import Candidate, candidates, likeliest
from drills.planning.search.half_made import IntArray
from drills.planning.search.likely_search import likely_search
from drills.planning.search.next_moves import SearchTask, Width
from drills.planning.search.search import search

SHORT: Final = Width(beam=1500, blends=60, burnishes=30)
"""For plans of up to ``SHORT_LAYERS`` moves: all but exhaustive."""
LONG: Final = Width(beam=320, blends=40, burnishes=24)
"""For longer plans."""
QUICK: Final = Width(beam=60, blends=8, burnishes=6)
"""For drills, and for trying missing pencils."""
SHORT_LAYERS: Final = 3


@dataclass(frozen=True, eq=False)
class Job:
    """What is to be planned.

    ``places`` (n,) of the pencils that may be used; ``target`` (3,) its Lab,
    ``spectrum`` (31,) its reflectance, given or recovered, or None; ``paper``
    (3,) the bare paper's Lab. A plan is to arrive ``lighter`` than the target by so much L*.
    The target is in doubt by ``target_sd``, a ΔE00.
    """

    palette: Palette
    places: IntArray
    target: FloatArray
    spectrum: FloatArray | None
    paper: FloatArray
    limits: Limits
    seed: int
    lighter: float = 0.0
    target_sd: float = 0.0

    @cached_property
    def within(self) -> FloatArray:
        """The target, Lab (3,), unless that is far too bright: then its hue and value."""
        return aim(self.palette, self.target)

    @cached_property
    def aim(self) -> FloatArray:
        """The Lab (3,) that is searched for."""
        if not self.lighter:
            return self.within
        L, a, b = self.within.tolist()
        return np.array([min(L + self.lighter, max(L, float(self.paper[0]))), a, b])

    @property
    def bare_miss(self) -> float:
        """ΔE00 of the bare paper from the target."""
        return float(delta_e00(self.paper, self.target))

    def with_pencil(self, palette: Palette) -> Job:
        """The same job with ``palette``, whose last pencil is new, and may be used."""
        new = len(palette) - 1
        tray = None if self.limits.tray is None else self.limits.tray | {new}
        return replace(
            self,
            palette=palette,
            places=np.append(self.places, new),
            limits=replace(self.limits, tray=tray),
        )


def make_job(
    palette: Palette,
    target_lab: Lab,
    limits: Limits,
    seed: int,
    reflectance: ArrayLike | None,
    *,
    spectral: bool = True,
) -> Job:
    """Check what is asked. ``spectral`` False leaves out the target's spectrum, to save time.

    Raises InputError for a target that is no colour and limits no plan can keep.
    """
    places = np.array(usable(palette.set, limits), dtype=np.int64)
    target, spectrum = _target(target_lab, reflectance, spectral)
    paper = reflectance_to_lab(palette.paper.reflectance)
    return Job(palette, places, target, spectrum, paper, limits, seed)


def _target(
    target_lab: Lab, reflectance: ArrayLike | None, spectral: bool
) -> tuple[FloatArray, FloatArray | None]:
    if reflectance is not None:
        spectrum = np.asarray(reflectance, dtype=np.float64)
        if spectrum.shape != (31,) or not ((spectrum >= 0.0) & (spectrum <= 1.0)).all():
            raise InputError(
                "target",
                "its spectrum is not 31 numbers from 0 to 1",
                "Give reflectance at 400, 410 … 700 nm.",
            )
        return reflectance_to_lab(spectrum), spectrum
    target = np.asarray(target_lab, dtype=np.float64)
    if target.shape != (3,) or not np.isfinite(target).all():
        raise InputError("target", "not a colour", "Give L*, a* and b*.")
    return target, spectrum_of(target) if spectral else None


def ranked(job: Job, width: Width | None = None, most: int | None = None) -> list[Candidate]:
    """Finished plans that keep the craft and the limits, nearest the aim first; perhaps none.

    ``most`` is how many at most.
    """
    if width is None:
        width = SHORT if job.limits.max_layers <= SHORT_LAYERS else LONG
    return candidates(search(task_of(job), width), most)


def likely(job: Job) -> list[Candidate]:
    """Plans that miss by little in expectation, the one whose colour is nearest first."""
    found = likely_search(task_of(job))
    return likeliest(found) if found else []


def task_of(job: Job) -> SearchTask:
    """What is to be searched for."""
    limits = job.limits
    return SearchTask(
        job.palette,
        job.places,
        job.aim,
        roles(job.palette, as_lab(job.target), job.places),
        np.isin(job.places, sorted(limits.insist)),
        limits.max_layers,
        limits.max_pencils,
        limits.blender and job.palette.blender is not None,
        limits.burnish,
    )
