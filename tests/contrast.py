"""Contrast of lettering, by the formulas of WCAG 2.2."""

from __future__ import annotations

from coach.room import Room


def luminance(level: int) -> float:
    """Relative luminance (0–1) of a grey of this 8-bit level."""
    share = level / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


def contrast(first: int, second: int) -> float:
    """The contrast ratio of two greys, 1–21."""
    dark, light = sorted((luminance(first), luminance(second)))
    return (light + 0.05) / (dark + 0.05)


def contrasts(room: Room) -> dict[tuple[str, str], float]:
    """Of each lettering on each ground that it is written on, either way round."""
    grounds = {"wall": room.wall, "panel": room.panel}
    inks = {"ink": room.ink, "faint": room.faint}
    return {
        (ink, ground): contrast(level, behind)
        for ink, level in inks.items()
        for ground, behind in grounds.items()
    }
