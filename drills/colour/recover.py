"""A smooth reflectance for a colour that came without its spectrum.

The method is "least hyperbolic tangent slope squared": Burns, S. A. (2020),
"Numerical methods for smoothest reflectance reconstruction", Color Research and
Application 45 (1), 8–21. With reflectance ρ = (1 + tanh z)/2 it finds the z with
the least sum of squared steps between neighbouring wavelengths whose ρ has the
XYZ asked for; ρ then lies inside (0, 1) whatever the colour.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from drills.basics.errors import InputError
from drills.colour.data.tables import FloatArray, weights
from drills.colour.spaces import lab_to_xyz

_INSET = 2e-7
"""Colours are drawn this share towards middle grey first, so that the perfect white and
black themselves, which no ρ inside (0, 1) makes, are met within 0.0005 in Lab."""

_MAX_STEPS = 60
_MAX_HALVINGS = 8
_MET = 1e-9
"""XYZ/100 met within this, and more closely near black."""

_LEADS = 12
"""Stages in which a hard colour is led out from grey."""


def recover_reflectance(lab: ArrayLike) -> FloatArray:
    """Reflectance (..., 31), strictly between 0 and 1, for Lab (..., 3) under D50.

    Taken back to Lab it differs by 0.001 at most. Raises InputError, naming the
    first one, when no reflectance from 0 to 1 makes a colour asked for.
    """
    given = np.asarray(lab, dtype=np.float64)
    reflectance, met = try_recover(given)
    if not met.all():
        worst = given.reshape(-1, 3)[np.flatnonzero(~met.reshape(-1))[0]]
        text = " ".join(f"{number:.4g}" for number in worst)
        raise InputError(
            f"colour lab({text})",
            "no paper or pigment can reflect this colour",
            "Check the measurement, or choose a duller or less extreme colour.",
        )
    return reflectance


def try_recover(
    lab: FloatArray, ceiling: FloatArray | None = None
) -> tuple[FloatArray, NDArray[np.bool_]]:
    """As ``recover_reflectance``, with a bool array (...) that says which Lab were met.

    ``ceiling`` (31,), above 0, keeps the reflectance under it in place of 1: a
    film of pigment over paper can hardly outshine the paper.
    """
    shape = lab.shape[:-1]
    T = weights("D50") / 100.0
    if ceiling is not None:
        T = T * ceiling[:, None]
    xyz = lab_to_xyz(lab).reshape(-1, 3) / 100.0
    brightest = T.sum(axis=0)
    xyz = xyz + _INSET * (brightest - 2.0 * xyz)
    # Start from the grey of the same luminance.
    grey = np.clip(xyz[:, 1:2] / brightest[1], 1e-9, 1.0 - 1e-9)
    x = np.zeros((len(xyz), len(T) + 3))
    x[:, : len(T)] = np.arctanh(2.0 * grey - 1.0)
    possible: NDArray[np.bool_] = np.asarray((np.isfinite(xyz) & (xyz > 0.0)).all(axis=1))
    met = possible.copy()
    met[possible], x[possible] = _newton(x[possible], xyz[possible], T)
    # Rare: strong colours near black or white are led out from that grey little by little.
    hard = np.flatnonzero(possible & ~met)
    if hard.size:
        led = np.zeros((hard.size, len(T) + 3))
        led[:, : len(T)] = np.arctanh(2.0 * grey[hard] - 1.0)
        for share in 1.0 - (1.0 - np.linspace(0.0, 1.0, _LEADS + 1)[1:]) ** 2:
            goal = share * xyz[hard] + (1.0 - share) * grey[hard] * brightest
            met[hard], led = _newton(led, goal, T)
        x[hard] = led
    reflectance = 0.5 * (1.0 + np.tanh(np.clip(x[:, : len(T)], -16.0, 16.0)))
    if ceiling is not None:
        reflectance = reflectance * ceiling
    return reflectance.reshape(*shape, len(T)), met.reshape(shape)


def _newton(x: FloatArray, xyz: FloatArray, T: FloatArray) -> tuple[NDArray[np.bool_], FloatArray]:
    """Iterate all rows until each is met or given up: (met (n,), state (n, 34))."""
    x = x.copy()
    met = np.zeros(len(x), dtype=np.bool_)
    going = np.arange(len(x))
    slopes = _laplacian(len(T))
    for _ in range(_MAX_STEPS):
        F, rho, s, pull = _residual(x[going], xyz[going], T, slopes)
        done = np.abs(F[:, len(T) :]).max(axis=1) < _MET * np.minimum(1.0, xyz[going, 1] / 1e-3)
        done &= np.abs(F[:, : len(T)]).max(axis=1) < 1e-6
        met[going[done]] = True
        on = ~done
        going = going[on]
        if not going.size:
            break
        x[going] = _advance(x[going], xyz[going], T, slopes, F[on], rho[on], s[on], pull[on])
    return met, x


def _laplacian(bands: int) -> FloatArray:
    """Half the second derivative of Σ(z[i+1] − z[i])²."""
    step = np.diff(np.eye(bands), axis=0)
    product: FloatArray = step.T @ step
    return product


def _residual(
    x: FloatArray, xyz: FloatArray, T: FloatArray, slopes: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """The Lagrange conditions (n, 34), with ρ, dρ/dz and Tλ, each (n, 31)."""
    bands = len(T)
    z, multipliers = x[:, :bands], x[:, bands:]
    rho = 0.5 * (1.0 + np.tanh(z))
    s = 2.0 * rho * (1.0 - rho)
    pull = multipliers @ T.T
    F = np.concatenate([z @ slopes + s * pull, rho @ T - xyz], axis=1)
    return F, rho, s, pull


def _advance(
    x: FloatArray,
    xyz: FloatArray,
    T: FloatArray,
    slopes: FloatArray,
    F: FloatArray,
    rho: FloatArray,
    s: FloatArray,
    pull: FloatArray,
) -> FloatArray:
    """One damped Newton step for each colour."""
    bands = len(T)
    J = np.zeros((len(x), bands + 3, bands + 3))
    J[:, :bands, :bands] = slopes
    on = np.arange(bands)
    J[:, on, on] += 2.0 * (1.0 - 2.0 * rho) * s * pull
    J[:, :bands, bands:] = s[:, :, None] * T
    J[:, bands:, :bands] = J[:, :bands, bands:].transpose(0, 2, 1)
    # Far outside the solid of real colours J becomes singular: a trace of ridge keeps it finite.
    J[:, on, on] += 1e-12
    J[:, np.arange(bands, bands + 3), np.arange(bands, bands + 3)] -= 1e-14
    step = np.linalg.solve(J, -F[:, :, None])[:, :, 0]
    size = np.abs(step[:, :bands]).max(axis=1)
    share = np.minimum(1.0, 4.0 / np.maximum(size, 1e-300))
    before = _merit(F, xyz)
    best = x + share[:, None] * step
    for _ in range(_MAX_HALVINGS):
        worse = _merit(_residual(best, xyz, T, slopes)[0], xyz) > before
        if not worse.any():
            break
        share = np.where(worse, 0.5 * share, share)
        best = x + share[:, None] * step
    advanced: FloatArray = best
    return advanced


def _merit(F: FloatArray, xyz: FloatArray) -> FloatArray:
    """How far from settled, (n,): near black the same XYZ fault weighs more."""
    scale = 1.0 / np.clip(xyz[:, 1:2], 1e-6, 1.0)
    weighed = np.concatenate([F[:, :-3], F[:, -3:] * scale], axis=1)
    size: FloatArray = np.linalg.norm(weighed, axis=1)
    return size
