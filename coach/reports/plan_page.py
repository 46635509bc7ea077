"""A plan as one A4 page to print and draw beside: SVG 1.1, in millimetres.

Neutral throughout: the only colours are the swatches. Beside every step stands an
empty box for one's own.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from html import escape

import numpy as np

from drills.basics.errors import plain
from drills.colour.reading import read_colour
from drills.colour.spaces import hex_of, in_screen_gamut
from drills.pencils.pencil import Lab
from drills.planning.plan import Plan

WIDTH, HEIGHT, MARGIN = 210.0, 297.0, 15.0
STEPS_FROM, STEPS_TO = 84.0, 238.0
SWATCH = 30.0
MOST_STEP = 32.0
LAST_LINE = 289.0
LETTER = 0.54
"""Mean width of a letter, as a share of the size: a little wide, so that lines stay inside."""
INK, FAINT = "#222222", "#767676"
PRINTS_AS_IT_MAY = "Printed colours differ. Judge by your own swatches, in the light you draw by."
OUTSIDE = "no screen or printer shows this colour truly"


class _Page:
    """Marks collected in order. Every text is made plain and escaped here."""

    def __init__(self) -> None:
        self.marks: list[str] = []

    def text(
        self, x: float, y: float, words: str, size: float = 3.2, *, bold: bool = False,
        faint: bool = False,
    ) -> None:  # fmt: skip
        weight = ' font-weight="bold"' if bold else ""
        self.marks.append(
            f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:.2f}" '
            f'fill="{FAINT if faint else INK}"{weight}>{_safe(words)}</text>'
        )

    def lines(
        self, x: float, y: float, width: float, words: str, size: float = 3.2, *,
        faint: bool = False, most: int = 9,
    ) -> float:  # fmt: skip
        """Wrapped text; the y after it."""
        wrapped = textwrap.wrap(plain(words, 2000), max(10, int(width / (LETTER * size))))
        for line in wrapped[:most]:
            self.text(x, y, line, size, faint=faint)
            y += 1.25 * size
        return y

    def swatch(self, x: float, y: float, width: float, height: float, lab: Lab) -> None:
        self.marks.append(
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" '
            f'fill="{hex_of(lab)}"/>'
        )

    def box(self, x: float, y: float, width: float, height: float) -> None:
        self.marks.append(
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" '
            f'fill="none" stroke="{FAINT}" stroke-width="0.2"/>'
        )


def svg_page(plan: Plan, pencils: str) -> str:
    """The page as SVG text. ``pencils`` is the name of the set planned with."""
    page = _Page()
    _head(page, plan, pencils)
    _steps(page, plan)
    _foot(page, plan)
    marks = "\n".join(page.marks)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:g}mm" height="{HEIGHT:g}mm" '
        f'viewBox="0 0 {WIDTH:g} {HEIGHT:g}" font-family="sans-serif">\n'
        f"<title>{_safe('Layer plan for ' + hex_of(plan.target))}</title>\n"
        f'<rect width="{WIDTH:g}" height="{HEIGHT:g}" fill="#ffffff"/>\n{marks}\n</svg>\n'
    )


def _head(page: _Page, plan: Plan, pencils: str) -> None:
    page.text(MARGIN, 20.0, "Layer plan", 6.0, bold=True)
    page.text(MARGIN + 40.0, 20.0, f"with {pencils}", 3.6, faint=True)
    page.swatch(MARGIN, 26.0, 50.0, 44.0, plan.target)
    page.text(MARGIN, 75.0, "the target", faint=True)
    page.swatch(MARGIN + 54.0, 26.0, 50.0, 44.0, plan.predicted_lab)
    page.text(MARGIN + 54.0, 75.0, "what the plan should give", faint=True)
    x, wide = MARGIN + 110.0, WIDTH - 2 * MARGIN - 110.0
    y = page.lines(x, 29.0, wide, read_colour(plan.target).sentence())
    y = page.lines(x, y + 2.0, wide, f"Predicted difference: ΔE00 {plan.delta_e00:.1f}.")
    if plan.moves:
        y = page.lines(x, y, wide, plan.likely.words())
    if len(plan.under) > 1:
        lamps = ", ".join(f"{lamp} {off:.1f}" for lamp, off in plan.under.items())
        y = page.lines(x, y, wide, f"Under other light, ΔE00: {lamps}.")
    if not bool(in_screen_gamut(np.asarray(plan.target))):
        page.lines(x, y, wide, f"Mind: {OUTSIDE}.")


def _steps(page: _Page, plan: Plan) -> None:
    if not plan.moves:
        page.text(MARGIN, STEPS_FROM + 10.0, "Leave the paper bare.", 5.0, bold=True)
        return
    tall = min(MOST_STEP, (STEPS_TO - STEPS_FROM) / len(plan.moves))
    size = min(3.2, tall / 8.5)
    x, wide = MARGIN + 2 * SWATCH + 8.0, WIDTH - 2 * MARGIN - 2 * SWATCH - 8.0
    for at, move in enumerate(plan.moves):
        top = STEPS_FROM + at * tall
        page.swatch(MARGIN, top, SWATCH, tall - 2.5, move.predicted_lab)
        page.box(MARGIN + SWATCH + 2.0, top, SWATCH, tall - 2.5)
        page.text(x, top + 1.2 * size, f"{at + 1}. {move.words}", 1.15 * size, bold=True)
        y = page.lines(x, top + 2.7 * size, wide, move.why, size, most=3)
        page.lines(x, y, wide, move.stop, size, faint=True, most=2)


def _foot(page: _Page, plan: Plan) -> None:
    size, wide = 2.8, WIDTH - 2 * MARGIN
    y = STEPS_TO + 6.0
    said: Sequence[str] = (
        *((plan.missing.words,) if plan.missing else ()),
        *(
            f"Or, {other.way}: {'; '.join(other.words)}. {other.likely.words()}"
            for other in plan.alternatives
        ),
        *plan.notes,
    )
    for words in said:
        if y > LAST_LINE - 3.0:
            break
        y = page.lines(MARGIN, y, wide, words, size, most=3) + 0.6
    page.text(MARGIN, LAST_LINE, PRINTS_AS_IT_MAY, size, faint=True)


def _safe(words: str) -> str:
    return escape(plain(words, 400), quote=True)
