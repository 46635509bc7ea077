"""What one answer says of the threshold seen: the moments of its posterior along one line.

An answer's likelihood hangs on one number alone, u, the threshold seen that day, which
before it is N(μ, v) under each of S settings. With ψ_j the Weibull function of shape j
(slope, lapse rate, guess; see ``scores.skill.psychometric``) and w_j its weight,

    Z = ∫ Σ_j w_j ψ_j(x − u) N(u; μ, v) du,

and the posterior of u is replaced by the normal of the same mean and variance (assumed
density filtering; Opper 1998; Minka 2001, "Expectation propagation", §3.1). The
integrals are by Gauss-Hermite quadrature. Z also weighs the shapes and the settings.
"""

from __future__ import annotations

from functools import cache, lru_cache

import numpy as np

from scores.skill.model import settings as s
from scores.skill.model.layout import FloatArray
from scores.skill.psychometric import PROPORTION

SLOPE_COUNT, LAPSE_COUNT, GUESS_COUNT = len(s.SLOPES), len(s.LAPSES), len(s.GUESSES)


@cache
def _nodes() -> tuple[FloatArray, FloatArray]:
    """Nodes and weights for a standard normal, (Q,) each."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(s.NODES)
    return nodes, weights / weights.sum()


@lru_cache(maxsize=64)
def _shapes(chance: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Slope (3, 1), the rate k (3, 2) inside the exponential, and guess (2,), of a chance."""
    guess = np.array([min(chance + more * (1.0 - chance), 0.74) for more, _ in s.GUESSES])
    rate = np.log((1.0 - guess) / (1.0 - PROPORTION))
    return np.array([slope for slope, _ in s.SLOPES]), rate, guess


def proportions(above: FloatArray, chance: float) -> FloatArray:
    """ψ for every shape: (..., slopes, guesses, lapses) for ``above`` (...), log10 units."""
    slope, rate, guess = _shapes(chance)
    power = 10.0 ** np.minimum(above[..., None] * slope, 2.5)
    seen = 1.0 - np.exp(-power[..., None] * rate)
    lapse = np.array([rate for rate, _ in s.LAPSES])
    g = guess[:, None]
    made: FloatArray = g + (1.0 - g - lapse) * seen[..., None]
    return made


def moments(
    x: float, right: bool, mean: FloatArray, variance: FloatArray, chance: float, shape: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Z (S,), the posterior's mean and variance (S,), and Z by shape (S, 3, 2, 3).

    ``shape`` (slopes, guesses, lapses) holds the shapes' weights, which sum to 1.
    """
    nodes, weights = _nodes()
    u = mean[:, None] + np.sqrt(variance)[:, None] * nodes
    psi = proportions(x - u, chance)
    if not right:
        psi = 1.0 - psi
    mixed = (psi * shape).sum(axis=(2, 3, 4)) * weights
    z = mixed.sum(axis=1)
    after = (mixed * u).sum(axis=1) / z
    spread = (mixed * (u - after[:, None]) ** 2).sum(axis=1) / z
    by_shape = np.tensordot(psi, weights, axes=([1], [0])) * shape
    return z, after, spread, by_shape
