"""Every figure of progress, gathered from a record: for the screen and for ``coach progress``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from coach.session.today_plan import facts_of
from drills.basics.days import practice_day
from scores.progress.answers import History, read_history
from scores.progress.figures import Course, progress
from scores.progress.retest_change import better_eye_words
from scores.progress.span import RangeName
from scores.progress.wheel import CalendarDay, Fading, Wheel, calendar, forecast, wheel
from scores.record.record import Record
from scores.skill.memory import is_due
from scores.today.offers import KindFacts, Offers, offers_from_json

CALENDAR_DAYS = 371
"""Days of the calendar: a year, and the week it began in."""


@dataclass(frozen=True)
class Figures:
    """What progress shows. ``due`` skills call for practice today already.

    ``better_eye`` says what practice and re-tests tell together, or nothing.
    ``calendar`` covers the span, or the latest CALENDAR_DAYS of it, in whole weeks
    from a Monday on; ``minutes`` and ``answers`` the whole span.
    """

    today: date
    course: Course
    wheel: Wheel
    fading: tuple[Fading, ...]
    due: int
    calendar: tuple[CalendarDay, ...]
    minutes: float
    answers: int
    better_eye: str


def known_offers(record: Record) -> Offers:
    """What can be asked, as last kept; else every kind, with no regions."""
    kept = record.setting("offers")
    offers = offers_from_json(kept.get("offers")) if isinstance(kept, dict) else None
    if offers is not None:
        return offers
    from drills.kinds import all_kinds

    return Offers(facts_of(all_kinds()), ())


def figures(
    record: Record,
    now: datetime,
    name: RangeName = "3 months",
    since: date | None = None,
    offers: Offers | None = None,
    history: History | None = None,
) -> Figures:
    """All figures over a range that ends at an aware local time.

    ``history`` may be one read before, as long as no answer was given since: another
    range is then drawn without reading the record again.
    """
    today = practice_day(now)
    offers = offers or known_offers(record)
    history = history or read_history(record)
    course = progress(history, offers.kinds, today, name, since)
    skills = record.skills()
    mine = [day for day in history.days if course.span.first <= day.day <= today]
    first = max(course.span.first, today - timedelta(days=CALENDAR_DAYS - 1))
    practice = None if course.eye is None else course.eye.change
    retest = None if course.retest.eye is None else course.retest.eye.change
    return Figures(
        today=today,
        course=course,
        wheel=wheel(skills, offers, now),
        fading=forecast(skills, now, _titles(offers.kinds)),
        due=sum(1 for state in skills.values() if is_due(state, now)),
        calendar=calendar(mine, first, today),
        minutes=sum(day.seconds for day in mine) / 60,
        answers=sum(day.tries for day in mine),
        better_eye=better_eye_words(practice, retest),
    )


def _titles(kinds: Mapping[str, KindFacts]) -> dict[str, str]:
    return {name: facts.title for name, facts in kinds.items()}
