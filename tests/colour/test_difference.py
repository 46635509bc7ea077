"""CIEDE2000 against Sharma, Wu & Dalal (2005) and colour-science."""

from __future__ import annotations

from pathlib import Path

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.colour.difference import delta_e00

# Table 1 of Sharma, Wu & Dalal (2005), "The CIEDE2000 color-difference formula:
# Implementation notes, supplementary test data, and mathematical observations".
SHARMA = np.loadtxt(
    Path(__file__).parent.parent / "data/sharma_2005.csv", delimiter=",", skiprows=1
)

labs = st.tuples(st.floats(0, 100), st.floats(-128, 128), st.floats(-128, 128))


def test_there_are_all_34_pairs() -> None:
    assert SHARMA.shape == (34, 7)


@pytest.mark.parametrize("pair", range(34))
def test_sharma_pair(pair: int) -> None:
    first, second, published = SHARMA[pair, :3], SHARMA[pair, 3:6], SHARMA[pair, 6]
    assert float(delta_e00(first, second)) == pytest.approx(published, abs=5.1e-5)
    assert float(delta_e00(second, first)) == pytest.approx(published, abs=5.1e-5)
    assert colour.delta_E(first, second, method="CIE 2000") == pytest.approx(published, abs=5.1e-5)


def test_agrees_with_colour_science_on_100000_pairs() -> None:
    rng = np.random.default_rng(2005)
    low, high = [0, -128, -128], [100, 128, 128]
    first, second = rng.uniform(low, high, (2, 100_000, 3))
    second[:20_000] = first[:20_000] + rng.normal(0, 0.5, (20_000, 3))
    first[20_000:20_500, 1:] = 0
    second[20_250:20_750, 1:] = 0
    theirs = colour.delta_E(first, second, method="CIE 2000")
    np.testing.assert_allclose(delta_e00(first, second), theirs, atol=1e-8)


@given(labs, labs)
def test_is_a_symmetric_distance_from_zero(a: tuple[float, ...], b: tuple[float, ...]) -> None:
    assert float(delta_e00(a, a)) == 0
    assert float(delta_e00(a, b)) >= 0
    assert float(delta_e00(a, b)) == pytest.approx(float(delta_e00(b, a)), abs=1e-9)


@given(st.floats(0, 100), st.floats(1, 120), st.floats(0, 180))
def test_exactly_opposite_hues_follow_sharma(L: float, C: float, h: float) -> None:
    a, b = C * np.cos(np.radians(h)), C * np.sin(np.radians(h))
    theirs = colour.delta_E(np.array([L, a, b]), np.array([L, -a, -b]), method="CIE 2000")
    # On the knife's edge either bisector is right: accept the one a hair to each side too.
    near = [
        colour.delta_E(
            np.array([L, a, b]),
            np.array([L, C * np.cos(turned), C * np.sin(turned)]),
            method="CIE 2000",
        )
        for turned in np.radians([h + 180 - 1e-7, h + 180 + 1e-7])
    ]
    ours = float(delta_e00((L, a, b), (L, -a, -b)))
    assert min(abs(ours - one) for one in [theirs, *near]) < 1e-4


def test_broadcasts() -> None:
    rows, columns = np.random.default_rng(1).uniform(0, 60, (2, 150, 3))
    table = delta_e00(rows[:, None], columns[None])
    assert table.shape == (150, 150)
    assert table[3, 7] == pytest.approx(float(delta_e00(rows[3], columns[7])), abs=1e-12)
    assert delta_e00((50, 0, 0), (60, 0, 0)).shape == ()
