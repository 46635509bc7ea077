"""Whether this is a first day back: after weeks away a day is short, sure and without a pile."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from drills.basics.days import practice_day
from scores.skill.memory import SkillState
from scores.today.shares import AWAY_DAYS, AWAY_SHARE

LEAST_MINUTES = 2.0


def days_away(skills: Mapping[str, SkillState], now: datetime) -> int:
    """Days since the last answer, ``now`` being an aware local time; 0 where they are too few
    to count as away, or there is none."""
    tried = [state.last_tried for state in skills.values() if state.last_tried is not None]
    last = max((practice_day(at.astimezone(now.tzinfo)) for at in tried), default=None)
    days = 0 if last is None else (practice_day(now) - last).days
    return days if days >= AWAY_DAYS else 0


def minutes_back(minutes: float) -> float:
    """The minutes of a first day back, where ``minutes`` are the usual ones."""
    return float(round(seconds_back(60.0 * minutes) / 60.0))


def seconds_back(seconds: float) -> float:
    """What its plan is laid for, not rounded: of usual seconds less some, less a share of them."""
    return max(60.0 * LEAST_MINUTES, AWAY_SHARE * seconds)
