"""When a made-up learner practises, and for how long."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


def daily(day: int, number: int) -> bool:
    """Every day."""
    return True


def weeks_skipped(day: int, number: int) -> bool:
    """A week of practice, then one or two without, differing by learner."""
    round_of = 14 if number % 2 else 21
    return (day + 5 * number) % round_of < 7


@dataclass(frozen=True)
class Habit:
    """``minutes`` are what the coach is told; after ``questions`` the learner stops all the
    same. ``practises`` says whether a learner (by number) comes on a day."""

    name: str
    minutes: float = 10.0
    questions: int | None = None
    practises: Callable[[int, int], bool] = daily


USUAL = Habit("ten minutes a day")
TEN_QUESTIONS = Habit("ten questions a day", questions=10)
THREE_MINUTES = Habit("three minutes a day", minutes=3.0)
SKIPS_WEEKS = Habit("skips weeks", practises=weeks_skipped)
