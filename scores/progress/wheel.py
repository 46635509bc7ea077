"""Where each skill stands today, what will fade this week, and minutes by day.

A skill is, in this order:

========  ====================================================================
unmet     never answered
shaky     fewer than SURE_FROM answers; or its threshold, less one standard
          deviation of what is known of it, lies under STRONG_LEVEL between the
          drill's easiest (0) and hardest step (1); where nothing can be
          measured, mean score of late under STRONG_SCORE
due       not shaky, but due: likely lost by now, as far as can be forecast
strong    the rest
========  ====================================================================

Standard library alone, so that any screen may use it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from drills.basics.days import practice_day
from scores.exchange.xapi import FAMILIES
from scores.record.record import DayCount
from scores.skill.memory import SkillState, is_due
from scores.skill.skill_words import ahead_words, skill_name, skill_words
from scores.today.offers import Offers

Standing = Literal["strong", "shaky", "due", "unmet"]

SURE_FROM = 6
STRONG_LEVEL = 0.5
STRONG_SCORE = 0.8
FORECAST_DAYS = 7
LETTERS: dict[Standing, str] = {"strong": "S", "shaky": "k", "due": "d", "unmet": "·"}
"""One character each, so that a wheel reads without colour."""
STANDING_WORDS: dict[Standing, str] = {
    "strong": "strong",
    "shaky": "shaky",
    "due": "due",
    "unmet": "not met yet",
}
_WORST: tuple[Standing, ...] = ("shaky", "due", "strong")


@dataclass(frozen=True)
class WheelPart:
    """One skill on the wheel. ``level`` 0–1 is None where no threshold is measured."""

    skill: str
    kind: str
    region: str
    standing: Standing
    level: float | None
    tries: int


@dataclass(frozen=True)
class Wheel:
    """Families (and then other regions) × kinds; a pair that can't be asked has no cell."""

    regions: tuple[str, ...]
    kinds: tuple[str, ...]
    titles: Mapping[str, str]
    cells: Mapping[tuple[str, str], WheelPart]

    def cell(self, region: str, kind: str) -> WheelPart | None:
        return self.cells.get((region, kind))

    def together(self, region: str, kinds: Iterable[str]) -> Standing | None:
        """A region over several kinds: the worst of what was met; None where none can be asked."""
        found = [cell.standing for kind in kinds if (cell := self.cell(region, kind))]
        for standing in _WORST:
            if standing in found:
                return standing
        return "unmet" if found else None


def standing_of(state: SkillState | None, now: datetime) -> Standing:
    """Where a skill stands at an aware local time, by the table of the module."""
    if state is None or not state.tries:
        return "unmet"
    if state.tries < SURE_FROM or _weak(state):
        return "shaky"
    return "due" if is_due(state, now) else "strong"


def _weak(state: SkillState) -> bool:
    known = state.threshold
    if known is None:
        return state.mean_score < STRONG_SCORE
    return known.level - known.level_sd < STRONG_LEVEL


def wheel(skills: Mapping[str, SkillState], offers: Offers, now: datetime) -> Wheel:
    """Every skill that can be asked or was met, at an aware local time."""
    pairs = dict.fromkeys(offers.pairs)
    pairs.update(dict.fromkeys((state.kind, state.region) for state in skills.values()))
    cells: dict[tuple[str, str], WheelPart] = {}
    for kind, region in pairs:
        name = skill_name(kind, region)
        state = skills.get(name)
        cells[region, kind] = WheelPart(
            skill=name,
            kind=kind,
            region=region,
            standing=standing_of(state, now),
            level=state.threshold.level if state is not None and state.threshold else None,
            tries=state.tries if state is not None else 0,
        )
    kinds = tuple(sorted({kind for kind, _ in pairs}))
    others = sorted({region for _, region in pairs} - set(FAMILIES))
    regions = tuple(f for f in FAMILIES if any((f, kind) in cells for kind in kinds))
    titles = {
        kind: offers.kinds[kind].title if kind in offers.kinds else skill_words(f"{kind}:")
        for kind in kinds
    }
    return Wheel((*regions, *others), kinds, titles, cells)


@dataclass(frozen=True)
class ComingDue:
    """A skill that falls due on ``day``, as far as can be forecast."""

    skill: str
    words: str
    day: date
    day_words: str


def forecast(
    skills: Mapping[str, SkillState],
    now: datetime,
    titles: Mapping[str, str] | None = None,
    days: int = FORECAST_DAYS,
) -> tuple[ComingDue, ...]:
    """What falls due in the days after today if it is not practised, the soonest first.

    What is due today already is not among them.
    """
    today = practice_day(now)
    found = [
        ComingDue(
            state.skill,
            skill_words(state.skill, titles),
            state.due,
            ahead_words(state.due, today),
        )
        for state in skills.values()
        if state.due is not None and today < state.due <= today + timedelta(days=days)
    ]
    return tuple(sorted(found, key=lambda coming: (coming.day, coming.skill)))


@dataclass(frozen=True)
class CalendarDay:
    """One day: minutes spent answering, nought on a day of rest."""

    day: date
    minutes: float
    answers: int


def calendar(days: Sequence[DayCount], first: date, last: date) -> tuple[CalendarDay, ...]:
    """Every day from ``first`` to ``last``, whole weeks from a Monday on, rest days too."""
    by_day = {count.day: count for count in days}
    start = first - timedelta(days=first.weekday())
    made = []
    for place in range((last - start).days + 1):
        day = start + timedelta(days=place)
        count = by_day.get(day) if day >= first else None
        made.append(
            CalendarDay(day, count.seconds / 60, count.tries) if count else CalendarDay(day, 0.0, 0)
        )
    return tuple(made)
