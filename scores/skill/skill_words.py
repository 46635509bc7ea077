"""Skills, days and regions in plain words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

WHEEL = (
    *("yellow", "yellow-orange", "orange", "red-orange", "red", "red-violet"),
    *("violet", "blue-violet", "blue", "blue-green", "green", "yellow-green"),
)
"""The twelve-part wheel's names in order (Itten 1961); the regions of kinds where hue has
a meaning."""


def skill_name(kind: str, region: str) -> str:
    """A skill is a drill kind in a colour region: ``kind:region``."""
    return f"{kind}:{region}"


def side_by_side(skill: tuple[str, str]) -> tuple[str, int, str]:
    """What sorts skills (kind, region) by kind, and then round the wheel."""
    kind, region = skill
    return kind, WHEEL.index(region) if region in WHEEL else len(WHEEL), region


def region_words(region: str) -> str:
    """A region as one speaks of it: "violets", "blue-greens"; others as they are named."""
    if region in WHEEL:
        return region + "s"
    if region in ("neutral", "grey"):
        return "greys"
    return region.replace("_", " ")


def skill_words(skill: str, titles: Mapping[str, str] | None = None) -> str:
    """A skill's name in words: "Hue family and lean: violet".

    ``titles`` are the kinds' titles by name; without one the kind's own name serves.
    """
    kind, _, region = skill.partition(":")
    title = (titles or {}).get(kind) or kind.replace("-", " ").replace("_", " ").capitalize()
    return f"{title}: {region.replace('_', ' ')}" if region else title


def ago_words(day: date, today: date) -> str:
    """How long ago: "today", "yesterday", "9 days ago", "5 weeks ago", "2 years ago"."""
    days = (today - day).days
    if days <= 0:
        return "today"
    if days == 1:
        return "yesterday"
    return f"{_span(days)} ago"


def ahead_words(day: date, today: date) -> str:
    """How soon: "today", "tomorrow", "in 3 days", "in 5 weeks", "in 2 years"."""
    days = (day - today).days
    if days <= 0:
        return "today"
    if days == 1:
        return "tomorrow"
    return f"in {_span(days)}"


def _span(days: int) -> str:
    if days < 21:
        return f"{days} days"
    if days < 70:
        return f"{round(days / 7)} weeks"
    if days < 700:
        return f"{round(days / 30.44)} months"
    return f"{round(days / 365.25)} years"
