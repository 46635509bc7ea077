"""What the fits leave likely, as draws from them together: who stands where, and how sure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scores.classes.standing.cells import Cells, FloatArray
from scores.classes.standing.fit import Fit

DRAWS, VALUES_MOST = 2000, 3_000_000
"""Draws, fewer where students × kinds would make more numbers than this."""
FLOOR = 0.05
"""Students whose abilities spread by less (log10, a standard deviation) don't differ in earnest."""
CLEARLY = 0.10
"""A difference a teacher would see, log10: a step a quarter coarser."""
NEAR_EASIEST = 0.1
"""The level at which a kind is as good as at its easiest."""


@dataclass(frozen=True)
class Drawn:
    """Probabilities and means for S students, K kinds, G skills.

    ``whole`` (S, 3) is the ability over all kinds in levels: mean, low and high (90 %);
    ``skill`` and ``skill_sd`` (S, G) are those of each skill, in levels.
    """

    differ: float
    weak: FloatArray
    on_track: FloatArray
    whole: FloatArray
    level: FloatArray
    stuck: FloatArray
    behind: FloatArray
    ahead: FloatArray
    harder: FloatArray
    gain: FloatArray
    skill: FloatArray
    skill_sd: FloatArray


def drawn(cells: Cells, fits: Sequence[tuple[float, Fit]], seed: int = 1) -> Drawn:
    """Draw from the fits by their weights. The same seed, the same draws."""
    rng = np.random.default_rng(seed)
    kinds, students = len(cells.kinds), cells.students
    size = max(200, min(DRAWS, VALUES_MOST // (students * (kinds + 1))))
    forms = _forms(cells)
    some, skills = [], []
    for part, fit in fits:
        count = round(part * size)
        if count:
            one, class_skills = _draw(fit, forms, count, rng)
            some.append(one)
            skills.append(class_skills)
    # (D, 1 + K, S)
    every = some[0] if len(some) == 1 else np.concatenate(some)
    whole, by_kind = np.ascontiguousarray(every[:, 0]), every[:, 1:]
    third = students // 3
    middle = whole.mean(axis=1, keepdims=True)
    usual = by_kind.mean(axis=2, keepdims=True)
    behind = _lowest(by_kind, third) & (by_kind < usual - CLEARLY)
    ahead = by_kind > usual
    span = float(cells.span[cells.kind_of] @ cells.share)
    low, high = np.quantile(whole, (0.05, 0.95), axis=0)
    return Drawn(
        float((whole.std(axis=1) > FLOOR).mean()),
        np.asarray(_lowest(whole, third).mean(axis=0)),
        np.asarray((whole > middle - CLEARLY).mean(axis=0)),
        np.stack([whole.mean(axis=0), low, high], axis=1) / span,
        np.asarray(by_kind.mean(axis=0).T / cells.span),
        np.asarray((by_kind < NEAR_EASIEST * cells.span[:, None]).mean(axis=0).T),
        np.asarray(behind.mean(axis=0).T),
        np.asarray(ahead.mean(axis=0).T),
        _harder(cells, np.concatenate(skills)),
        _gain(cells, fits[0][1], forms),
        *_by_skill(cells, fits),
    )


def _by_skill(cells: Cells, fits: Sequence[tuple[float, Fit]]) -> tuple[FloatArray, FloatArray]:
    """(S, G) mean and standard deviation of each ability, in levels; the doubt is of the
    likeliest fit, with how far the fits differ."""
    best = fits[0][1]
    # (S, G, G): how a student's skills hang together through what is the student's own.
    together = best.design @ (best.inverse @ best.design.T)
    own = np.einsum("sgg->sg", together)
    rest = np.eye(len(best.skills)) - together * best.weight[:, None, :]
    variance = own + ((rest @ np.linalg.inv(best.about)) * rest).sum(axis=2)
    means = np.array([fit.ability() for _, fit in fits])
    weights = np.array([part for part, _ in fits])[:, None, None]
    mean = (weights * means).sum(axis=0)
    variance = variance + (weights * (means - mean) ** 2).sum(axis=0)
    span = cells.span[cells.kind_of]
    return mean / span, np.sqrt(variance) / span


def _forms(cells: Cells) -> FloatArray:
    """(1 + K, G): the class's mix of all skills, and of each kind's."""
    share = cells.share
    rows = [share]
    for kind in range(len(cells.kinds)):
        mine = np.where(cells.kind_of == kind, share, 0.0)
        rows.append(mine / mine.sum())
    return np.array(rows)


def _draw(
    fit: Fit, forms: FloatArray, count: int, rng: np.random.Generator
) -> tuple[FloatArray, FloatArray]:
    """(count, F, S) abilities by form, and (count, G) of the class's skills."""
    lines = forms @ fit.design  # (F, P)
    solved = lines @ fit.inverse  # (S, F, P)
    spread = np.einsum("fp,sfp->sf", lines, solved)
    cross = (solved @ fit.design.T) * fit.weight[:, None, :]
    root = np.linalg.cholesky(np.linalg.inv(fit.about))
    moved = rng.standard_normal((count, len(fit.skills))) @ root.T
    skills = fit.skills + moved
    mean = fit.own @ lines.T
    noise = rng.standard_normal((count, *mean.shape))
    noise *= np.sqrt(spread + 1e-12)
    shift = np.tensordot(moved, forms[None] - cross, axes=(1, 2))
    noise += mean + fit.skills @ forms.T
    noise += shift
    return np.ascontiguousarray(noise.transpose(0, 2, 1)), skills


def _lowest(values: FloatArray, third: int) -> np.ndarray:
    """Whether each student, along the last axis, is among the ``third`` lowest of a draw."""
    if third == 0:
        return np.zeros(values.shape, dtype=bool)
    highest = np.partition(values, third - 1, axis=-1)[..., third - 1 : third]
    return np.asarray(values <= highest)


def _harder(cells: Cells, skills: FloatArray) -> FloatArray:
    """(R,): how likely each region is harder for the class than its kinds are on the whole."""
    about = np.empty_like(skills)
    for kind in range(len(cells.kinds)):
        mine = cells.kind_of == kind
        about[:, mine] = skills[:, mine] - skills[:, mine].mean(axis=1, keepdims=True)
    found = [
        float((about[:, cells.region_of == place].mean(axis=1) < 0.0).mean())
        for place in range(len(cells.regions))
    ]
    return np.array(found)


def _gain(cells: Cells, fit: Fit, forms: FloatArray) -> FloatArray:
    """(S, G): how much of the doubt about a student's standing an answer to each skill takes."""
    design = fit.design
    solved = fit.inverse @ design.T  # (S, P, G)
    with_whole = (forms[0] @ design) @ solved
    alone = np.einsum("gp,spg->sg", design, solved)
    asked, _ = cells.counts()
    # An answer at four in five tells about slope² / 7 (the information of a logistic).
    told = fit.setting.slope**2 / 7.0
    return np.asarray(with_whole**2 * told / (1.0 + told * alone) / (1.0 + 0.05 * asked))
