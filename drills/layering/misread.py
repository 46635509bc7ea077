"""Swatches whose colour a photo misread by a little: what their spectra may be in truth.

A misreading is counted along three directions in Lab, each a ΔE00 long (``colour.difference.
metric``): lightness, chroma and hue. The spectrum gives way where it can most easily, as the
logit counts, and by the least that shows as such a step.
"""

from __future__ import annotations

import numpy as np

from drills.colour.data.tables import weights
from drills.colour.difference import metric
from drills.colour.spaces import lab_to_xyz, reflectance_to_lab
from drills.layering import constants as c
from drills.layering.films import FloatArray

_STEP = 0.1


def directions(given: FloatArray) -> FloatArray:
    """(n, 31, 3): how spectra (n, 31) change by a ΔE00 of 1 in each of three directions."""
    lab = reflectance_to_lab(given)
    steps = np.swapaxes(np.linalg.inv(metric(lab)), 1, 2)  # rows: one direction each
    ends = lab_to_xyz(lab[:, None] + _STEP * steps)
    by = (ends - lab_to_xyz(lab)[:, None]) / _STEP
    yields = (given * (1.0 - given))[:, :, None]
    W = yields * weights("D50")
    shares = np.linalg.solve(np.einsum("nlj,nlk->njk", W, W), np.swapaxes(by, 1, 2))
    changes: FloatArray = yields * (W @ shares)
    return changes


def misread(given: FloatArray, by: FloatArray, along: FloatArray | None = None) -> FloatArray:
    """Spectra (..., n, 31) of swatches ``given`` (n, 31) that were misread ``by`` (..., n, 3).

    ``along`` are their ``directions``, where they are at hand.
    """
    changes = directions(given) if along is None else along
    return within_room(given, np.einsum("nlk,...nk->...nl", changes, by))


def within_room(given: FloatArray, by: FloatArray) -> FloatArray:
    """Spectra (..., n, 31) changed ``by`` so much, or by the share that a surface can reflect."""
    room = np.where(by < 0.0, c.DEEPEST * given, np.maximum(c.BRIGHTEST - given, 0.0))
    share = np.minimum(1.0, (room / np.maximum(np.abs(by), 1e-12)).min(axis=-1, keepdims=True))
    other: FloatArray = given + share * by
    return other
