"""One model of a class's students, fitted by Newton's steps, with Laplace's doubt about it.

An answer of student s to a skill of kind k and region r, asked x below the kind's
easiest step (log10), is right with

    p = chance_k + (1 − chance_k − LAPSE) · logistic(slope · (g_kr + θ_s + u_sk + w_sr − x))

g_kr is the class's at the skill, about its kind's and its region's; θ_s the student's
own, u_sk and w_sr theirs in a kind and a region: log10 finer than the class. Each is
normal about nought. The spread of θ, that of u and the slope are not known either:
``integrate`` weighs a grid of them by Laplace's evidence. The grid holds no spread at
all, so that a class of equals may be found to be one.

A student's own unknowns hang together only through the class's, so the information
matrix is an arrow: students' blocks are eliminated one by one (Schur's complement).
Steps are Fisher's scoring (McCullagh & Nelder 1989, Generalized Linear Models, 2.5).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

import numpy as np

from scores.classes.standing.cells import Cells, FloatArray

LAPSE = 0.03
"""Answers wrong whatever was seen."""
PRIOR_LEVEL, CLASS_SD, REGION_SD, SKILL_SD = 0.35, 0.5, 0.08, 0.08
"""Where a class is expected, in levels; spreads of its kinds, regions and skills, log10."""
SPREADS = (0.0, 0.04, 0.08, 0.13, 0.19, 0.27)
"""Spread between students, log10."""
OWN_SPREADS = (0.0, 0.06, 0.12, 0.2)
"""Spread of a student's kinds about the student, log10; of their regions, ``REGION_PART`` of it."""
REGION_PART = 0.6
SLOPES = (6.0, 10.0, 16.0)
"""Of the logistic function, per log10. Our estimates, all of them."""
CLEAR = 6.0
"""Settings whose evidence lies so far (natural log) below the best are left out."""
STEPS_MOST, NEAR = 25, 0.1


_At = tuple[int, int, int]
"""A place in the grid of spreads, own spreads and slopes."""


class Setting(NamedTuple):
    """Spread between students, of a student's kinds, and the slope."""

    spread: float
    own: float
    slope: float


@dataclass(frozen=True)
class Fit:
    """The likeliest values under one setting and the information about them.

    ``skills`` (G,) are the class's g; ``own`` (S, P) the students' unknowns in
    spreads of theirs: θ, each kind's, each region's. ``design`` (G, P) brings them
    to log10. ``within`` (S, P, P) is the information of a student's own,
    ``across`` (S, P, G) of theirs with the class's, ``about`` (G, G) of the class's
    once students' are eliminated.
    """

    setting: Setting
    evidence: float
    skills: FloatArray
    own: FloatArray
    design: FloatArray
    within: FloatArray
    across: FloatArray
    about: FloatArray

    def ability(self) -> FloatArray:
        """(S, G): log10 finer than a kind's easiest step, at each skill."""
        return np.asarray(self.skills + self.own @ self.design.T)


def integrate(cells: Cells) -> tuple[tuple[float, Fit], ...]:
    """The settings that the answers leave likely, with their weights, the likeliest first.

    The likeliest is climbed to, one axis after another; then its neighbours are tried, and
    theirs, as far as they are likely. Many answers leave few settings, and cost few fits.
    """
    axes = (SPREADS, OWN_SPREADS, SLOPES)
    found: dict[_At, Fit] = {}

    def at(place: _At) -> float:
        if place not in found:
            near = min(found, key=lambda one: _apart(one, place)) if found else None
            setting = Setting(*(axis[at] for axis, at in zip(axes, place, strict=True)))
            found[place] = fitted(cells, setting, None if near is None else found[near])
        return found[place].evidence

    top, climbing = (3, 1, 1), True
    while climbing:
        climbing = False
        for axis in range(len(axes)):
            for by in (-1, 1):
                while (beyond := _moved(top, axis, by)) is not None and at(beyond) > at(top):
                    top, climbing = beyond, True
    waiting, looked = [top], {top}
    while waiting:
        one = waiting.pop()
        for axis, by in product(range(len(axes)), (-1, 1)):
            beyond = _moved(one, axis, by)
            if beyond is not None and beyond not in looked:
                looked.add(beyond)
                if at(beyond) > at(top) - CLEAR:
                    waiting.append(beyond)
    best = max(fit.evidence for fit in found.values())
    kept = sorted((one for one in found.values() if one.evidence > best - CLEAR), key=_evidence)
    weights = np.exp(np.array([one.evidence - best for one in kept]))
    weights /= weights.sum()
    return tuple(zip(weights.tolist(), kept, strict=True))


def _evidence(fit: Fit) -> float:
    return -fit.evidence


def _apart(one: _At, other: _At) -> int:
    return sum(abs(a - b) for a, b in zip(one, other, strict=True))


def _moved(at: _At, axis: int, by: int) -> _At | None:
    """The place beside ``at`` along an axis; None beyond its end."""
    moved = list(at)
    moved[axis] += by
    within = 0 <= moved[axis] < len((SPREADS, OWN_SPREADS, SLOPES)[axis])
    return (moved[0], moved[1], moved[2]) if within else None


