"""Where each deck stands on a day: what is done of it, what it still wants, in words.

A deck wants so many answers a day on so many days, as many of each day as its steps say. A
day missed is not piled on the next: the days simply run on, until the deck is done, or a
fortnight past its due date, after which it rests. One in a course goes on until it is passed,
for those that need it wait so long.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Literal

from coach.this_screen.kept import SETTING, screen_known
from decks.deck import Deck
from decks.record_form import CourseKept, before_of, courses_of, from_kept
from decks.tasks import DeckTask
from decks.waiting import Waiting
from drills.basics.days import practice_day
from drills.basics.json_values import JSON, as_json, from_json
from drills.outside import lacking
from scores.classes.passing import days_done, latest_wanted, passes
from scores.record.decks_added import Tally, decks_kept, tally
from scores.record.record import Record
from scores.skill.skill_words import ahead_words

A_DAY = timedelta(days=1)
RESTS_AFTER = timedelta(days=14)
"""How long past its due date a deck is still mixed in."""

State = Literal["to do", "done today", "finished", "past its date", "can't be asked", "not open"]


@dataclass(frozen=True)
class DeckStanding:
    """Where one deck stands on a practice day.

    ``today`` answers of ``wanted_today`` are given today; ``days_done`` of
    ``deck.days`` are complete. ``level`` is the mean grade of the latest
    answers (a half of all that are wanted, at least a day's), None before the
    first. ``tasks`` is None until they are worked out for these pencils;
    ``inside`` is the fingerprint of the pencils the deck brings, if it does.
    ``course`` is the one it stands in and ``also`` are other courses that it stands in too: it is
    asked once, and counts in each. ``waits_for`` are the titles of decks to be passed first;
    ``waiting`` is what is left out until the screen is known.
    """

    fingerprint: str
    deck: Deck
    tally: Tally
    tasks: tuple[DeckTask, ...] | None
    day: date
    inside: str = ""
    course: CourseKept | None = None
    waits_for: tuple[str, ...] = ()
    waiting: tuple[Waiting, ...] = ()
    also: tuple[CourseKept, ...] = ()

    @property
    def courses(self) -> tuple[CourseKept, ...]:
        """Every course it stands in."""
        return () if self.course is None else (self.course, *self.also)

    @property
    def today(self) -> int:
        return self.tally.days.get(self.day, 0)

    @property
    def wanted_today(self) -> int:
        """Answers that today wants, as the deck's days before it say."""
        return self.deck.items_on(min(self._done_by(self.day - A_DAY) + 1, self.deck.days))

    @property
    def days_done(self) -> int:
        return self._done_by(date.max)

    def _done_by(self, last: date) -> int:
        counts = (self.tally.days[day] for day in sorted(self.tally.days) if day <= last)
        return min(days_done(counts, self.deck.items_a_day, self.deck.growth), self.deck.days)

    @property
    def day_number(self) -> int:
        """The day of practice that today is, or would be: 1 to ``deck.days``."""
        return min(self.days_done + 1, self.deck.days)

    @property
    def left_today(self) -> int:
        """Answers still wanted today; 0 when the deck rests."""
        if self.state != "to do":
            return 0
        return self.wanted_today - self.today

    @property
    def level(self) -> float | None:
        deck = self.deck
        scores = self.tally.scores[: latest_wanted(deck.items_a_day, deck.days, deck.growth)]
        return sum(scores) / len(scores) if scores else None

    @property
    def passed(self) -> bool:
        """Whether all days are done and the pass level is reached; in a course, or once were."""
        if any(one.passed for one in self.courses):
            return True
        return passes(self.days_done, self.deck.days, self.level, self.deck.pass_level)

    @property
    def late(self) -> bool:
        return self.deck.due is not None and self.day > self.deck.due

    @property
    def state(self) -> State:
        if self.tasks is not None and not self.tasks:
            return "can't be asked"
        if self.waits_for:
            return "not open"
        if self.passed or (self.course is None and self.days_done >= self.deck.days):
            return "finished"
        if (
            self.course is None
            and self.late
            and self.day > (self.deck.due or self.day) + RESTS_AFTER
        ):
            return "past its date"
        return "done today" if self.today >= self.wanted_today else "to do"

    @property
    def words(self) -> str:
        """One line for the first screen: progress and date, without the title."""
        deck = self.deck
        lack = ", ".join(lacking(deck.kinds))
        again = self.course is not None and self.days_done >= deck.days and not self.passed
        days = f"day {min(self.days_done + (self.left_today > 0), deck.days)} of {deck.days}"
        days = "all its days done, on until it is passed" if again else days
        parts = {
            "to do": f"{self.today} of {self.wanted_today} today, {days}",
            "done today": f"done for today, {days}",
            "finished": "finished" + (", passed" if self.passed else ", not passed yet"),
            "past its date": f"{self.days_done} of {deck.days} days done",
            "can't be asked": f"it needs the package {lack}"
            if lack
            else "these pencils can't be asked for it",
            "not open": self.closed_words,
        }[self.state]
        if self.tally.on_paper:
            parts += f", {self.tally.on_paper} of its answers on paper"
        if lack and self.state != "can't be asked":
            parts += f", some of it only with the package {lack}"
        return f"{parts}, {self.due_words}" if self.due_words else parts

    @property
    def closed_words(self) -> str:
        """Why it is not open yet."""
        titles = " and ".join(f"“{title}”" for title in self.waits_for)
        return f"opens once {titles} {'is' if len(self.waits_for) == 1 else 'are'} passed"

    @property
    def due_words(self) -> str:
        if self.deck.due is None or self.state == "finished":
            return ""
        if self.late:
            late = (self.day - self.deck.due).days
            return f"was due {late} day{'s' * (late > 1)} ago"
        return f"due {ahead_words(self.deck.due, self.day)}"


def standing(record: Record, pencils: str, stamp: str, now: datetime) -> tuple[DeckStanding, ...]:
    """Every deck kept, the one due soonest first. Imports nothing heavy.

    ``pencils`` is the fingerprint of the set in use and ``stamp`` the drills'
    own (``coach.session.today_plan.kinds_stamp``): tasks worked out for others, or for a
    screen known otherwise, don't count.
    """
    day = practice_day(now)
    screen = str(screen_known({SETTING: record.setting(SETTING)}))
    found = []
    for kept in decks_kept(record):
        deck = from_kept(kept.content)
        if deck is None:
            continue
        latest = latest_wanted(deck.items_a_day, deck.days, deck.growth)
        before = before_of(kept.content)
        done = tally(record, kept.fingerprint, latest, bool(deck.targets), before)
        worked = _tasks_kept(kept.offers, pencils, stamp, screen)
        tasks = None if worked is None else worked.tasks
        inside = worked.pencils if worked is not None and worked.inside else ""
        waiting = () if worked is None else worked.waiting
        first, *also = courses_of(kept.content) or (None,)
        found.append(
            DeckStanding(
                *(kept.fingerprint, deck, done, tasks, day, inside, first),
                waiting=waiting,
                also=tuple(one for one in also if one is not None),
            )
        )
    return tuple(sorted(opened(found), key=_in_order))


def opened(standings: Sequence[DeckStanding]) -> list[DeckStanding]:
    """The same, each with the titles of decks that must be passed before it opens.

    One that stands in several courses is open once it is in one of them; else its first says
    what it waits for. One that can't be asked with these pencils holds up nothing.
    """
    of_course = {(at.place.course, at.place.name): one for one in standings for at in one.courses}

    def waits(at: CourseKept) -> tuple[str, ...]:
        needs = [of_course.get((at.place.course, name)) for name in at.needs]
        return tuple(
            each.deck.title
            for each in needs
            if each is not None and not each.passed and each.tasks != ()
        )

    found = []
    for one in standings:
        each = [() if one.passed else waits(at) for at in one.courses]
        found.append(replace(one, waits_for=each[0] if each and all(each) else ()))
    return found


def _in_order(one: DeckStanding) -> tuple[date, str, int]:
    """The one due soonest first; those of a course in its order."""
    title, number = one.deck.title, 0
    if one.course is not None:
        title, number = one.course.place.title, one.course.place.number
    return one.deck.due or date.max, title, number


@dataclass(frozen=True)
class TasksKept:
    """What is kept with a deck (``scores.record.decks_added.put_deck_offers``).

    ``pencils`` is the fingerprint of the set they were worked out for, which the deck
    brings if ``inside``; ``stamp`` the drills' own; ``screen`` how well the screen was known
    ("True", "by eye" or "False"; empty where that was of no matter).
    """

    pencils: str
    stamp: str
    inside: bool
    tasks: tuple[DeckTask, ...]
    screen: str = ""
    waiting: tuple[Waiting, ...] = ()


def offers_json(
    tasks: Sequence[DeckTask],
    pencils: str,
    stamp: str,
    inside: str = "",
    screen: str = "",
    waiting: Sequence[Waiting] = (),
) -> JSON:
    """``TasksKept`` as JSON. ``inside`` is the fingerprint of the deck's own pencils, if any."""
    kept = TasksKept(inside or pencils, stamp, bool(inside), tuple(tasks), screen, tuple(waiting))
    found: JSON = as_json(kept)
    return found


def _tasks_kept(offers: JSON, pencils: str, stamp: str, screen: str) -> TasksKept | None:
    """What was kept, where it was worked out for these pencils, drills and screen."""
    try:
        kept = from_json(TasksKept, offers)
    except ValueError:
        return None
    if kept.stamp != stamp or not (kept.inside or kept.pencils == pencils):
        return None
    return kept if kept.screen in ("", screen) else None
