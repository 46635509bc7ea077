"""The likeliest hand behind patches, how sure that is, and whether it earns its place.

Gauss–Newton to the greatest posterior, then Laplace's approximation: the posterior is taken as
normal about it. A patch's doubt is its measuring, what the model gets wrong anyhow, and each
layer's pressure, which moves a patch along its own slopes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00, metric
from drills.hand.model import N_SHARED, SHARED, Slopes, as_hand, prior, slopes
from drills.hand.patch import Patch
from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.laying import LearnedHand
from drills.layering.palette import Palette

FEWEST = 6
"""Patches before which held-out errors say too little to leave the default."""
_ROUNDS = 12
_SETTLED = 0.01
"""Prior standard deviations: a step shorter than that is the last."""


@dataclass(frozen=True, eq=False)
class Fit:
    """What n patches say. ``theta`` and ``cov`` as in drills.hand.model.

    ``predicted`` (n, 3) is Lab as learned. ``held_out`` and ``by_default`` (n,) are ΔE00 of each
    patch from its prediction, learned from the others, and by the default. ``better`` is whether
    the first are less in the mean: until then the default stays.
    """

    theta: FloatArray
    cov: FloatArray
    predicted: FloatArray
    held_out: FloatArray
    by_default: FloatArray
    better: bool
    hand: LearnedHand


def fit(palette: Palette, patches: Sequence[Patch]) -> Fit:
    """Learn from ``patches`` of a palette prepared without a hand.

    Held-out errors take the model as straight about the fit, so that no patch is fitted twice.
    """
    before = prior(palette)
    theta: FloatArray = np.zeros(len(before))
    if not patches:
        none = np.empty(0)
        default_hand = as_hand(palette, theta, 0, np.sqrt(np.diag(before)))
        return Fit(theta, before, np.empty((0, 3)), none, none, False, default_hand)
    recipes = [patch.recipe for patch in patches]
    lab = np.array([patch.lab for patch in patches])
    sd = np.array([patch.sd for patch in patches])
    inverse = np.linalg.inv(before).astype(np.float64)
    spread = np.sqrt(np.diag(before))
    found = default = slopes(palette, theta, recipes)
    for _ in range(_ROUNDS):
        J, r, cov = _posterior(found, lab, sd, inverse, theta)
        step = cov @ (np.einsum("bip,bi->p", J, r) - inverse @ theta)
        longest = float(np.abs(step / spread).max())
        theta = theta + step * min(1.0, 1.0 / max(longest, 1e-9))
        found = slopes(palette, theta, recipes)
        if longest < _SETTLED:
            break
    J, r, cov = _posterior(found, lab, sd, inverse, theta)
    gain = np.einsum("bip,pq,bjq->bij", J, cov, J)
    without = np.linalg.solve(np.eye(3) - gain, r[:, :, None])[:, :, 0]
    roots = _roots(found, lab, sd)
    held_out = delta_e00(lab - np.linalg.solve(roots, without[:, :, None])[:, :, 0], lab)
    by_default = delta_e00(default.lab, lab)
    return Fit(
        theta,
        cov,
        found.lab,
        held_out,
        by_default,
        len(patches) >= FEWEST and bool(held_out.mean() < by_default.mean()),
        as_hand(palette, theta, len(patches), np.sqrt(np.diag(cov))),
    )


def _posterior(
    at: Slopes, lab: FloatArray, sd: FloatArray, inverse: FloatArray, theta: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Whitened slopes (B, 3, P) and misses (B, 3), and the covariance (P, P) about θ."""
    roots = _roots(at, lab, sd)
    J = roots @ at.by_unknown
    r = np.einsum("bij,bj->bi", roots, lab - at.lab)
    cov = np.linalg.inv(np.einsum("bip,biq->pq", J, J) + inverse)
    return J, r, cov


def _roots(at: Slopes, lab: FloatArray, sd: FloatArray) -> FloatArray:
    """Matrices (B, 3, 3) that turn a miss in Lab into one of standard deviation 1 an axis."""
    noise = noise_of(at, lab, sd)
    roots: FloatArray = np.linalg.solve(np.linalg.cholesky(noise), metric(lab))
    return roots


def noise_of(at: Slopes, lab: FloatArray, sd: FloatArray | float) -> FloatArray:
    """Covariance (B, 3, 3) of patches about their mean, in the units of ``metric``."""
    by_hand = metric(lab) @ at.by_layer * c.HAND_SD
    own = np.broadcast_to((np.square(sd) + c.MISFIT_SD**2) / 3.0, len(lab))
    noise: FloatArray = by_hand @ np.swapaxes(by_hand, 1, 2) + own[:, None, None] * np.eye(3)
    return noise


def surest(found: Fit) -> dict[str, float]:
    """How much of each shared unknown's prior spread is left, 0–1."""
    left = np.sqrt(np.diag(found.cov)[:N_SHARED]) / np.array(list(SHARED.values()))
    return dict(zip(SHARED, left.tolist(), strict=True))
