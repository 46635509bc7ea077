"""Saunderson's surface (1942) on films: the correction itself, and films that lie under it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from drills.layering import constants as c
from drills.layering.calibrate import scatter_shape
from drills.layering.films import decay, film, masstone, over
from drills.layering.moves import FIRM, LIGHT, MIDDLE
from drills.layering.paper import drawing_paper
from drills.layering.sheet import blank, lay
from drills.layering.surface import ends, inside, outside
from tests.palettes import palette_of

FAST = settings(max_examples=200, deadline=None)
BODY = st.floats(0.0, 1.0)


def test_the_constants_are_those_of_the_optics_they_name():
    """Fresnel at right angles for n = 1.5; the diffuse k2 lies under theory's 0.6."""
    assert pytest.approx(((1.5 - 1.0) / (1.5 + 1.0)) ** 2) == c.SURFACE_OUT
    assert 0.0 < c.SURFACE_IN <= 0.6


@FAST
@given(BODY)
def test_saundersons_equation_and_its_inverse(body):
    """Saunderson (1942): R = k1 + (1 − k1)(1 − k2)ρ/(1 − k2·ρ); here without the first k1."""
    k1, k2 = c.SURFACE_OUT, c.SURFACE_IN
    whole = k1 + (1 - k1) * (1 - k2) * body / (1 - k2 * body)
    u = float(outside(np.array(body)))
    assert u == pytest.approx(whole - k1, abs=1e-12)
    assert 0.0 <= u <= 1.0 - k1
    assert inside(np.array(u)) == pytest.approx(body, abs=1e-9)


def test_by_summing_the_light_that_goes_to_and_fro():
    """The series behind the equation: in, and each time k2 of what comes up goes down again."""
    k1, k2, body = c.SURFACE_OUT, c.SURFACE_IN, 0.7
    out, inner = 0.0, (1 - k1) * body
    for _ in range(200):
        out += (1 - k2) * inner
        inner *= k2 * body
    assert outside(np.array(body)) == pytest.approx(out, abs=1e-12)


@FAST
@given(st.floats(1e-5, 1e3), st.floats(1e-5, 1e3), st.floats(0.0, 5.0), BODY)
def test_a_film_under_a_surface_is_kubelkas_film_seen_through_it(k, s, x, ground):
    K, S = np.array(k), np.array(s)
    under = over(outside(np.array(ground)), *ends(masstone(K, S)), decay(K, S) * x)
    assert under == pytest.approx(outside(film(K, S, np.array(x), np.array(ground))), abs=1e-9)


def risen(k, s, ground):
    """R (Z, 31) of films k, s (Z, 31) over grounds, by scipy's integrator."""
    k, s = k.ravel(), s.ravel()
    solved = solve_ivp(
        lambda _, r: s - 2 * (k + s) * r + s * r * r,
        (0.0, 1.0),
        ground.ravel(),
        method="LSODA",
        rtol=1e-9,
        atol=1e-11,
    )
    return solved.y[:, -1].reshape(ground.shape)


@pytest.mark.parametrize("name", ["demo", "drawn 1"])
def test_layers_on_a_sheet_solve_the_differential_equation_at_every_wavelength(name):
    """Kubelka & Munk (1931), dR/dx = S − 2(K + S)R + S·R², K and S as they run over
    wavelengths, integrated by scipy from the paper up through three pencils, then seen
    through Saunderson's surface."""
    palette = palette_of(name)
    paper = drawing_paper()
    for pencils in ((0, 5, 12), (20, 3, 7)):
        sheet = blank(paper)
        body = inside(np.repeat(paper.without_surface[None], paper.zones, 0))
        for pencil, pressure in zip(pencils, (MIDDLE, LIGHT, FIRM), strict=True):
            before = sheet.thickness
            sheet = lay(sheet, palette, pencil, pressure)
            x = (sheet.thickness - before)[0][:, None]
            body = risen(x * palette.K[pencil], x * palette.S[pencil], body)
        assert sheet.R[0] == pytest.approx(outside(body), abs=1e-6)


@pytest.mark.parametrize("name", ["demo", "drawn 2"])
def test_scattering_has_one_scale_a_pencil_and_follows_its_own_reflectance(name):
    """A grain that absorbs a light scatters little of it (our estimate of the power)."""
    palette = palette_of(name)
    for i in palette.colour_indices:
        scale = palette.S[i] / scatter_shape(palette.reflectance[i])
        assert scale == pytest.approx(np.full(31, scale[0]))
        assert c.S_SCALES[0] <= scale[0] <= c.S_SCALES[1]
    flat = scatter_shape(np.full(31, 0.04))
    assert flat == pytest.approx(np.ones(31), abs=0.02)  # black scatters all light alike
    white = scatter_shape(np.full(31, 0.9))
    assert np.all(np.diff(white) < 0)  # white scatters blue before red
