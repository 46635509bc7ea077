"""Corner codes: QR symbols after ISO/IEC 18004, version 1 (21 × 21 modules), level Q.

Written by segno, read by zxing-cpp; each checks the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.colour.data.tables import FloatArray
from drills.sheets.layout import Page, page_of_code

MODULES: Final = 21
MOST_CODES: Final = 64
"""Read of one picture: sixteen pages."""


@dataclass(frozen=True, eq=False)
class Found:
    """A code of ours in a picture: ``points`` (4, 2) are its corners in pixels from the top
    left one round; the third, which has no finder pattern, is the least sure."""

    page: Page
    corner: int
    points: FloatArray


@lru_cache(maxsize=64)
def modules(text: str) -> NDArray[np.bool_]:
    """The symbol (21, 21) of a text, True where it is dark."""
    import segno

    code = segno.make(text, version=1, error="q", micro=False, boost_error=False)
    return np.array([list(row) for row in code.matrix], dtype=bool)


def find(grey: NDArray[np.uint8]) -> list[Found]:
    """Codes of ours in a picture (h, w) of greys; others are passed over."""
    import zxingcpp

    out = []
    seen = zxingcpp.read_barcodes(
        np.ascontiguousarray(grey),
        formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode),
        try_invert=False,
    )
    for one in seen[:MOST_CODES]:
        named = page_of_code(one.text)
        if named is None:
            continue
        at = one.position
        points = np.array(
            [(p.x, p.y) for p in (at.top_left, at.top_right, at.bottom_right, at.bottom_left)],
            dtype=np.float64,
        )
        out.append(Found(*named, points))
    return out
