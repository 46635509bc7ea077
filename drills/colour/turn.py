"""The same colour turned round the wheel, its lightness and chroma held."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from drills.colour.data.tables import FloatArray
from drills.colour.hue import wheel_position
from drills.colour.spaces import in_screen_gamut, lab_to_lch, lch_to_lab

_ANGLES = np.arange(0.0, 360.0, 1.0)
_DULLER = np.linspace(1.0, 0.0, 26)


def turned(lab: ArrayLike, places: ArrayLike) -> FloatArray:
    """Lab (n, 3): ``lab`` (3,) turned to each of ``places`` (n,) on the twelve-part wheel.

    L* and C*ab are kept; the hue angle is the one whose CIECAM16 hue
    composition falls on that place, to about a hundredth of a wheel step.
    """
    L, C, _ = lab_to_lch(np.asarray(lab, np.float64)).tolist()
    round_it = lch_to_lab(
        np.stack([np.full_like(_ANGLES, L), np.full_like(_ANGLES, max(C, 1e-3)), _ANGLES], axis=-1)
    )
    at = wheel_position(round_it)
    # The wheel runs against the hue angle, so the places fall; unwrap them to interpolate.
    along = np.unwrap(at, period=12.0)
    if along[-1] < along[0]:
        along, angles = along[::-1], _ANGLES[::-1]
    else:
        angles = _ANGLES
    turns = np.unwrap(np.radians(angles))
    wanted = np.asarray(places, np.float64)
    wanted = along[0] + (wanted - along[0]) % 12.0
    hue = np.degrees(np.interp(wanted, [*along, along[0] + 12.0], _closed(turns))) % 360.0
    return lch_to_lab(np.stack([np.full_like(hue, L), np.full_like(hue, C), hue], axis=-1))


def _closed(turns: FloatArray) -> FloatArray:
    """The angles with the first again at the end, one whole turn on."""
    whole = 2.0 * np.pi if turns[-1] > turns[0] else -2.0 * np.pi
    return np.append(turns, turns[0] + whole)


def fitted_to_screen(lab: ArrayLike) -> FloatArray:
    """Lab (n, 3) made no duller than needed (L*, hue angle held) to lie within sRGB."""
    lch = lab_to_lch(np.atleast_2d(np.asarray(lab, np.float64)))
    steps = np.repeat(lch[:, None, :], len(_DULLER), axis=1)
    steps[:, :, 1] *= _DULLER
    tried = lch_to_lab(steps)
    first = np.argmax(in_screen_gamut(tried), axis=1)
    return np.asarray(tried[np.arange(len(lch)), first])


def turned_on_screen(lab: ArrayLike, places: ArrayLike) -> FloatArray:
    """Lab (n, 3): ``turned``, each made no duller than needed to lie within sRGB.

    A colour dulled along its hue angle drifts round the wheel, a violet by more
    than a step; each is turned anew at every chroma tried, so that it stays at
    its place.
    """
    lch = lab_to_lch(np.asarray(lab, np.float64))
    wanted = np.atleast_1d(np.asarray(places, np.float64))
    found = np.empty((len(wanted), 3))
    left = np.arange(len(wanted))
    for share in _DULLER:
        tried = turned(lch_to_lab(lch * (1.0, share, 1.0)), wanted[left])
        shown = in_screen_gamut(tried)
        found[left[shown]] = tried[shown]
        left = left[~shown]
        if not left.size:
            break
    else:
        found[left] = tried[~shown]
    return found
