"""Pencils, papers and hands of another make than the model: what predictions are held to.

Nothing of the truth comes from ``drills.layering`` but moves and the words for opacity;
``described`` is what a learner's file would say of it. Swatches are
measured spectra of colour-science's data sets (BabelColor's average of the colour chart, the
PMC chart, the 99 samples of CIE 224:2017). Films are laid by Kubelka (1954): R1 and T1 of the
film alone, then R = R1 + T1²·Rg/(1 − R1·Rg). The surface is Saunderson's (1942), with k1, k2
and the share seen drawn anew for each world; scattering runs as (R/Rmax)^g · λ^−p with g from
0 to 1.2 and p from 0 to 2; each pencil's opacity is drawn ×/÷ 2 about its class; the tooth has
24 zones whose heights are a beta distribution's quantiles, and fills as x/(x + c). The hand
presses light and middle its own way, and each layer with a spread of 15 %.
"""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray
from scipy.stats import beta, norm

from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.layering.moves import Move
from drills.layering.palette import Palette, prepare
from drills.layering.predict import predict_many
from drills.pencils.file import make_set
from drills.pencils.pencil import Lab, Opacity, Pencil

FloatArray = NDArray[np.float64]
BANDS = np.arange(400.0, 701.0, 10.0)
ZONES = 24
USUAL: dict[Opacity, float] = {"transparent": 0.12, "semi": 0.3, "opaque": 1.1}
PAPER = np.interp(BANDS, np.arange(400, 701, 50), (0.84, 0.905, 0.92, 0.925, 0.925, 0.93, 0.93))
BLACK_PAPER = 0.045


