"""Which patch to paint next: the one that narrows what the learner's recipes come to most.

By Laplace's covariance: of each patch that could be painted, how much it would take from the
variance of the predictions of many recipes, greedily, one after another.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import metric
from drills.hand.fit import Fit, noise_of
from drills.hand.model import slopes
from drills.hand.patch import Ground, Recipe
from drills.layering import constants as c
from drills.layering.films import FloatArray
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import Palette

_ALONE: tuple[tuple[tuple[float, ...], Ground], ...] = (
    ((LIGHT,), "white"),
    ((MIDDLE,), "white"),
    ((LIGHT, LIGHT), "white"),
    ((MIDDLE, MIDDLE), "white"),
    ((FIRM, FIRM), "white"),
    ((MIDDLE,) * 4, "white"),
    ((FIRM,) * 4, "white"),
    ((FIRM,), "black"),
)
_PAIRS = ((MIDDLE, MIDDLE), (FIRM, FIRM), (FIRM, MIDDLE))
_MOST = 330
"""Patches looked at: more are drawn by lot from."""
_TARGETS = 150


@dataclass(frozen=True)
class Suggestion:
    """A patch to paint, and the share 0–1 it takes of the variance that is left."""

    recipe: Recipe
    narrows: float


def candidates(palette: Palette, rng: random.Random) -> list[Recipe]:
    """Patches that could be painted: each pencil alone in its ways, and as many pairs."""
    of = palette.at_hand.tolist()
    out = [
        Recipe(tuple(Move("lay", i, press) for press in pressed), ground)
        for i in of
        for pressed, ground in _ALONE
    ]
    # A swatch painted by hand is told more of by another; one given as exact is not.
    again = palette.colour_indices[palette.pressed_sd[palette.colour_indices] > 0.0].tolist()
    out += [Recipe((Move("lay", i, FIRM),)) for i in again]
    for _ in range(len(of) * 2 if len(of) > 1 else 0):
        pair, pressed = rng.sample(of, 2), rng.choice(_PAIRS)
        out.append(Recipe(tuple(map(_layer, pair, pressed))))
    return rng.sample(out, _MOST) if len(out) > _MOST else out


def targets(palette: Palette, rng: random.Random, count: int = _TARGETS) -> list[Recipe]:
    """Recipes of two to four layers, as plans and questions ask for."""
    of = palette.at_hand.tolist()
    return [
        Recipe(
            tuple(
                _layer(rng.choice(of), rng.choice((LIGHT, MIDDLE, FIRM)))
                for _ in range(rng.randint(2, 4))
            )
        )
        for _ in range(count)
    ]


def _aim(palette: Palette, found: Fit, recipes: Sequence[Recipe]) -> FloatArray:
    """(P, P): how the mean variance of these recipes hangs on θ's covariance."""
    aims = slopes(palette, found.theta, recipes)
    G = metric(aims.lab) @ aims.by_unknown
    A: FloatArray = np.einsum("tip,tiq->pq", G, G) / len(recipes)
    return A


def _layer(pencil: int, pressure: float) -> Move:
    return Move("lay", pencil, pressure)


def choose(
    palette: Palette,
    found: Fit,
    count: int,
    painted: Collection[Recipe] = (),
    own: Sequence[Recipe] = (),
) -> list[Suggestion]:
    """The next ``count`` patches to paint, best first; the same for the same set and fit.

    ``own`` are recipes of the learner's own targets: together they weigh as much as all others.
    """
    rng = random.Random(f"patches:{palette.set.fingerprint}")
    wanted, left = targets(palette, rng), candidates(palette, rng)
    A = _aim(palette, found, wanted)
    if own:
        A = A + _aim(palette, found, own)
    left = [one for one in left if one not in painted]
    at = slopes(palette, found.theta, left)
    J = metric(at.lab) @ at.by_unknown
    noise = noise_of(at, at.lab, c.PATCH_SD)
    cov, out = found.cov, []
    open_to = np.ones(len(left), dtype=bool)
    for _ in range(min(count, len(left))):
        JC = J @ cov
        inverse = np.linalg.inv(JC @ np.swapaxes(J, 1, 2) + noise)
        takes = np.einsum("bij,bjp,pq,biq->b", inverse, JC, A, JC, optimize=True)
        best = int(np.where(open_to, takes, -1.0).argmax())
        open_to[best] = False
        out.append(Suggestion(left[best], float(takes[best] / np.einsum("pq,pq->", A, cov))))
        cov = cov - JC[best].T @ inverse[best] @ JC[best]
    return out
