"""A sheet that doesn't lie flat: how far its printed black strips lie off where the corners say.

A quadratic in x and y through the strips found and the corners' codes: a bow, a curl or a
fold's slope is mostly that over one sheet.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.sheets.homography import applied
from drills.sheets.layout import CORNERS, RING, Page, Rect
from drills.sheets.pixels import correlated, sampled

FEWEST: Final = 8
"""Strips to be found before they are believed."""
_REACH = 6.0
_STEP = 0.5
_SURE = 0.75
_OFF = 1.0
"""Millimetres from the quadratic beyond which a strip was taken for another."""
_TERMS = 6


def strips(grey: NDArray[np.uint8], page: Page, H: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Middles (n, 2) of a page's black strips that are found in a picture, and how far (n, 2)
    each lies from where the corners say, in mm."""
    found = [
        (rect.middle, shift)
        for rect in (box.outer for box in page.boxes() if box.part == "bare black")
        if (shift := _shift(grey, H, rect)) is not None
    ]
    return (
        np.array([middle for middle, _ in found]).reshape(-1, 2),
        np.array([shift for _, shift in found]).reshape(-1, 2),
    )


def bending(page: Page, at: FloatArray, off: FloatArray) -> FloatArray:
    """Coefficients (6, 2) of ``bent`` by a page's ``strips``: nought where they are too few."""
    flat = np.zeros((_TERMS, 2))
    if len(at) < FEWEST:
        return flat
    corners = np.array([page.corner(corner).middle for corner in range(len(CORNERS))])
    held = np.ones(len(at), dtype=bool)
    for _ in range(3):
        places = np.concatenate([at[held], corners])
        shifts = np.concatenate([off[held], np.zeros((len(corners), 2))])
        fit = np.asarray(np.linalg.lstsq(_terms(places, page), shifts, rcond=None)[0])
        held = np.linalg.norm(_terms(at, page) @ fit - off, axis=1) < _OFF
        if held.sum() < FEWEST:
            return flat
    return fit


def bent(points: FloatArray, page: Page, fit: FloatArray) -> FloatArray:
    """Points (..., 2) in mm moved to where the corners' plane has them in the picture."""
    moved: FloatArray = points + _terms(points, page) @ fit
    return moved


def _terms(points: FloatArray, page: Page) -> FloatArray:
    x = points[..., 0] / page.size.width - 0.5
    y = points[..., 1] / page.size.height - 0.5
    terms: FloatArray = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)
    return terms


def _shift(grey: NDArray[np.uint8], H: FloatArray, rect: Rect) -> FloatArray | None:
    """How many mm (2,) a dark strip with white round it lies off, found by correlation."""
    wide, high = rect.width + 2 * RING, rect.height + 2 * RING
    template = np.ones((round(high / _STEP), round(wide / _STEP)))
    edge = round(RING / _STEP)
    template[edge:-edge, edge:-edge] = 0.0
    reach = round(_REACH / _STEP)
    across = rect.x - RING - _REACH + (np.arange(template.shape[1] + 2 * reach) + 0.5) * _STEP
    down = rect.y - RING - _REACH + (np.arange(template.shape[0] + 2 * reach) + 0.5) * _STEP
    x, y = np.meshgrid(across, down)
    seen = sampled(grey, applied(H, np.stack([x, y], axis=-1)))
    match = correlated(seen, template)
    row, column = np.unravel_index(int(match.argmax()), match.shape)
    if match[row, column] < _SURE:
        return None
    return np.array([column, row]) * _STEP - _REACH