@cache
def patches() -> FloatArray:
    """Measured reflectances (n, 31) that a pencil's firm swatch could have."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
        from colour.quality.cfi2017 import load_TCS_CIE2017

        rows = [
            np.interp(BANDS, one.wavelengths, one.values)
            for chart in ("BabelColor Average", "PMC")
            for one in colour.SDS_COLOURCHECKERS[chart].values()
        ]
        samples = load_TCS_CIE2017(colour.SpectralShape(380, 780, 5))
        rows += [np.interp(BANDS, samples.wavelengths, one) for one in samples.values.T]
    found = np.array(rows)
    # Under a film over white paper, and no blacker than a surface.
    fits = (found.max(axis=1) < 0.86) & (found.min(axis=1) > 0.02)
    chosen: FloatArray = found[fits]
    return chosen


@dataclass(frozen=True, eq=False)
class World:
    """n pencils with their truth, a paper's tooth and a hand.

    ``target`` (n, 31) firm swatches on white paper, ``K`` and ``S`` (n, 31) for a film of
    thickness 1, ``opacity`` (n,) the class a file would name; ``heights`` (24,).
    """

    target: FloatArray
    K: FloatArray
    S: FloatArray
    opacity: tuple[Opacity, ...]
    heights: FloatArray
    k1: float
    k2: float
    seen: float
    capacity: float
    edge: float
    power: float
    hand: float

    def lay(
        self, moves: Sequence[Move], rng: np.random.Generator | None, ground: float = -1.0
    ) -> FloatArray:
        """Reflectance (31,) after layers of colour; without ``rng`` pressed as meant."""
        paper = PAPER if ground < 0.0 else np.full(31, ground)
        R = np.repeat(self._inside(paper)[None], ZONES, axis=0)
        x = np.zeros(ZONES)
        for move in moves:
            press = move.pressure
            if rng is not None:
                press = press**self.hand * max(0.05, 1.0 + 0.15 * rng.standard_normal())
            add = self._shed(x, press)
            R = _film(self.K[move.pencil], self.S[move.pencil], add[:, None], R)
            x = x + add
        seen: FloatArray = self._outside(R).mean(axis=0)
        return seen

    def _shed(self, x: FloatArray, press: float) -> FloatArray:
        filled = x / (x + self.capacity)
        height = self.heights + (1.0 - self.heights) * filled
        touch = norm.cdf((press * 1.05 - 1.0 + height) / self.edge)
        shed: FloatArray = press**self.power * touch * (1.0 - filled)
        return shed

    def _outside(self, body: FloatArray) -> FloatArray:
        through = (1.0 - self.k1) * (1.0 - self.k2) * body / (1.0 - self.k2 * body)
        out: FloatArray = self.seen * self.k1 + through
        return out

    def _inside(self, out: FloatArray) -> FloatArray:
        u = out - self.seen * self.k1
        body: FloatArray = u / ((1.0 - self.k1) * (1.0 - self.k2) + self.k2 * u)
        return body


def _film(K: FloatArray, S: FloatArray, x: FloatArray, ground: FloatArray) -> FloatArray:
    a = (K + S) / S
    b = np.sqrt(a * a - 1.0)
    depth = np.minimum(b * S * x, 300.0)
    sinh, cosh = np.sinh(depth), np.cosh(depth)
    alone, through = sinh / (a * sinh + b * cosh), b / (a * sinh + b * cosh)
    R: FloatArray = alone + through**2 * ground / (1.0 - alone * ground)
    return R


def world(seed: int, pencils: int = 24, hand: bool = True) -> World:
    """A world drawn by lot. Without ``hand`` pressures are those the model takes for granted."""
    rng = np.random.default_rng(seed)
    pool = patches()
    target = pool[rng.choice(len(pool), pencils, replace=False)]
    classes: tuple[Opacity, ...] = ("transparent", "semi", "opaque")
    opacity = tuple(classes[int(i)] for i in rng.choice(3, pencils, p=(0.2, 0.55, 0.25)))
    usual = np.array([USUAL[one] for one in opacity])
    scale = usual * 2.0 ** rng.uniform(-1.0, 1.0, pencils)
    g, p = rng.uniform(0.0, 1.2), rng.uniform(0.0, 2.0)
    share = target / target.max(axis=1, keepdims=True)
    S = scale[:, None] * share**g * (550.0 / BANDS) ** p
    tooth = 1.25 ** rng.uniform(-1.0, 1.0)
    quantiles = beta.ppf((np.arange(ZONES) + 0.5) / ZONES, 2.0, 1.8)
    k1 = rng.uniform(0.035, 0.05)
    base = World(
        target, S, S, opacity, 1.0 - tooth * (1.0 - quantiles),
        k1, rng.uniform(0.2, 0.6), min(rng.uniform(0.0, 0.6), 0.6 * float(target.min()) / k1),
        1.8 * 1.25 ** rng.uniform(-1.0, 1.0), 0.22 * 1.25 ** rng.uniform(-1.0, 1.0),
        rng.uniform(1.2, 1.8) if hand else 1.5, rng.uniform(0.85, 1.15) if hand else 1.0,
    )  # fmt: skip
    return _with_absorption(base)


def _with_absorption(base: World) -> World:
    """K by halving, so that one firm layer on white paper is the patch."""
    ground = np.repeat(base._inside(PAPER)[None], ZONES, axis=0)
    x = base._shed(np.zeros(ZONES), 1.0)[:, None]
    low, high = np.full_like(base.target, 1e-7), np.full_like(base.target, 1e4)
    for _ in range(60):
        K = np.sqrt(low * high)
        R = base._outside(_film(K[:, None], base.S[:, None], x[None], ground[None])).mean(axis=1)
        low, high = np.where(base.target < R, K, low), np.where(base.target < R, high, K)
    return replace(base, K=np.sqrt(low * high))


RECIPES: dict[str, tuple[float, ...]] = {
    "light": (0.3,),
    "middle": (0.6,),
    "firm": (1.0,),
    "two light": (0.3, 0.3),
    "two middle": (0.6, 0.6),
    "two firm": (1.0, 1.0),
}
"""Layers of one pencil, by their pressures."""
PAIRS: dict[str, tuple[float, float]] = {
    "a pair, middle": (0.6, 0.6),
    "a pair, firm": (1.0, 1.0),
    "a pair, firm then light": (1.0, 0.3),
}


def described(made: World, rng: np.random.Generator, noise: float, on_black: bool) -> Palette:
    """The world's pencils as a file has them: Lab, class and, if asked, the swatch on black.

    ``noise`` is the standard deviation of each of L*, a*, b*, as a photo has it.
    """
    n = len(made.target)
    white = reflectance_to_lab(made.target) + noise * rng.standard_normal((n, 3))
    dark = [made.lay([Move("lay", i)], None, BLACK_PAPER) for i in range(n)]
    black = reflectance_to_lab(np.array(dark)) + noise * rng.standard_normal((n, 3))
    pencils = tuple(
        Pencil(
            f"Other {i}",
            lab=_lab(white[i]),
            opacity=made.opacity[i],
            on_black=_lab(black[i]) if on_black else None,
        )
        for i in range(n)
    )
    return prepare(make_set("another make", pencils))


def _lab(row: FloatArray) -> Lab:
    L, a, b = row.tolist()
    return (L, a, b)


def misses(made: World, seed: int, noise: float, on_black: bool) -> dict[str, FloatArray]:
    """ΔE00 of the model from the truth, pressed as meant, by name of recipe."""
    rng = np.random.default_rng(seed)
    palette = described(made, rng, noise, on_black)
    n = len(made.target)
    recipes = {
        name: [[Move("lay", i, press) for press in pressed] for i in range(n)]
        for name, pressed in RECIPES.items()
    }
    for name, (first, second) in PAIRS.items():
        recipes[name] = [
            [Move("lay", int(a), first), Move("lay", int(b), second)]
            for a, b in rng.integers(0, n, (n, 2))
        ]
    out = {}
    for name, some in recipes.items():
        true = reflectance_to_lab(np.array([made.lay(moves, None) for moves in some]))
        out[name] = delta_e00(predict_many(palette, some), true)
    return out
