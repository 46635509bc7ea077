"""Filling pages from the top down: what doesn't fit goes on to the next."""

from __future__ import annotations

from coach.reports.printed.drawing import Drawing
from coach.reports.printed.lettering import wrapped
from drills.sheets.layout import Size

MARGIN = 15.0
"""Millimetres that every printer can print up to, with room to hold the sheet."""
_FOOT = 9.0
LEADING = 1.28


class Flow:
    """Pages, and the ``y`` in mm on the last of them from which nothing is laid yet."""

    def __init__(self, size: Size) -> None:
        self.size = size
        self.pages = [Drawing()]
        self.y = MARGIN

    @property
    def page(self) -> Drawing:
        return self.pages[-1]

    @property
    def width(self) -> float:
        """Between the margins, in mm."""
        return self.size.width - 2 * MARGIN

    @property
    def bottom(self) -> float:
        return self.size.height - MARGIN - _FOOT

    def room(self, height: float) -> None:
        """A new page, unless ``height`` mm are left on this one or it is still empty."""
        if self.y > MARGIN and self.y + height > self.bottom:
            self.pages.append(Drawing())
            self.y = MARGIN

    def lines(self, x: float, width: float, words: str, size: float, *, bold: bool = False,
              faint: bool = False) -> None:  # fmt: skip
        """Wrapped words from here on, over as many pages as they need."""
        for line in wrapped(words, width, size, bold):
            self.room(LEADING * size)
            self.page.text(x, self.y + size, line, size, bold=bold, faint=faint)
            self.y += LEADING * size

    def feet(self, words: str) -> None:
        """The same line at the foot of every page, with the page's number."""
        y = self.size.height - MARGIN
        for at, page in enumerate(self.pages, start=1):
            page.fitted(MARGIN, y, self.width - 20.0, words, 2.6)
            number = f"{at} of {len(self.pages)}"
            page.text(MARGIN + self.width, y, number, 2.6, faint=True, end=True)


def height_of(words: str, width: float, size: float, bold: bool = False) -> float:
    """How many mm wrapped words take."""
    return LEADING * size * len(wrapped(words, width, size, bold))
