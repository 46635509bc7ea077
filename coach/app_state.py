"""The drawing table: the record, the pencils in use, and what a session is started from.

Everything that knows a clock or draws a random seed is here, handed to the pure
parts. Numpy is loaded by ``ready`` alone, which the app runs in a thread once
its first screen stands.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from coach.home import expanded
from coach.session.today_plan import (
    Today,
    allowed,
    keep_offers,
    kept_offers,
    today,
    work_out_offers,
)
from coach.session.unfinished import begun_again, minutes_left
from coach.session.unsaved import Unsaved
from coach.terminal import ColourDepth
from drills.basics.days import practice_day
from drills.basics.errors import InputError
from scores.learner.overlay import skills_told
from scores.learner.state_file import read as read_state
from scores.record.decks_added import decks_kept
from scores.record.queries import first_id
from scores.record.record import NotSavedError, PencilsKept, Record
from scores.today.day_plan import aims_of, minutes_of

if TYPE_CHECKING:
    from pathlib import Path

    from coach.session.deck_questions import DeckReady
    from coach.session.feed import Feed
    from coach.session.session import Session
    from decks.deck import Deck
    from drills.hand.patch import Patch
    from drills.layering.palette import Palette
    from drills.pencils.pencil import PencilSet
    from drills.questions.protocol import Kind
    from scores.learner.eye import EyeModel, Followed
    from scores.progress.retest import Due
    from scores.skill.memory import SkillState
    from scores.skill.model.figures import LearnerFigures
    from scores.today.offers import Offers


YEARS = range(1970, 9000)
"""What a clock may say."""


def local_now() -> datetime:
    """The wall clock, with the zone it stands in.

    Raises InputError for one that is so far out that no due day could be counted from it.
    """
    now = datetime.now()
    if now.year not in YEARS:
        raise InputError(
            "this machine's clock", f"it says the year {now.year}", "Set the date and the time."
        )
    return now.astimezone()


@dataclass(frozen=True)
class Ready:
    """What takes numpy to make: the pencils as films, the kinds, and what they offer."""

    palette: Palette
    kinds: dict[str, Kind]
    offers: Offers
    decks: tuple[DeckReady, ...] = ()
    eye: Followed | None = None


class AppState:
    """What the screens share. ``clock``, ``timer`` and ``seeds`` can be handed in for a replay."""

    def __init__(
        self,
        record: Record,
        depth: ColourDepth,
        clock: Callable[[], datetime] = local_now,
        timer: Callable[[], float] = time.monotonic,
        seeds: Callable[[], int] = lambda: random.SystemRandom().getrandbits(48),
        notice: str = "",
        only_assigned: bool = False,
        draft_folders: Sequence[Path] = (),
    ) -> None:
        self.only_assigned = only_assigned
        self.record = record
        self.depth = depth
        self.clock = clock
        self.timer = timer
        self.notice = notice
        self.ready_for: Ready | None = None
        self.unsaved = Unsaved(record, draft_folders)
        self._take_drafts()
        self._pencils = record.active_pencils()
        self._seeds = seeds
        self._seed = seeds()
        self._shown: tuple[date, Today] | None = None
        self.eye: EyeModel | None = None
        self._kept = read_state(record.path)

    def _take_drafts(self) -> None:
        count = self.unsaved.take_drafts()
        if count and not self.unsaved:
            some = "one answer" if count == 1 else f"{count} answers"
            self.say(f"Saved now: {some} that could not be saved the last time.")
        elif count:
            self.say(f"{count} earlier answers are still not saved: {self.unsaved.trouble}.")

    def say(self, text: str) -> None:
        """Add a sentence to what the first screen tells."""
        self.notice = " ".join(filter(None, (self.notice, text)))

    def hear(self) -> bool:
        """Tell on the first screen what the record has mended since; whether there was anything."""
        said = self.record.said()
        self.say(said)
        return bool(said)

    @property
    def newcomer(self) -> bool:
        """True until a set of pencils has been chosen."""
        return self._pencils is None

    @property
    def pencils_name(self) -> str:
        return self._pencils.name if self._pencils else ""

    def today(self) -> Today | None:
        """Today's plan, without numpy where offers are kept from an earlier start."""
        if self._pencils is None:
            return None
        now = self.clock()
        plan = today(
            self.record,
            self._pencils.fingerprint,
            now,
            self._seed,
            self.depth.true_colour,
            self.ready_for.offers if self.ready_for else None,
            self.unfinished,
            self.eye_figures(),
        )
        self._shown = (practice_day(now), plan) if plan else None
        return plan

    def eye_figures(self) -> LearnerFigures | None:
        """What the learner's model tells today: as kept, until the model itself is ready."""
        if self.eye is not None:
            return self.eye.figures(practice_day(self.clock()).toordinal())
        kept = self._kept
        return kept.figures if kept and kept.first_id == first_id(self.record) else None

    def skills(self) -> dict[str, SkillState]:
        """Every skill met, with what the learner's model knows of it."""
        day, aims = practice_day(self.clock()), aims_of(self.record.settings())
        return skills_told(self.record.skills(), self.eye_figures(), day, aims.retention)

    def followed(self, offers: Offers) -> Followed | None:
        """The learner's model after all answers, or after the latest of very many."""
        from scores.learner.eye import follow

        return follow(self.record, offers, read_state(self.record.path), all_at_once=False)

    def keep_eye(self) -> None:
        """Keep the learner's model beside the record."""
        if self.eye is not None and not self.only_assigned:
            self.eye.keep(self.record, practice_day(self.clock()).toordinal())

    @property
    def unfinished(self) -> float | None:
        """Minutes left of a session that a fault of ours broke off today, if one was."""
        return minutes_left(self.record, self.clock())

    def use(self, pencil_set: PencilSet) -> None:
        """Practise with these pencils from now on; for this once, where that can't be kept."""
        from drills.pencils.file import to_csv

        csv = to_csv(pencil_set)
        self._pencils = PencilsKept(pencil_set.fingerprint, pencil_set.name, csv)
        self.ready_for = self._shown = None
        try:
            self.record.put_pencils(pencil_set.fingerprint, pencil_set.name, csv, self.clock())
        except NotSavedError as error:
            self.notice = f"These pencils are in use for now but were not kept: {error}"

    def load(self, path: str) -> PencilSet:
        """A pencils file, checked through and through. Raises InputError."""
        from drills.layering.palette import prepare
        from drills.pencils.file import load_pencils

        pencil_set = load_pencils(expanded(path))
        prepare(pencil_set)
        return pencil_set

    def pencil_set(self) -> PencilSet:
        """The set in use. Raises InputError if what was kept can't be read."""
        from drills.pencils.file import parse_pencils

        if self._pencils is None:
            raise InputError("pencils", "none are chosen yet", "Choose a set first.")
        return parse_pencils(self._pencils.csv.encode(), self._pencils.name)

    def decks(self) -> tuple[Deck, ...]:
        """What teachers have assigned, as the record keeps it."""
        if not decks_kept(self.record):
            return ()
        from coach.session.deck_questions import decks_in

        return tuple(decks_in(self.record))

    def offers_kept(self) -> Offers | None:
        """What the set in use offers, as kept from an earlier start."""
        if self._pencils is None:
            return None
        return kept_offers(self.record.settings(), self._pencils.fingerprint)

    def keep(self, ready: Ready) -> None:
        """Take what a thread has made, and keep its offers so that the next start is quick."""
        from scores.learner.eye import EyeModel

        self.ready_for = ready
        self.eye = EyeModel(ready.eye or self.followed(ready.offers))
        fingerprint = ready.palette.set.fingerprint
        if kept_offers(self.record.settings(), fingerprint) != ready.offers:
            try:
                keep_offers(self.record, fingerprint, ready.offers)
            except NotSavedError as error:
                self.notice = f"What these pencils offer was not kept: {error}"
        for deck in ready.decks:
            from coach.session.deck_questions import keep_ready

            try:
                keep_ready(self.record, deck)
            except NotSavedError as error:
                self.notice = f"What a deck asks was not kept: {error}"

    @property
    def minutes(self) -> float:
        return minutes_of(self.record.settings())

    def set_minutes(self, minutes: float) -> str:
        """Change how long a session lasts (2–60 minutes); why that was not kept, or nothing."""
        try:
            self.record.set_setting("minutes", min(60.0, max(2.0, minutes)))
        except NotSavedError as error:
            return str(error)
        return ""

    def retest_due(self) -> Due | None:
        """The fortnight's re-test, if one is due and the pencils are ready."""
        if self.ready_for is None or not self.depth.true_colour or self.only_assigned:
            return None
        from scores.progress.retest import due_retest

        offers = allowed(self.ready_for.offers, self.record.settings(), True)
        fingerprint = self.ready_for.palette.set.fingerprint
        day = practice_day(self.clock())
        return due_retest(self.record, offers, fingerprint, day, self.skills())

    def retest(self) -> Session | None:
        """The re-test that is due, ready to be asked; None when none is."""
        from coach.session.retest_session import retest

        due = self.retest_due()
        if due is None or self.ready_for is None:
            return None
        return self._session(retest(self.record, self.ready_for.palette, due), self._seeds())

    def session(self) -> Session:
        """A new session on the plan the today screen shows. The pencils must be ready."""
        from coach.session.own_skills import daily

        assert self.ready_for is not None
        made, left = self.ready_for, self.unfinished
        if self.only_assigned:
            from coach.session.deck_questions import assignments

            feed = assignments(made.decks, self.minutes)
        else:
            if self._shown is None or self._shown[0] != practice_day(self.clock()):
                self.today()
            plan = self._shown[1].plan if self._shown else ()
            colour = self.depth.true_colour
            feed = daily(self.record, made.palette, made.kinds, left, colour, plan, made.decks)
        session = self._session(feed, self._seed)
        self._seed = self._seeds()
        self._shown = None
        begun_again(self.record)
        return session

    def _session(self, feed: Feed, seed: int) -> Session:
        from coach.session.session import Session

        assert self.ready_for is not None
        assert self.eye is not None
        kinds, eye = self.ready_for.kinds, self.eye
        return Session(self.record, kinds, feed, self.clock, self.timer, seed, eye, self.unsaved)


def ready(
    pencil_set: PencilSet,
    decks: Sequence[Deck] = (),
    offers: Offers | None = None,
    patches: Sequence[Patch] = (),
) -> Ready:
    """Make pencils and decks ready to drill with. Knows no record, so a thread may run it.

    ``offers`` are the ones kept for this set, where they are: working them out
    asks every kind for a question of every region. ``patches`` tell of the learner's hand.
    """
    from coach.learned import warmed
    from drills.kinds import all_kinds

    palette = warmed(pencil_set, patches)
    kinds = all_kinds()
    found = work_out_offers(palette, kinds) if offers is None else offers
    return Ready(palette, kinds, found, _decks(palette, kinds, decks))


def _decks(
    palette: Palette, kinds: dict[str, Kind], decks: Sequence[Deck]
) -> tuple[DeckReady, ...]:
    """The decks that can be made ready; one whose own pencils can't be is left out."""
    from coach.session.deck_questions import ready_deck

    made = []
    for deck in decks:
        # The line of one that can't be still stands on the first screen.
        with suppress(InputError):
            made.append(ready_deck(deck, palette, kinds))
    return tuple(made)
