"""Kubelka–Munk films keep the laws of the theory, and agree with forms and numbers from outside."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from drills.layering.films import clear_film, decay, film, from_two_grounds, masstone

FAST = settings(max_examples=200, deadline=None)
K = st.floats(1e-6, 1e3)
S = st.floats(1e-6, 1e3)
X = st.floats(0.0, 50.0)
R = st.floats(0.0, 1.0)


def one(k, s, x, ground):
    return float(film(np.array(k), np.array(s), np.array(x), np.array(ground)))


@FAST
@given(st.floats(0, 1e4), st.floats(0, 1e4), st.floats(0, 1e4), R)
def test_no_film_gives_out_more_light_than_falls_on_it(k, s, x, ground):
    assert 0.0 <= one(k, s, x, ground) <= 1.0 + 1e-9


@FAST
@given(K, S, R)
def test_no_thickness_changes_nothing(k, s, ground):
    assert one(k, s, 0.0, ground) == pytest.approx(ground, abs=1e-9)


@FAST
@given(K, S, R)
def test_endless_thickness_hides_the_ground_and_gives_the_masstone(k, s, ground):
    assume(k / s > 1e-4)
    deep = one(k, s, 1e3 / float(decay(np.array(k), np.array(s))), ground)
    assert deep == pytest.approx(float(masstone(np.array(k), np.array(s))), abs=1e-9)


@FAST
@given(K, S)
def test_the_masstone_obeys_k_over_s(k, s):
    """Kubelka & Munk (1931): K/S = (1 − R∞)²/(2R∞)."""
    assume(1e-4 < k / s < 1e4)
    r = float(masstone(np.array(k), np.array(s)))
    assert (1 - r) ** 2 / (2 * r) == pytest.approx(k / s, rel=1e-6)


@pytest.mark.parametrize(
    ("r_inf", "k_over_s"),
    [(0.01, 49.005), (0.05, 9.025), (0.10, 4.05), (0.20, 1.6), (0.50, 0.25), (0.90, 0.00556)],
)
def test_published_values_of_the_kubelka_munk_function(r_inf, k_over_s):
    """The table of (1 − R)²/2R in handbooks of colour measurement, such as Judd & Wyszecki
    (1975), Color in Business, Science and Industry, appendix. Values from memory."""
    assert masstone(np.array(k_over_s), np.array(1.0)) == pytest.approx(r_inf, abs=2e-4)


@FAST
@given(K, S, st.floats(0, 20), st.floats(0, 20), R)
def test_two_films_of_one_pencil_are_one_of_the_summed_thickness(k, s, x1, x2, ground):
    twice = one(k, s, x2, one(k, s, x1, ground))
    assert twice == pytest.approx(one(k, s, x1 + x2, ground), abs=1e-8)


@FAST
@given(K, S, st.floats(0.01, 5), R)
def test_kubelkas_hyperbolic_form(k, s, x, ground):
    """Kubelka (1948), eq. for R over Rg: (1 − Rg(a − b coth bSx)) / (a − Rg + b coth bSx)."""
    a = (k + s) / s
    b = np.sqrt(a * a - 1)
    assume(1e-3 < b * s * x < 300)
    coth = 1 / np.tanh(b * s * x)
    theirs = (1 - ground * (a - b * coth)) / (a - ground + b * coth)
    assert one(k, s, x, ground) == pytest.approx(theirs, abs=1e-7)


@FAST
@given(K, S, st.floats(0.01, 5), R)
def test_kubelkas_way_of_putting_one_layer_on_another(k, s, x, ground):
    """Kubelka (1954), part II: R = R1 + T1²·R2/(1 − R1·R2), R1 and T1 of the film alone."""
    a = (k + s) / s
    b = np.sqrt(a * a - 1)
    assume(1e-3 < b * s * x < 300)
    sinh, cosh = np.sinh(b * s * x), np.cosh(b * s * x)
    alone, through = sinh / (a * sinh + b * cosh), b / (a * sinh + b * cosh)
    theirs = alone + through**2 * ground / (1 - alone * ground)
    assert one(k, s, x, ground) == pytest.approx(theirs, abs=1e-7)


@pytest.mark.parametrize("k", [0.0, 0.02, 0.5, 6.0])
@pytest.mark.parametrize("s", [0.05, 0.4, 3.0])
@pytest.mark.parametrize("ground", [0.0, 0.3, 0.93])
def test_the_differential_equation_itself(k, s, ground):
    """Kubelka & Munk (1931): dR/dx = S − 2(K + S)R + S·R², integrated by scipy from the ground."""
    depths = np.array([0.1, 0.7, 2.0])
    solved = solve_ivp(
        lambda _, r: s - 2 * (k + s) * r + s * r * r,
        (0.0, 2.0),
        [ground],
        t_eval=depths,
        rtol=1e-10,
        atol=1e-12,
    )
    ours = film(np.array(k), np.array(s), depths, np.array(ground))
    assert ours == pytest.approx(solved.y[0], abs=1e-6)


@FAST
@given(st.floats(0, 100), R)
def test_a_clear_film_is_the_limit_of_no_absorption(scatter, ground):
    exact = float(clear_film(np.array(scatter), np.array(ground)))
    assert one(1e-9 * scatter, scatter, 1.0, ground) == pytest.approx(exact, abs=2e-4)
    assert ground - 1e-12 <= exact <= 1.0


def test_without_scattering_a_film_is_a_filter_passed_twice():
    """Beer's law down and up: R = Rg·exp(−2Kx)."""
    assert one(0.7, 0.0, 1.5, 0.8) == pytest.approx(0.8 * np.exp(-2 * 0.7 * 1.5), abs=1e-12)


def test_order_matters():
    red, green = (0.2, 0.3), (1.5, 0.4)
    red_on_green = one(*red, 1.0, one(*green, 1.0, 0.92))
    green_on_red = one(*green, 1.0, one(*red, 1.0, 0.92))
    assert abs(red_on_green - green_on_red) > 0.02


@FAST
@given(st.floats(0.3, 4.0), st.floats(1e-2, 20), st.floats(0.6, 1.0), st.floats(0.0, 0.2))
def test_two_grounds_give_back_k_and_s(hiding, s, light, dark):
    """Kubelka (1948): a film is known in full from its reflectance over two known grounds.

    ``hiding`` is √(k(k + 2s)), by which a film of thickness 1 hides what is under it.
    """
    k = np.hypot(s, hiding) - s
    over_light, over_dark = one(k, s, 1.0, light), one(k, s, 1.0, dark)
    assume(over_light - over_dark > 1e-4)  # a film that hides tells nothing of its thickness
    found = from_two_grounds(*(np.array(v) for v in (over_light, over_dark, light, dark)))
    assert found[0] == pytest.approx(k, rel=1e-3, abs=1e-6)
    assert found[1] == pytest.approx(s, rel=1e-3)
