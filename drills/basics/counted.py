"""A number with its word."""

from __future__ import annotations


def counted(number: int, word: str) -> str:
    """A number with its word, in the plural but for one: "1 day", "3,000 days"."""
    return f"{number:,} {word}{'' if number == 1 else 's'}"