def fitted(cells: Cells, setting: Setting, start: Fit | None = None) -> Fit:
    """The fit under one setting; ``start`` is one of another setting to begin from."""
    design = _design(cells, setting)
    mean, precision, log_det = _prior(cells)
    skills = mean.copy() if start is None else start.skills.copy()
    own = np.zeros((cells.students, design.shape[1]))
    if start is not None and start.setting.spread and start.setting.own:
        scale = np.ones(design.shape[1])
        scale[0] = start.setting.spread / setting.spread if setting.spread else 0.0
        scale[1:] = start.setting.own / setting.own if setting.own else 0.0
        own = start.own * scale
    for _ in range(STEPS_MOST):
        score, weight, _ = _slopes(cells, skills + own @ design.T, setting.slope)
        _, across, about, inverse, inner = _information(design, precision, weight)
        own_score = score @ design - own
        first = (inverse @ own_score[..., None])[..., 0]
        pull = score.sum(axis=0) - precision @ (skills - mean)
        step = np.linalg.solve(about, pull - np.einsum("spg,sp->g", across, first))
        own_step = first - inner @ step
        longest = max(float(np.abs(step).max()), float(np.abs(own_step @ design.T).max()))
        part = min(1.0, 0.4 / longest) if longest else 1.0
        skills = skills + part * step
        own = own + part * own_step
        # What the step promises, in log likelihood: comparisons of settings need no more.
        if float(pull @ step) + float((own_score * own_step).sum()) < NEAR:
            break
    _, weight, likelihood = _slopes(cells, skills + own @ design.T, setting.slope)
    within, across, about, _, _ = _information(design, precision, weight)
    away = skills - mean
    evidence = likelihood - 0.5 * float(away @ precision @ away) - 0.5 * float((own**2).sum())
    evidence -= 0.5 * (float(np.linalg.slogdet(within)[1].sum()) + log_det)
    evidence -= 0.5 * float(np.linalg.slogdet(about)[1])
    return Fit(setting, evidence, skills, own, design, within, across, about)


def _design(cells: Cells, setting: Setting) -> FloatArray:
    kinds, size = len(cells.kinds), len(cells.skills)
    design = np.zeros((size, 1 + kinds + len(cells.regions)))
    every = np.arange(size)
    design[:, 0] = setting.spread
    design[every, 1 + cells.kind_of] = setting.own
    design[every, 1 + kinds + cells.region_of] = REGION_PART * setting.own
    return design


def _prior(cells: Cells) -> tuple[FloatArray, FloatArray, float]:
    """Mean, precision and log determinant of the variance of the class's skills."""
    alike = cells.kind_of[:, None] == cells.kind_of
    near = cells.region_of[:, None] == cells.region_of
    variance = CLASS_SD**2 * alike + REGION_SD**2 * near + SKILL_SD**2 * np.eye(len(alike))
    mean = PRIOR_LEVEL * cells.span[cells.kind_of]
    return mean, np.linalg.inv(variance), float(np.linalg.slogdet(variance)[1])


def _slopes(
    cells: Cells, ability: FloatArray, slope: float
) -> tuple[FloatArray, FloatArray, float]:
    """(S, G) score and information about each ability, and the log likelihood."""
    kind = cells.kind_of[cells.skill]
    above = ability[cells.student, cells.skill] - cells.asked
    seen = 1.0 / (1.0 + np.exp(-np.clip(slope * above, -30.0, 30.0)))
    reach = 1.0 - cells.chance[kind] - LAPSE
    p = np.clip(cells.chance[kind] + reach * seen, 1e-6, 1.0 - 1e-6)
    rise = slope * reach * seen * (1.0 - seen) / (p * (1.0 - p))
    shape = ability.shape
    at = cells.student * shape[1] + cells.skill
    score = np.bincount(at, (cells.right - cells.tries * p) * rise, ability.size)
    weight = np.bincount(at, cells.tries * rise**2 * p * (1.0 - p), ability.size)
    likelihood = cells.right * np.log(p) + (cells.tries - cells.right) * np.log1p(-p)
    return (
        score.reshape(shape).astype(np.float64),
        weight.reshape(shape).astype(np.float64),
        float(likelihood.sum()),
    )


def _information(
    design: FloatArray, precision: FloatArray, weight: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]:
    """Within students, across to the class, about the class; within⁻¹ and that · across."""
    size, unknowns = design.shape
    squares = (design[:, :, None] * design[:, None, :]).reshape(size, -1)
    # Student by student: products too small for BLAS to hand to threads, which on a busy
    # machine wait for each other longer than they work.
    within = (weight[:, None, :] @ squares).reshape(-1, unknowns, unknowns) + np.eye(unknowns)
    across = weight[:, None, :] * design.T
    # The identity in it keeps each block well away from singular.
    inverse: FloatArray = np.linalg.inv(within).astype(np.float64)
    inner = inverse @ across
    about = precision + np.diag(weight.sum(axis=0))
    about = about - (across.transpose(0, 2, 1) @ inner).sum(axis=0)
    return within, across, about, inverse, inner
