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
    to log10. ``weight`` (S, G) is the information about each ability, ``inverse``
    (S, P, P) undoes that of a student's own, ``about`` (G, G) is that of the class's
    once students' are eliminated.
    """

    setting: Setting
    evidence: float
    skills: FloatArray
    own: FloatArray
    design: FloatArray
    weight: FloatArray
    inverse: FloatArray
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
        score, weight, _ = _slopes(cells, skills + by_student(own, design.T), setting.slope)
        known = _information(cells, setting, precision, weight)
        own_score = by_student(score, design) - own
        first = np.einsum("spq,sq->sp", known.inverse, own_score)
        pull = score.sum(axis=0) - precision @ (skills - mean)
        step = np.linalg.solve(
            known.about, pull - (weight * by_student(first, design.T)).sum(axis=0)
        )
        own_step = first - np.einsum("spq,sq->sp", known.inverse, by_student(weight * step, design))
        longest = max(
            float(np.abs(step).max()), float(np.abs(by_student(own_step, design.T)).max())
        )
        part = min(1.0, 0.4 / longest) if longest else 1.0
        skills = skills + part * step
        own = own + part * own_step
        # What the step promises, in log likelihood: comparisons of settings need no more.
        if float(pull @ step) + float((own_score * own_step).sum()) < NEAR:
            break
    _, weight, likelihood = _slopes(cells, skills + by_student(own, design.T), setting.slope, True)
    known = _information(cells, setting, precision, weight)
    away = skills - mean
    evidence = likelihood - 0.5 * float(away @ precision @ away) - 0.5 * float((own**2).sum())
    evidence -= 0.5 * (known.log_det + log_det)
    evidence -= 0.5 * float(np.linalg.slogdet(known.about)[1])
    return Fit(setting, evidence, skills, own, design, weight, known.inverse, known.about)


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
    cells: Cells, ability: FloatArray, slope: float, likely: bool = False
) -> tuple[FloatArray, FloatArray, float]:
    """(S, G) score and information about each ability, and if ``likely`` the log likelihood."""
    at, chance = cells.at, cells.chance_of
    above = ability.ravel()[at]
    above -= cells.asked
    above *= -slope
    seen = 1.0 / (1.0 + np.exp(np.clip(above, -30.0, 30.0, out=above), out=above))
    reach = 1.0 - LAPSE - chance
    p = reach * seen
    steep = (1.0 - seen) * p
    steep *= slope
    p += chance
    np.clip(p, 1e-6, 1.0 - 1e-6, out=p)
    rise = steep / (p * (1.0 - p))
    score = np.bincount(at, (cells.right - cells.tries * p) * rise, ability.size)
    rise *= steep
    rise *= cells.tries
    weight = np.bincount(at, rise, ability.size)
    likelihood = 0.0
    if likely:
        likelihood = float(
            (cells.right * np.log(p) + (cells.tries - cells.right) * np.log1p(-p)).sum()
        )
    return (
        score.reshape(ability.shape).astype(np.float64),
        weight.reshape(ability.shape).astype(np.float64),
        likelihood,
    )


IN_ONE_THREAD = 200_000
"""Multiplications in a product that BLAS doesn't hand to threads, which on a busy machine wait
for each other longer than they work (OpenBLAS: up to 262,144)."""


def over_students(one: FloatArray, other: FloatArray) -> FloatArray:
    """(S, A) and (S, B) summed over students to (A, B), part by part."""
    size = max(1, IN_ONE_THREAD // (one.shape[1] * other.shape[1]))
    total = np.zeros((one.shape[1], other.shape[1]))
    for first in range(0, len(one), size):
        total += one[first : first + size].T @ other[first : first + size]
    return total


def by_student(one: FloatArray, other: FloatArray) -> FloatArray:
    """(S, A) by (A, B), part by part."""
    size = max(1, IN_ONE_THREAD // other.size)
    made = np.empty((len(one), other.shape[1]))
    for first in range(0, len(one), size):
        np.matmul(one[first : first + size], other, out=made[first : first + size])
    return made


class _Information(NamedTuple):
    """As in ``Fit``; ``log_det`` is of all students' own information together."""

    inverse: FloatArray
    about: FloatArray
    log_det: float


def _information(
    cells: Cells, setting: Setting, precision: FloatArray, weight: FloatArray
) -> _Information:
    """The information about students' own, undone, and about the class's without them.

    A skill is of one kind and one region. So the regions of a student hang together only
    through θ and the kinds, and are eliminated first: what is left to invert is small.
    """
    spread, own, region = setting.spread, setting.own, REGION_PART * setting.own
    students, skills = weight.shape
    some = 1 + len(cells.kinds)
    unknowns = some + len(cells.regions)
    every = np.arange(skills)
    groups = cells.groups
    sums = np.stack([weight[:, mine].sum(axis=1) for mine in groups], axis=1)
    by_kind, by_region = sums[:, : some - 1], sums[:, some - 1 :]
    # θ and the kinds (S, some, some); across to the regions (S, some, R); the regions (S, R).
    first = np.zeros((students, some, some))
    first[:, 0, 0] = spread**2 * weight.sum(axis=1)
    first[:, 0, 1:] = first[:, 1:, 0] = spread * own * by_kind
    diagonal = np.arange(1, some)
    first[:, diagonal, diagonal] = own**2 * by_kind
    first += np.eye(some)
    across = np.zeros((students, some, unknowns - some))
    across[:, 0, :] = spread * region * by_region
    across[:, 1 + cells.kind_of, cells.region_of] = own * region * weight
    alone = 1.0 + region**2 * by_region
    over = across / alone[:, None, :]
    # The identity in it keeps each block well away from singular.
    rest = first - over @ across.transpose(0, 2, 1)
    inverse = np.empty((students, unknowns, unknowns))
    inverse[:, :some, :some] = np.linalg.inv(rest)
    beside = inverse[:, :some, :some] @ over
    inverse[:, :some, some:] = -beside
    inverse[:, some:, :some] = -beside.transpose(0, 2, 1)
    inverse[:, some:, some:] = over.transpose(0, 2, 1) @ beside
    places = np.arange(some, unknowns)
    inverse[:, places, places] += 1.0 / alone
    # What students' own take of the class's: weight · design · inverse · design · weight.
    inner = by_student(inverse.reshape(-1, unknowns), _design(cells, setting).T)
    inner = inner.reshape(students, unknowns, skills)
    inner *= weight[:, None, :]
    taken = np.zeros((skills, skills))
    for place, mine in enumerate(groups, start=1):
        part = own if place < some else region
        of_it = part * inner[:, place, :]
        if place < some:
            of_it += spread * inner[:, 0, :]
        taken[mine] += over_students(weight[:, mine], of_it)
    about = precision - taken
    about[every, every] += weight.sum(axis=0)
    log_det = float(np.linalg.slogdet(rest)[1].sum()) + float(np.log(alone).sum())
    return _Information(inverse, about, log_det)
