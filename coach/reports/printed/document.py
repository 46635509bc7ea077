"""Pages put together: one HTML file that prints sheet by sheet, or one SVG picture."""

from __future__ import annotations

from collections.abc import Sequence

from coach.reports.printed.drawing import Drawing, safe
from coach.reports.printed.lettering import FONT
from drills.sheets.layout import Size

_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


def html(title: str, size: Size, pages: Sequence[Drawing]) -> str:
    """A self-contained page that prints one sheet a drawing, without margins of its own."""
    sheets = "\n".join(
        f"<section>{_svg(size, page.marks, size.height)}</section>" for page in pages
    )
    return (
        "<!DOCTYPE html>\n"
        '<html lang="en-GB"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
        f"<title>{safe(title)}</title><style>{_css(size)}</style></head>\n"
        f"<body>{sheets}</body></html>\n"
    )


def svg(title: str, size: Size, pages: Sequence[Drawing]) -> str:
    """All pages as one picture, one under another."""
    marks = [f"<title>{safe(title)}</title>"]
    for at, page in enumerate(pages):
        marks += [f'<g transform="translate(0 {at * size.height:g})">', *page.marks, "</g>"]
    picture = _svg(size, marks, size.height * len(pages))
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{picture}\n'


def _svg(size: Size, marks: Sequence[str], height: float) -> str:
    inside = "\n".join(marks)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size.width:g}mm" height="{height:g}mm" '
        f'viewBox="0 0 {size.width:g} {height:g}" font-family="{FONT}">\n'
        f'<rect width="{size.width:g}" height="{height:g}" fill="#ffffff"/>\n{inside}\n</svg>'
    )


def _css(size: Size) -> str:
    return f"""
@page {{ size: {size.name}; margin: 0 }}
body {{ margin: 0; background: #767676 }}
section {{ width: {size.width:g}mm; height: {size.height:g}mm; margin: 4mm auto; overflow: hidden }}
svg {{ display: block; -webkit-print-color-adjust: exact; print-color-adjust: exact }}
@media print {{
  body {{ background: none }}
  section {{ margin: 0; break-after: page; break-inside: avoid }}
  section:last-child {{ break-after: auto }}
}}
"""
