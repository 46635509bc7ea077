"""Every figure of progress, gathered from a record: for the screen and for ``coach progress``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from coach.offers import facts_of
from scores.history import History, read_history
from scores.memory import is_due
from scores.offers import KindFacts, Offers, offers_from_json
from scores.progress import Course, progress
from scores.progress_probe import better_eye_words
from scores.progress_span import RangeName
from scores.progress_wheel import CalendarDay, Fading, Wheel, calendar, forecast, wheel
from scores.record import Record
from scores.when import practice_day


@dataclass(frozen=True)
class Figures:
    """What progress shows. ``due`` skills call for practice today already.

    ``better_eye`` says what practice and re-tests tell together, or nothing.
    ``calendar`` covers the span, whole weeks from a Monday on.
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
    days = calendar(history.days, course.span.first, today)
    practice = None if course.eye is None else course.eye.change
    probe = None if course.probe.eye is None else course.probe.eye.change
    return Figures(
        today=today,
        course=course,
        wheel=wheel(skills, offers, now),
        fading=forecast(skills, now, _titles(offers.kinds)),
        due=sum(1 for state in skills.values() if is_due(state, now)),
        calendar=days,
        minutes=sum(day.minutes for day in days),
        answers=sum(day.answers for day in days),
        better_eye=better_eye_words(practice, probe),
    )


def _titles(kinds: Mapping[str, KindFacts]) -> dict[str, str]:
    return {name: facts.title for name, facts in kinds.items()}
