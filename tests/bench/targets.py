"""Targets for the planner that it didn't make itself.

Colours are made by random plans of *other* pencils: sets invented anew for the
purpose, each pencil's swatch a random mixture, in Lab, of three swatches of the set under
test, shifted at random (4 in each of L*, a*, b*), with an opacity of its own. So
their films share neither pigment nor spectrum with those that must match them, and the
plans keep no rule of the craft. Kept are colours that lie within the reach
of the set under test: inside the convex hull, in Lab, of its own pool of swatches
(``palette.pool``), which is a sample of its mixes and not the planner's doing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import Delaunay

from drills.basics.errors import InputError
from drills.colour.recover import try_recover
from drills.layering.films import FloatArray
from drills.layering.palette import Palette, prepare
from drills.layering.predict import predict_many
from drills.pencils.file import make_set
from drills.pencils.pencil import Opacity, Pencil
from tests.bench.exhaustive import PRESSURES

OTHERS = 24
PLANS = 40
OPACITIES: tuple[Opacity, ...] = ("transparent", "semi", "opaque")


def within_reach(palette: Palette, count: int, seed: int) -> FloatArray:
    """``count`` targets, Lab (count, 3)."""
    rng = np.random.default_rng(seed)
    hull = Delaunay(palette.pool.lab)
    found: list[FloatArray] = []
    while sum(map(len, found)) < count:
        other = _other_pencils(palette, rng)
        if other is None:
            continue
        made = _random_swatches(other, rng)
        found.append(made[hull.find_simplex(made) >= 0])
    return np.concatenate(found)[:count]


def _other_pencils(palette: Palette, rng: np.random.Generator) -> Palette | None:
    lab = palette.lab[palette.colour_indices]
    pencils: list[Pencil] = []
    while len(pencils) < OTHERS:
        of = rng.choice(len(lab), 3, replace=False)
        swatch = rng.dirichlet(np.full(3, 0.5)) @ lab[of] + rng.normal(0.0, 4.0, 3)
        if not 22.0 < swatch[0] < 94.0 or not try_recover(swatch[None])[1][0]:
            continue
        L, a, b = swatch.tolist()
        opacity = OPACITIES[int(rng.integers(len(OPACITIES)))]
        pencils.append(Pencil(f"Other {len(pencils)}", lab=(L, a, b), opacity=opacity))
    try:
        return prepare(make_set("others", tuple(pencils)))
    except InputError:  # one of them brighter than any film over paper
        return None


def _random_swatches(other: Palette, rng: np.random.Generator) -> FloatArray:
    """Two to four layers of up to three pencils, at any of the three pressures."""
    made = []
    for length in (2, 3, 4):
        pencil: NDArray[np.int64] = np.stack(
            [rng.choice(rng.choice(OTHERS, 3, replace=False), length) for _ in range(PLANS // 3)]
        )
        pressure = rng.choice(PRESSURES, pencil.shape)
        made.append(predict_many(other, (pencil, pressure, np.zeros_like(pencil))))
    return np.concatenate(made)
