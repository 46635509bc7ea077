"""One curve with its band in greys: points in ink, the band's ends fainter, dates below."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from textual_hires_canvas import HiResMode
from textual_plot import NumericAxisFormatter, PlotWidget

if TYPE_CHECKING:
    from coach.reports.seen.curves import Curve

TALL = 13
"""Rows of a curve at least, its dates included."""
POINT = "●"


class _Written(NumericAxisFormatter):
    """Writes the places on an axis as they were handed in."""

    def __init__(self, words: Sequence[str]) -> None:
        self.words = list(words)

    def get_labels_for_ticks(self, ticks: Sequence[float]) -> list[str]:
        return self.words


class CurvePlot(PlotWidget, can_focus=False, inherit_bindings=False):
    """Draws the curve it was last shown. It takes no keys: the screen's turn to the next."""

    DEFAULT_CSS = f"""
    CurvePlot {{ height: 30vh; min-height: {TALL}; background: $background; }}
    CurvePlot > .plot--axis {{ color: $faint; }}
    CurvePlot > .plot--tick {{ color: $text; text-style: none; }}
    CurvePlot #plot {{ margin: 0 3 0 0; }}
    CurvePlot Canvas {{ background: $background; color: $text; }}
    """

    def __init__(self) -> None:
        super().__init__(allow_pan_and_zoom=False)

    def on_mount(self) -> None:
        # Its own on_mount follows; the parts these belong to are there by now.
        self.margin_top, self.margin_bottom, self.margin_left = 0, 2, 7

    def show(self, curve: Curve) -> None:
        self.clear()
        day = [(point.day - curve.span.first).days for point in curve.points]
        up = curve.height
        low, high = (up(end) for end in curve.ends)
        pad = 0.04 * (high - low)
        last = max(curve.span.days - 1, 1)
        self.set_xlimits(-0.01 * last, 1.01 * last)
        self.set_ylimits(low - pad, high + pad)
        self._ticks(curve)
        ink, faint = (self.app.theme_variables[name] for name in ("text", "faint"))
        ends = [[up(p.low) for p in curve.points], [up(p.high) for p in curve.points]]
        middle = [up(point.value) for point in curve.points]
        if curve.joined and len(day) > 1:
            for end in ends:
                self.plot(day, end, line_style=faint, hires_mode=HiResMode.BRAILLE)
            self.plot(day, middle, line_style=ink, hires_mode=HiResMode.BRAILLE)
        else:
            for at, foot, top in zip(day, *ends, strict=True):
                self.plot([at, at], [foot, top], line_style=faint, hires_mode=HiResMode.BRAILLE)
        self.scatter(day, middle, marker=POINT, marker_style=ink)

    def _ticks(self, curve: Curve) -> None:
        first: date = curve.span.first
        values, dates = curve.marks, curve.dates
        self.set_yticks([curve.height(value) for value, _ in values])
        self.set_y_formatter(_Written([words for _, words in values]))
        self.set_xticks([(day - first).days for day, _ in dates])
        self.set_x_formatter(_Written([words for _, words in dates]))
