"""How days and figures are written wherever progress is told."""

from __future__ import annotations

from datetime import date

AXIS = "smaller is better"


def day_words(day: date) -> str:
    """A day as "9 March 2026"."""
    return f"{day.day} {day:%B %Y}"


def short_day(day: date) -> str:
    return f"{day.day} {day:%b}"


def number(value: float, unit: str = "") -> str:
    """Three figures at most: 0.12, 3.4, 27; multiples ("× now") always with two decimals."""
    if value < 1 or unit.startswith("×"):
        return f"{value:.2f}"
    return f"{value:.1f}" if value < 10 else f"{value:.0f}"
