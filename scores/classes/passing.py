"""When a deck is passed: one rule, for the student and for the teacher.

All its days done, and the mean grade of the latest answers (half of all that are wanted, a
day's at least) at the pass level: what one can do now, not what one could not at first.
A day is done when it has the answers that it wants; a deck may want more of later days.
"""

from __future__ import annotations

from collections.abc import Iterable

Growth = tuple[tuple[int, int], ...]
"""From which days of practice on a deck wants how many answers a day, in the order of days."""
LATEST_WANTED = "max({0}items_a_day, {0}wanted / 2)"
"""``latest_wanted`` in SQL, over a deck's columns."""


def items_on(items_a_day: int, growth: Growth, day: int) -> int:
    """How many answers a day of practice, from 1, wants."""
    return next((items for first, items in reversed(growth) if first <= day), items_a_day)


def wanted(items_a_day: int, days: int, growth: Growth = ()) -> int:
    """Answers wanted over all its days."""
    return sum(items_on(items_a_day, growth, day) for day in range(1, days + 1))


def latest_wanted(items_a_day: int, days: int, growth: Growth = ()) -> int:
    """How many of the latest answers a deck's level is the mean of."""
    return max(items_a_day, wanted(items_a_day, days, growth) // 2)


def days_done(counts: Iterable[int], items_a_day: int, growth: Growth = ()) -> int:
    """How many days are done, given the answers of each day practised, in their order."""
    done = 0
    for count in counts:
        done += count >= items_on(items_a_day, growth, done + 1)
    return done


def passes(days_done: int, days: int, level: float | None, pass_level: float) -> bool:
    """Whether a deck is passed; ``level`` is the mean grade of the latest answers."""
    return days_done >= days and level is not None and level >= pass_level
