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
from functools import partial
from typing import TYPE_CHECKING

from coach.clock import local_now
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
from coach.this_screen.kept import model_of, screen_known, screens_of
from coach.widgets.paint import correct_for
from drills.basics.days import practice_day
from drills.basics.errors import InputError
from scores.learner.at_hand import EyeAtHand
from scores.record.decks_added import decks_kept
from scores.record.record import NotSavedError, PencilsKept, Record
from scores.today.day_plan import minutes_of

if TYPE_CHECKING:
    from pathlib import Path

    from coach.session.assigned.deck_questions import DeckReady
    from coach.session.feed import Feed
    from coach.session.session import Session
    from decks.deck import Deck
    from drills.hand.patch import Patch
    from drills.layering.palette import Palette
    from drills.pencils.pencil import PencilSet
    from drills.questions.protocol import Kind
    from drills.screen.known import ScreenKnown
    from scores.learner.eye import Followed
    from scores.progress.retest import Due
    from scores.today.offers import Offers


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
        self._pencil_set: PencilSet | None = None
        self._prepared: Palette | None = None
        self._offers: dict[tuple[str, ScreenKnown], Offers | None] = {}
        self._seeds = seeds
        self._seed = seeds()
        self._shown: tuple[date, Today] | None = None
        self.eye = EyeAtHand(record)
        self.see_by()

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
        return self._pencils is None

    @property
    def pencils_name(self) -> str:
        return self._pencils.name if self._pencils else ""

    def today(self) -> Today | None:
        """Today's plan, without numpy where offers are kept from an earlier start."""
        offers = self.ready_for.offers if self.ready_for else self.offers_kept()
        if self._pencils is None or offers is None:
            return None
        now = self.clock()
        plan = today(
            self.record,
            self._pencils.fingerprint,
            now,
            self._seed,
            self.depth.true_colour,
            offers,
            self.unfinished,
            self.eye.figures(practice_day(now)),
        )
        self._shown = (practice_day(now), plan) if plan else None
        return plan

    @property
    def day(self) -> date:
        return practice_day(self.clock())

    def keep_eye(self) -> None:
        """Keep the learner's model beside the record."""
        if not self.only_assigned:
            self.eye.keep(self.day)

    @property
    def unfinished(self) -> float | None:
        """Minutes left of a session that a fault of ours broke off today, if one was."""
        return minutes_left(self.record, self.clock())

    def use(self, pencil_set: PencilSet) -> None:
        """Practise with these pencils from now on; for this once, where that can't be kept."""
        from drills.pencils.file import to_csv

        csv = to_csv(pencil_set)
        self._pencils = PencilsKept(pencil_set.fingerprint, pencil_set.name, csv)
        self._pencil_set = pencil_set
        self.ready_for = self._shown = None
        try:
            self.record.put_pencils(pencil_set.fingerprint, pencil_set.name, csv, self.clock())
        except NotSavedError as error:
            self.notice = f"These pencils are in use for now but were not kept: {error}"

    def load(self, path: str) -> PencilSet:
        """A pencils file, checked through and through. Raises InputError."""
        from drills.layering.palette import prepare
        from drills.pencils.file import load_pencils

        self._prepared = prepare(load_pencils(expanded(path)))
        return self._prepared.set

    def pencil_set(self) -> PencilSet:
        """The set in use. Raises InputError if what was kept can't be read."""
        from drills.pencils.file import parse_pencils

        if self._pencils is None:
            raise InputError("pencils", "none are chosen yet", "Choose a set first.")
        if self._pencil_set is None:
            self._pencil_set = parse_pencils(self._pencils.csv.encode(), self._pencils.name)
        return self._pencil_set

    def prepared(self) -> PencilSet | Palette:
        """The set in use, as films where looking its file over has worked them out."""
        pencil_set, films = self.pencil_set(), self._prepared
        return films if films is not None and films.set is pencil_set else pencil_set

    def decks(self) -> tuple[Deck, ...]:
        """What teachers have assigned and is open or opens next."""
        if not decks_kept(self.record):
            return ()
        from coach.session.assigned.course_work import decks_at_hand

        return decks_at_hand(self.record, self.clock())

    def offers_kept(self) -> Offers | None:
        """What the set in use offers, as kept from an earlier start; read once."""
        fingerprint = self._pencils.fingerprint if self._pencils else ""
        here = fingerprint, self.screen_known
        if here not in self._offers:
            self._offers[here] = kept_offers(self.record.settings(), fingerprint)
        return self._offers[here]

    def keep(self, ready: Ready) -> None:
        """Take what a thread has made, and keep its offers so that the next start is quick."""
        self.ready_for, self._prepared = ready, None
        self.eye.take(ready.eye or self.eye.followed(ready.offers))
        if self.offers_kept() != ready.offers:
            fingerprint = ready.palette.set.fingerprint
            self._offers[fingerprint, self.screen_known] = ready.offers
            try:
                keep_offers(self.record, fingerprint, ready.offers)
            except NotSavedError as error:
                self.notice = f"What these pencils offer was not kept: {error}"
        for deck in ready.decks:
            from coach.session.assigned.deck_questions import keep_ready

            try:
                keep_ready(self.record, deck)
            except NotSavedError as error:
                self.notice = f"What a deck asks was not kept: {error}"

    @property
    def screen_known(self) -> ScreenKnown:
        return screen_known(self.record.settings())

    def see_by(self) -> None:
        """Paint for the screen looked at."""
        now = screens_of(self.record).now
        correct_for(None if now is None else partial(model_of, now))

    def new_seed(self) -> int:
        return self._seeds()

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
        return due_retest(self.record, offers, fingerprint, self.day, self.eye.skills(self.day))

    def retest(self) -> Session | None:
        """The re-test that is due, ready to be asked; None when none is."""
        from coach.session.retest_session import retest

        due = self.retest_due()
        if due is None or self.ready_for is None:
            return None
        return self._session(retest(self.record, self.ready_for.palette, due), self._seeds())

    def session(self, drill: str = "") -> Session:
        """A new session on the plan the today screen shows, or of one drill by its name.

        The pencils must be ready.
        """
        from coach.session.own_skills import daily

        assert self.ready_for is not None
        made, left = self.ready_for, self.unfinished
        if self.only_assigned:
            from coach.session.assigned.deck_questions import assignments

            feed = assignments(made.decks, self.minutes)
        else:
            if self._shown is None or self._shown[0] != practice_day(self.clock()):
                self.today()
            shown = self._shown[1] if self._shown and not drill else None
            plan = shown.plan if shown else ()
            if left is None and shown is not None and shown.away:
                left = shown.minutes
            feed = daily(
                *(self.record, made.palette, made.kinds, left, self.depth.true_colour),
                *(plan, made.decks, drill),
            )
        session = self._session(feed, self._seed)
        self._seed = self._seeds()
        self._shown = None
        begun_again(self.record)
        return session

    def _session(self, feed: Feed, seed: int) -> Session:
        from coach.session.session import Session

        assert self.ready_for is not None
        assert self.eye.model is not None
        kinds, eye = self.ready_for.kinds, self.eye.model
        return Session(self.record, kinds, feed, self.clock, self.timer, seed, eye, self.unsaved)


def ready(
    pencils: PencilSet | Palette,
    decks: Sequence[Deck] = (),
    offers: Offers | None = None,
    patches: Sequence[Patch] = (),
    screen_known: ScreenKnown = True,
) -> Ready:
    """Make pencils and decks ready to drill with. Knows no record, so a thread may run it.

    ``offers`` are the ones kept for this set, where they are: working them out
    asks every kind for a question of every region. ``patches`` tell of the learner's hand;
    ``screen_known`` is as in ``Palette``.
    """
    from coach.learned import warmed
    from drills.kinds import all_kinds

    palette = warmed(pencils, patches, screen_known)
    kinds = all_kinds()
    found = work_out_offers(palette, kinds) if offers is None else offers
    return Ready(palette, kinds, found, _decks(palette, kinds, decks))


def _decks(
    palette: Palette, kinds: dict[str, Kind], decks: Sequence[Deck]
) -> tuple[DeckReady, ...]:
    """The decks that can be made ready; one whose own pencils can't be is left out."""
    from coach.session.assigned.deck_questions import ready_deck

    made = []
    for deck in decks:
        # The line of one that can't be still stands on the first screen.
        with suppress(InputError):
            made.append(ready_deck(deck, palette, kinds))
    return tuple(made)
