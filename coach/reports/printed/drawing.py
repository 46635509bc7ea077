"""Marks on one printed page, in millimetres. Every text is made plain and escaped here."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping
from html import escape

from coach.reports.printed.lettering import width_mm
from drills.basics.errors import plain
from drills.sheets.layout import A4, LETTER, Size

INK, FAINT = "#222222", "#6a6a6a"
_MOST = 2000
"""Characters of one text; what comes from a stranger is cut far below."""


SIZES = {"a4": A4, "letter": LETTER}

_LETTER_IN = {
    *("BZ", "CA", "CL", "CO", "CR", "GT", "MX"),
    *("NI", "PA", "PH", "PR", "SV", "US", "VE"),
}
"""Territories that print on Letter (Unicode CLDR, paperSize), from memory."""


def size_here(environ: Mapping[str, str]) -> Size:
    """The paper of the territory that the locale's variables (POSIX) name; A4 where none is."""
    named = next((environ[key] for key in ("LC_ALL", "LC_PAPER", "LANG") if environ.get(key)), "")
    territory = named.partition(".")[0].partition("@")[0].partition("_")[2]
    return LETTER if territory in _LETTER_IN else A4


class Drawing:
    """One page's marks, in the order in which they are laid."""

    def __init__(self) -> None:
        self.marks: list[str] = []

    def text(
        self, x: float, y: float, words: str, size: float = 3.0, *, bold: bool = False,
        faint: bool = False, end: bool = False,
    ) -> None:  # fmt: skip
        """One line whose foot stands at ``y``; ``end`` has it end at ``x``."""
        weight = ' font-weight="bold"' if bold else ""
        anchor = ' text-anchor="end"' if end else ""
        self.marks.append(
            f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:.2f}" '
            f'fill="{FAINT if faint else INK}"{weight}{anchor}>{safe(words)}</text>'
        )

    def fitted(
        self, x: float, y: float, width: float, words: str, size: float, *, faint: bool = True
    ) -> None:
        """One line set smaller where it would be wider than ``width``."""
        wide = width_mm(words, size)
        self.text(x, y, words, size * min(1.0, width / wide) if wide else size, faint=faint)

    def fill(self, x: float, y: float, width: float, height: float, colour: str) -> None:
        """A rectangle of one colour, "#rrggbb", without an edge."""
        self.marks.append(
            f'<rect x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}" '
            f'fill="{colour}"/>'
        )

    def box(self, x: float, y: float, width: float, height: float, colour: str = "none") -> None:
        """A rectangle with a fine grey edge: empty, or a swatch that white paper would swallow."""
        self.marks.append(
            f'<rect x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}" '
            f'fill="{colour}" stroke="{FAINT}" stroke-width="0.2"/>'
        )

    def picture(self, x: float, y: float, width: float, height: float, png: bytes) -> None:
        """A PNG picture, kept in the page itself."""
        data = b64encode(png).decode("ascii")
        self.marks.append(
            f'<image x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}" '
            f'href="data:image/png;base64,{data}"/>'
        )

    def line(self, x: float, y: float, to_x: float, to_y: float) -> None:
        """A fine grey line."""
        self.marks.append(
            f'<line x1="{x:.2f}" y1="{y:.2f}" x2="{to_x:.2f}" y2="{to_y:.2f}" '
            f'stroke="{FAINT}" stroke-width="0.2"/>'
        )


def safe(words: str) -> str:
    """Text fit for XML."""
    return escape(plain(words, _MOST), quote=True)
