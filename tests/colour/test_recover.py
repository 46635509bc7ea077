"""A colour without a spectrum gets a smooth one, which makes the same colour again."""

from __future__ import annotations

import colour
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.optimize import linprog

from drills.basics.errors import InputError
from drills.colour.data.tables import WAVELENGTHS_NM, weights
from drills.colour.difference import delta_e00
from drills.colour.recover import recover_reflectance, try_recover
from drills.colour.spaces import lab_to_xyz, reflectance_to_lab, reflectance_to_xyz, srgb_to_lab

SHAPE = colour.SpectralShape(400, 700, 10)

# The 24 patches measured by Ohta (1997), from colour-science's data.
PATCHES = {
    name: np.asarray(sd.copy().align(SHAPE).values)
    for name, sd in colour.SDS_COLOURCHECKERS["cc_ohta"].items()
}
MEASURED = np.array(list(PATCHES.values()))


@settings(max_examples=60, deadline=None)
@given(arrays(np.float64, (5, 3), elements=st.floats(0.0, 1.0, width=32)))
def test_every_screen_colour_makes_itself_again(rgb):
    lab = srgb_to_lab(rgb)
    reflectance = recover_reflectance(lab)
    assert np.all((reflectance > 0.0) & (reflectance < 1.0))
    assert np.abs(reflectance_to_lab(reflectance) - lab).max() <= 1e-3


def test_the_very_corners_of_the_screen_too():
    steps = np.array([0, 1, 2, 8, 128, 250, 254, 255]) / 255
    corners = np.stack(np.meshgrid(steps, steps, steps), axis=-1)
    reflectance = recover_reflectance(srgb_to_lab(corners))
    assert reflectance.shape == (8, 8, 8, 31)
    assert np.abs(reflectance_to_lab(reflectance) - srgb_to_lab(corners)).max() <= 1e-3


@pytest.mark.filterwarnings("ignore::colour.utilities.ColourUsageWarning")
@pytest.mark.filterwarnings("ignore::colour.utilities.ColourRuntimeWarning")
@pytest.mark.parametrize(("method", "within"), [("ASTM E308", 0.01), ("Integration", 0.5)])
def test_the_round_trip_holds_when_colour_science_does_the_way_back(method, within):
    """Outside check: colour-science 0.4, sd_to_XYZ by either of its methods. Unit: ΔE00."""
    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    d50 = colour.SDS_ILLUMINANTS["D50"]

    def to_xyz(reflectance):
        sd = colour.SpectralDistribution(reflectance, WAVELENGTHS_NM)
        return colour.sd_to_XYZ(sd, cmfs, d50, method=method)

    white = to_xyz(np.ones(31))
    for rgb in ([0.76, 0.22, 0.21], [0.27, 0.58, 0.32], [0.19, 0.43, 0.72], [0.93, 0.84, 0.04]):
        lab = srgb_to_lab(rgb)
        xyz = to_xyz(recover_reflectance(lab))
        theirs = colour.XYZ_to_Lab(xyz / white[1], colour.XYZ_to_xy(white))
        assert delta_e00(theirs, lab) <= within


def test_closer_to_measured_paint_than_mallett_and_yuksel():
    """Outside check: the basis of Mallett & Yuksel (2019) as in colour-science, over 24 patches."""
    to_rgb = np.linalg.inv(colour.RGB_COLOURSPACES["sRGB"].matrix_RGB_to_XYZ)
    linear = reflectance_to_xyz(MEASURED, "D65") / 100 @ to_rgb.T
    theirs = np.array(
        [colour.recovery.RGB_to_sd_Mallett2019(rgb).align(SHAPE).values for rgb in linear]
    )
    ours = recover_reflectance(reflectance_to_lab(MEASURED))

    def rms(found):
        return np.sqrt(np.mean((found - MEASURED) ** 2))

    assert rms(ours) <= rms(theirs)
    assert rms(ours) < 0.06


def test_no_spectrum_of_the_same_colour_is_smoother_in_its_own_measure():
    """Burns (2020): among all ρ of one colour the found one has the least Σ(Δ arctanh(2ρ − 1))²."""
    found = recover_reflectance(reflectance_to_lab(MEASURED))
    null = np.linalg.svd(weights("D50").T)[2][3:]  # changes that leave XYZ as it is
    rng = np.random.default_rng(20)

    def roughness(rho):
        return np.sum(np.diff(np.arctanh(2 * rho - 1), axis=-1) ** 2, axis=-1)

    for _ in range(40):
        nudge = rng.normal(size=(24, 28)) @ null * 1e-3
        other = found + nudge
        inside = ((other > 0) & (other < 1)).all(axis=1)
        assert inside.sum() > 10
        assert np.all(roughness(other[inside]) >= roughness(found[inside]) - 1e-9)


def test_a_grey_is_flat():
    flat = recover_reflectance((50.0, 0.0, 0.0))
    assert np.ptp(flat) < 1e-6


@pytest.mark.parametrize(
    "lab", [(50, 120, 120), (99, 40, 0), (0, 5, 0), (30, -100, 90), (5, 0, -90), (100, 0, 30)]
)
def test_a_colour_nothing_can_reflect_is_refused_in_one_line(lab):
    with pytest.raises(InputError) as refusal:
        recover_reflectance([(60, 10, 10), lab])
    assert f"lab({lab[0]} {lab[1]} {lab[2]})" in str(refusal.value)
    assert "\n" not in str(refusal.value)


def test_refused_and_taken_as_linear_programming_says():
    """Outside check: whether 0 ≤ ρ ≤ 1 with this XYZ exists, by scipy's simplex (HiGHS)."""
    rng = np.random.default_rng(7)
    lab = np.column_stack([rng.uniform(5, 95, 80), *rng.uniform(-110, 110, (2, 80))])
    _, met = try_recover(lab)
    exists, on_the_edge = [], []
    for xyz in lab_to_xyz(lab):
        # The widest margin m with m ≤ ρ ≤ 1 − m.
        margin = linprog(
            np.append(np.zeros(31), -1.0),
            A_ub=np.block([[-np.eye(31), np.ones((31, 1))], [np.eye(31), np.ones((31, 1))]]),
            b_ub=np.append(np.zeros(31), np.ones(31)),
            A_eq=np.column_stack([weights("D50").T, np.zeros(3)]),
            b_eq=xyz,
            bounds=[(None, None)] * 32,
        )
        exists.append(margin.status == 0 and -margin.fun > 0.0)
        on_the_edge.append(margin.status == 0 and abs(margin.fun) < 1e-3)
    clear = ~np.array(on_the_edge)
    assert 10 < np.sum(met) < 70
    assert np.array_equal(met[clear], np.array(exists)[clear])


def test_a_ceiling_is_kept_under_where_it_can_be():
    ceiling = np.full(31, 0.93)
    lab = srgb_to_lab([[0.93, 0.84, 0.04], [0.7, 0.2, 0.2], [1.0, 1.0, 1.0]])
    reflectance, met = try_recover(lab, ceiling)
    assert met.tolist() == [True, True, False]  # white outshines it
    assert reflectance.max() <= 0.93
    assert np.abs(reflectance_to_lab(reflectance[:2]) - lab[:2]).max() <= 1e-3
