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
from drills.sheets.layout import Page, of_another_form, page_of_code

MODULES: Final = 21
MOST_CODES: Final = 64
MOST_PAGES: Final = 16
"""Read of one picture."""


@dataclass(frozen=True, eq=False)
class Found:
    """A code of ours in a picture: ``points`` (4, 2) are its corners in pixels from the top
    left one round; the third, which has no finder pattern, is the least sure."""

    page: Page
    corner: int
    points: FloatArray


@dataclass(frozen=True, eq=False)
class Codes:
    """Codes in a picture: ``ours``, and whether there are some of sheets in a form that isn't
    known here."""

    ours: tuple[Found, ...]
    other_form: bool


@lru_cache(maxsize=64)
def modules(text: str) -> NDArray[np.bool_]:
    """The symbol (21, 21) of a text, True where it is dark."""
    import segno

    code = segno.make(text, version=1, error="q", micro=False, boost_error=False)
    return np.array([list(row) for row in code.matrix], dtype=bool)


def find(grey: NDArray[np.uint8]) -> Codes:
    """What codes of sheets a picture (h, w) of greys shows; all others are passed over."""
    import zxingcpp

    out = []
    seen = zxingcpp.read_barcodes(
        np.ascontiguousarray(grey),
        formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode),
        try_invert=False,
    )
    other_form = False
    for one in seen[:MOST_CODES]:
        named = page_of_code(one.text)
        if named is None:
            other_form = other_form or of_another_form(one.text)
            continue
        at = one.position
        points = np.array(
            [(p.x, p.y) for p in (at.top_left, at.top_right, at.bottom_right, at.bottom_left)],
            dtype=np.float64,
        )
        out.append(Found(*named, points))
    return Codes(tuple(out), other_form)
