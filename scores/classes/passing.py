"""When a deck is passed: one rule, for the student and for the teacher.

All its days done, and the mean grade of the latest answers (half of all that are wanted, a
day's at least) at the pass level: what one can do now, not what one could not at first.
"""

from __future__ import annotations

LATEST_WANTED = "max({0}items_a_day, {0}items_a_day * {0}days / 2)"
"""``latest_wanted`` in SQL, over a deck's columns."""


def latest_wanted(items_a_day: int, days: int) -> int:
    """How many of the latest answers a deck's level is the mean of."""
    return max(items_a_day, items_a_day * days // 2)


def passes(days_done: int, days: int, level: float | None, pass_level: float) -> bool:
    """Whether a deck is passed; ``level`` is the mean grade of the latest answers."""
    return days_done >= days and level is not None and level >= pass_level
