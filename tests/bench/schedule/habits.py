"""When a made-up learner practises, and for how long."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

DAYS = 60
"""Days of practice that are looked at."""


def daily(day: int, number: int) -> bool:
    """Every day."""
    return True


def weeks_skipped(day: int, number: int) -> bool:
    """A week of practice, then one or two without, differing by learner."""
    round_of = 14 if number % 2 else 21
    return (day + 5 * number) % round_of < 7


def away(first: int, days: int) -> Callable[[int, int], bool]:
    """Every day but for so many, from the ``first`` on."""
    return lambda day, number: not first <= day < first + days


@dataclass(frozen=True)
class Habit:
    """``minutes`` are what the coach is told; after ``questions`` the learner stops all the
    same. ``practises`` says whether a learner (by number) comes on a day, of so many ``days``.
    The hands take ``pace`` times as long as they else would, reading ``reading`` times."""

    name: str
    minutes: float = 10.0
    questions: int | None = None
    practises: Callable[[int, int], bool] = daily
    days: int = DAYS
    pace: float = 1.0
    reading: float = 1.0


USUAL = Habit("ten minutes a day")
TEN_QUESTIONS = Habit("ten questions a day", questions=10)
THREE_MINUTES = Habit("three minutes a day", minutes=3.0)
SKIPS_WEEKS = Habit("skips weeks", practises=weeks_skipped)
SLOW_HANDS = Habit("slow hands", pace=2.0)
SLOW_READERS = Habit("slow readers", reading=2.5)
TWO_WEEKS_AWAY = Habit("two weeks away", practises=away(40, 14))
SIX_MONTHS_AWAY = Habit("six months away", practises=away(40, 182), days=240)
