"""Every figure of progress, gathered from a record: for the screen and for ``coach progress``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from coach.reports.skill_table import SkillFigures, skill_figures
from coach.session.today_plan import facts_of
from drills.basics.days import practice_day
from scores.learner.eye import EyeModel
from scores.learner.overlay import skills_told
from scores.progress.answers import History, read_history
from scores.progress.claim import Claim, claim
from scores.progress.figures import Course, progress
from scores.progress.on_paper import OnPaper, results
from scores.progress.paper_change import PaperChange, paper_change
from scores.progress.span import RangeName
from scores.progress.sureness import NOT_ASKED, Sureness, sureness
from scores.progress.then_now import ThenNow, then_and_now
from scores.progress.wheel import CalendarDay, ComingDue, Wheel, calendar, forecast, wheel
from scores.record.record import Record
from scores.skill.memory import is_due
from scores.today.day_plan import aims_of
from scores.today.offers import KindFacts, Offers, offers_in

CALENDAR_DAYS = 371
"""Days of the calendar: a year, and the week it began in."""


@dataclass(frozen=True)
class Figures:
    """What progress shows. ``skills`` are all, as told; ``due`` call for practice today already.

    ``calendar`` covers the span, or the latest CALENDAR_DAYS of it, in whole weeks
    from a Monday on; ``minutes`` and ``answers`` the whole span.
    """

    today: date
    course: Course
    skills: tuple[SkillFigures, ...]
    wheel: Wheel
    coming: tuple[ComingDue, ...]
    due: int
    calendar: tuple[CalendarDay, ...]
    minutes: float
    answers: int
    paper: tuple[OnPaper, ...] = ()
    """What came on paper, of all time."""
    paper_change: PaperChange | None = None
    """How matches on paper have changed, where that is known."""
    sureness: Sureness = NOT_ASKED


def known_offers(record: Record) -> Offers:
    """What can be asked, as last kept; else every kind, with no regions."""
    offers = offers_in(record.setting("offers"))
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
    eye: EyeModel | None = None,
) -> Figures:
    """All figures over a range that ends at an aware local time.

    ``history`` may be one read before, as long as no answer was given since: another
    range is then drawn without reading the record again. ``eye`` is the learner's model,
    where it is at hand.
    """
    today = practice_day(now)
    offers = offers or known_offers(record)
    history = history or read_history(record)
    eye = eye or EyeModel.of(record, offers, today.toordinal())
    paper = results(record)
    course = progress(history, eye, offers.kinds, today, name, since)
    aims = aims_of(record.settings())
    skills = skills_told(record.skills(), eye.figures(today.toordinal()), today, aims.retention)
    mine = [day for day in history.days if course.span.first <= day.day <= today]
    first = max(course.span.first, today - timedelta(days=CALENDAR_DAYS - 1))
    return Figures(
        today=today,
        course=course,
        skills=tuple(one for one in skill_figures(skills, offers, now) if one.threshold),
        wheel=wheel(skills, offers, now),
        coming=forecast(skills, now, _titles(offers.kinds)),
        due=sum(1 for state in skills.values() if is_due(state, now)),
        calendar=calendar(mine, first, today),
        minutes=sum(day.seconds for day in mine) / 60,
        answers=sum(day.tries for day in mine),
        paper=paper,
        paper_change=paper_change(paper, today),
        sureness=sureness(record),
    )


def known_change(
    record: Record, eye: EyeModel, offers: Offers, today: date
) -> tuple[Claim | None, tuple[ThenNow, ...]]:
    """A change of the eye that is known today, and what it comes to in each drill's unit."""
    figures = eye.figures(today.toordinal())
    if figures is None or eye.followed is None or not figures.person.answers:
        return None, ()
    answers = read_history(record).practice
    found = claim(answers, eye.followed.learner.layout, today.toordinal())
    if found.direction is None:
        return None, ()
    return found, then_and_now(found, figures, offers.kinds)


def _titles(kinds: Mapping[str, KindFacts]) -> dict[str, str]:
    return {name: facts.title for name, facts in kinds.items()}
