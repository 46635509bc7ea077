"""How old a backup is, in words."""

from __future__ import annotations

from datetime import date

_TURNS = ((14, 1, "day"), (61, 7, "week"), (731, 30.44, "month"), (0, 365.25, "year"))
"""Up to so many days, counted in units of so many days."""


def age_words(day: date, today: date) -> str:
    """Such as "today", "yesterday", "3 days ago"; a date to come is said to be one."""
    days = (today - day).days
    if days < 0:
        return "dated in the future: look at the clock"
    if days < 2:
        return ("today", "yesterday")[days]
    length, unit = next((length, unit) for end, length, unit in _TURNS if days < end or not end)
    return f"{int(days / length)} {unit}s ago"
