"""Pictures for a terminal's plain output: two pixels a cell, in 24-bit colour."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from drills.colour.data.tables import FloatArray
from drills.colour.spaces import screen_rgb

_GAP = 2
_LEAST = 24
_TALLEST = 40  # lines


def beside(copies: Sequence[FloatArray], titles: Sequence[str], columns: int) -> Iterator[str]:
    """Lines that show pictures, each Lab (h, w, 3) of one size, side by side as far as they fit."""
    each = (columns - _GAP * (len(copies) - 1)) // len(copies)
    if each < _LEAST:
        for copy, title in zip(copies, titles, strict=True):
            yield from beside((copy,), (title,), max(columns, _LEAST))
        return
    small = [_fitted(copy, each) for copy in copies]
    for row in range(0, small[0].shape[0], 2):
        yield (" " * _GAP).join(_line(one[row], one[row + 1]) for one in small)
    wide = small[0].shape[1]
    yield (" " * _GAP).join(title.ljust(wide)[:wide] for title in titles).rstrip()


def _fitted(copy: FloatArray, wide: int) -> FloatArray:
    """The picture with an even number of rows, its pixels the nearest ones."""
    height, width = copy.shape[:2]
    scale = max(width / wide, height / (2 * _TALLEST))
    across = max(1, round(width / scale))
    down = max(1, round(height / scale / 2)) * 2
    rows = ((np.arange(down) + 0.5) * height / down).astype(int)
    columns = ((np.arange(across) + 0.5) * width / across).astype(int)
    return np.asarray(screen_rgb(copy[rows][:, columns]), dtype=np.float64)


def _line(upper: FloatArray, lower: FloatArray) -> str:
    cells = (
        f"\x1b[38;2;{a:.0f};{b:.0f};{c:.0f};48;2;{d:.0f};{e:.0f};{f:.0f}m▀"
        for (a, b, c), (d, e, f) in zip(upper.tolist(), lower.tolist(), strict=True)
    )
    return "".join(cells) + "\x1b[0m"
