"""The quick way to lay many draws at once comes to what the exact one does."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from drills.colour.data.tables import weights
from drills.colour.difference import delta_e00
from drills.colour.recover import recover_reflectance
from drills.colour.spaces import xyz_to_lab
from drills.layering.doubt.drawn_films import balanced
from drills.layering.doubt.draws import Draws, laid_in_doubt, many_in_doubt
from drills.layering.doubt.quick_layers import coarse_weights, eight
from drills.layering.moves import LIGHT, Move
from drills.layering.predict import extend, sheet_lab, start
from drills.layering.sheet import blend
from tests.palettes import palette_of

DEMO = palette_of("demo")
RNG = np.random.default_rng(4)


def recipes(count: int, length: int) -> tuple[np.ndarray, np.ndarray]:
    pencils = RNG.integers(len(DEMO.colour_indices), size=(count, length))
    return pencils, RNG.choice([0.3, 0.6, 1.0], (count, length))


def one_draw():
    """No tooth, no habit, no sway: the model itself."""
    films, none = eight(DEMO, DEMO.colour_indices), np.zeros(1)
    as_made = [
        part[DEMO.colour_indices, ::2].astype(np.float32)[None]
        for part in (DEMO.limit, DEMO.pole, -DEMO.decay, DEMO.K, DEMO.S)
    ]
    limit, pole, fade, K, S = as_made
    return replace(
        films, limit=limit, pole=pole, fade=fade, K=K, S=S,
        surface=DEMO.surface[DEMO.colour_indices].astype(np.float32)[None],
        lot_of=np.zeros(1, dtype=np.int64), tooth=none + 1.0, habit=none + 1.0,
        sway=np.ones((1, 5)),
    )  # fmt: skip


def test_every_other_band_tells_nearly_the_same_colour():
    for lab in ((50.0, 40.0, 20.0), (75.0, -20.0, 50.0), (30.0, 5.0, -30.0), (90.0, 0.0, 2.0)):
        R = recover_reflectance(lab)
        pair = xyz_to_lab(np.stack([R @ weights("D50"), R[::2] @ coarse_weights()]))
        assert float(delta_e00(*pair)) < 0.05


@pytest.mark.parametrize("blending", [False, True])
def test_layers_laid_quickly_are_the_layers_laid(blending):
    films = one_draw()
    pencil, pressure = recipes(60, 3)
    quick, sheet = films.blank(60), start(DEMO, 60)
    for step in range(3):
        if step == 2 and blending:
            quick = films.blend(quick, pencil[:, :2], pressure[:, :2], LIGHT)
            sheet = blend(sheet, LIGHT)
        quick = films.lay(quick, np.arange(60), pencil[:, step], pressure[:, step], step)
        sheet = extend(DEMO, sheet, DEMO.colour_indices[pencil[:, step]], pressure[:, step])
    off = delta_e00(xyz_to_lab(films.xyz(quick)[:, 0]), sheet_lab(sheet))
    assert off.max() < (0.15 if blending else 0.06)  # a blending's haze is left out


def test_the_eight_draws_differ_by_one_spread_each_and_no_two_alike():
    films = eight(DEMO, DEMO.colour_indices[:2])
    design = np.column_stack([films.lot_of * 2 - 1, films.habit - 1.0, films.sway - 1.0])
    apart = design / np.abs(design).max(axis=0)
    assert np.allclose(apart.T @ apart, 8.0 * np.eye(7))
    assert np.allclose(apart.sum(axis=0), 0.0)


def test_eight_draws_tell_more_than_eight_by_lot():
    """Of forty plans, which is worth more: against 512 draws."""
    pencil, pressure = recipes(40, 3)
    films = eight(DEMO, DEMO.colour_indices)
    quick = films.blank(1)
    for step in range(3):
        rows = np.arange(40) if step else np.zeros(40, dtype=np.int64)
        quick = films.lay(quick, rows, pencil[:, step], pressure[:, step], step)
    moves = [
        [Move("lay", int(DEMO.colour_indices[i]), float(q)) for i, q in zip(*one, strict=True)]
        for one in zip(pencil, pressure, strict=True)
    ]

    def spread(labs):
        return np.sqrt(((labs - labs.mean(axis=1, keepdims=True)) ** 2).sum(axis=2).mean(axis=1))

    truth = spread(many_in_doubt(DEMO, moves, 512, 1))
    by_lot = [np.corrcoef(spread(many_in_doubt(DEMO, moves, 8, s)), truth)[0, 1] for s in range(6)]
    designed = np.corrcoef(spread(xyz_to_lab(quick_xyz(films, quick))), truth)[0, 1]
    assert designed > np.mean(by_lot)
    # And the same draws as Draws.of, near enough.
    drawn = Draws.of(DEMO, moves, 64, np.random.default_rng(2))
    exact = spread(laid_in_doubt(drawn, drawn.blank(), moves)).mean()
    assert spread(many_in_doubt(DEMO, moves, 64, 2)).mean() == pytest.approx(exact, rel=0.1)


def quick_xyz(films, sheets):
    return films.xyz(sheets).astype(np.float64)


def test_draws_are_balanced_where_there_are_enough():
    for draws, n in ((128, 12), (32, 12)):
        made = balanced(np.random.default_rng(0), draws, n)
        assert np.allclose(made.T @ made / draws, np.eye(n), atol=1e-9)
    few = balanced(np.random.default_rng(0), 8, 12)
    assert few.shape == (8, 12)
    assert np.allclose(few.sum(axis=0), 0.0)
