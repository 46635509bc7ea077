"""A session of practice: the next question, the answer kept, and what came of it.

Pure but for the record: the clock, the timer and the seed are handed in, so that
the same seed, record and clock ask the same questions.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from coach.session.deck_questions import DeckReady, ask_assigned
from coach.session.deck_work import Assigned
from coach.session.question import ask_for
from coach.session.stopwatch import Stopwatch
from coach.session.summary import SkillLine, Summary, in_order, skill_line
from coach.session.today_plan import (
    Today,
    allowed,
    keep_offers,
    kept_offers,
    plan_rng,
    today,
    work_out_offers,
)
from coach.session.unsaved import Unsaved
from drills.basics.days import practice_day, zone_name
from scores.progress.reveal_line import measure_line
from scores.record.attempt import Attempt, attempt_id
from scores.record.record import Record
from scores.skill.memory import SkillState, advance, kindred_of
from scores.skill.skill_words import skill_words
from scores.today.day_plan import Item, aims_of, minutes_of, plan_session

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Answers, Grade, Kind, Question, Reveal

__all__ = [
    "Item",
    "Outcome",
    "Session",
    "SkillLine",
    "Summary",
    "Today",
    "keep_offers",
    "kept_offers",
    "plan_session",
    "skill_words",
    "today",
    "work_out_offers",
]


@dataclass(frozen=True)
class Outcome:
    """What came of an answer. ``trouble`` says why it is not ``saved`` yet.

    ``measure`` says how fine the learner sees here now, where that is known.
    """

    grade: Grade
    reveal: Reveal
    attempt: Attempt
    state: SkillState
    saved: bool
    trouble: str = ""
    measure: str = ""


class Session:
    """Practice for some minutes.

    ``clock`` gives aware local times, ``timer`` seconds that only rise.
    ``kinds`` are the drill kinds by name, ``plan`` the one already shown (else
    it is made here); what it holds of assigned work is asked of ``decks``. A session
    that ``ends_with_plan`` asks nothing beyond it. ``unsaved`` are the app's answers that
    wait to be saved; they are tried again at each new one.
    ``minutes`` goes before the setting; ``colour`` False withholds kinds that need
    24-bit colour.
    """

    def __init__(
        self,
        record: Record,
        palette: Palette,
        kinds: Mapping[str, Kind],
        clock: Callable[[], datetime],
        timer: Callable[[], float],
        seed: int,
        minutes: float | None = None,
        colour: bool = True,
        plan: Sequence[Item] | None = None,
        decks: Sequence[DeckReady] = (),
        ends_with_plan: bool = False,
        unsaved: Unsaved | None = None,
    ) -> None:
        self.unsaved = Unsaved(record) if unsaved is None else unsaved
        self.unsaved.save()
        settings = record.settings()
        self.record = record
        self.palette = palette
        self.kinds = kinds
        self.seed = seed
        self._plans = (False,) if ends_with_plan else (False, True)
        self.decks = {deck.fingerprint: deck for deck in decks}
        self.minutes = minutes_of(settings if minutes is None else {"minutes": minutes})
        self._aims = aims_of(settings)
        self.watch = Stopwatch(timer)
        self._clock = clock
        every = kept_offers(settings, palette.set.fingerprint) or work_out_offers(palette, kinds)
        self.offers = allowed(every, settings, colour)
        self._skills = record.skills()
        self._before = dict(self._skills)
        self._times = record.kind_times()
        self._number = 0
        self._plans_made = 0
        self._current: tuple[Item, Question] | None = None
        self._shown_at = 0.0
        self._last: tuple[Question, Outcome] | None = None
        self._kinds_asked: list[str] = []
        self._asked: Counter[str] = Counter()
        self._answered: Counter[str] = Counter()
        self._right: Counter[str] = Counter()
        self._refused: set[str] = set()
        start = clock().astimezone(UTC)
        self.id = self._free_name(f"{start:%Y%m%dT%H%M%SZ}-{seed & 0xFFFFFFFFFFFFFFFF:016x}")
        self._plan: list[Item] = list(self._fresh_plan() if plan is None else plan)

    def _free_name(self, name: str) -> str:
        """A clock set back may give a session's name twice; no answer may be lost to that."""
        free, turn = name, 1
        while self.record.has(attempt_id(free, 1)):
            turn += 1
            free = f"{name}-{turn}"
        return free

    # -- time ------------------------------------------------------------------------

    @property
    def elapsed(self) -> float:
        """Seconds practised, pauses left out."""
        return self.watch.elapsed

    @property
    def remaining(self) -> float:
        """Seconds left, never below nought."""
        return max(0.0, self.minutes * 60.0 - self.elapsed)

    @property
    def paused(self) -> bool:
        return self.watch.paused

    def pause(self) -> None:
        """Stop the time."""
        self.watch.pause()

    def resume(self) -> None:
        """Let the time run on."""
        self.watch.resume()

    # -- asking ------------------------------------------------------------------------

    @property
    def item(self) -> Item | None:
        """Why the present question is asked."""
        return None if self._current is None else self._current[0]

    @property
    def number(self) -> int:
        """How many questions were asked so far, the present one included."""
        return self._number

    def next(self) -> Question | None:
        """The next question; the present one until it is answered.

        None when the time is used up or nothing (more) can be asked.
        """
        while self._current is None:
            item = self._take()
            if item is None:
                return None
            question = self._question(item)
            if question is None:
                # What a deck asks beside the learner's own is refused for that deck alone.
                if not isinstance(item, Assigned):
                    self._refused.add(item.skill)
                continue
            self._number += 1
            self._kinds_asked.append(item.kind)
            self._asked[item.skill] += 1
            self._current = (item, question)
            self._shown_at = self.elapsed
        return self._current[1]

    def _question(self, item: Item) -> Question | None:
        """A question for an item, drawn by its number in the session; None where it is refused."""
        name = f"{self.seed}/{self._number + 1}"
        kind, day = self.kinds.get(item.kind), practice_day(self._clock())
        if kind is None:
            return None
        if not isinstance(item, Assigned):
            return ask_for(kind, self.palette, item.region, self._skills, day, name)
        if item.deck not in self.decks:
            return None
        deck = self.decks[item.deck]
        return ask_assigned(item, deck.deck, kind, deck.palette, self._skills, day, name)

    def _fresh_plan(self) -> tuple[Item, ...]:
        self._plans_made += 1
        return plan_session(
            self._skills,
            self.offers.only(without_skills=self._refused),
            self._times,
            self._clock(),
            self.remaining / 60.0,
            plan_rng(self.seed, self._plans_made),
            recent=self._kinds_asked[-2:],
            asked=self._asked,
            aims=self._aims,
        )

    def _take(self) -> Item | None:
        """The next item of the plan that may be asked, or of a new plan when it is used up."""
        running = self._kinds_asked[-2:]
        for plan_again in self._plans:
            if plan_again:
                self._plan = list(self._fresh_plan())
            left = [item for item in self._plan if item.skill not in self._refused]
            mixed = [item for item in left if len(running) < 2 or set(running) != {item.kind}]
            # A new plan keeps kinds mixed by itself; where it can't, one kind alone is left.
            choice = mixed or (left if plan_again or len(self._plans) == 1 else [])
            if choice:
                item = choice[0]
                if self._number and self.remaining < item.seconds / 2:
                    return None
                self._plan.remove(item)
                return item
        return None

    # -- answering ---------------------------------------------------------------------

    def answered(
        self, question: Question, answers: Answers, response_s: float | None = None
    ) -> Outcome:
        """Grade an answer and keep it before returning.

        ``response_s`` is in seconds, pauses left out; measured here when not
        given. The same question answered twice (a key pressed twice) counts
        once. Raises ValueError for a question that is not the present one.
        """
        if self._last is not None and self._last[0] is question:
            return self._last[1]
        if self._current is None or question is not self._current[1]:
            raise ValueError("this is not the question being asked")
        if response_s is None or not math.isfinite(response_s):
            response_s = self.elapsed - self._shown_at
        kind = self.kinds[question.kind]
        grade = kind.grade(question, answers)
        reveal = kind.reveal(question, answers)
        item = self._current[0]
        attempt = self._attempt(item, question, kind, answers, grade, max(0.0, response_s))
        skill = attempt.skill
        self.unsaved.add(attempt)
        trouble = self.retry_save()
        if trouble:
            # The step still follows the learner; saving works it out again in earnest.
            self._skills[skill] = advance(
                self._skills.get(skill),
                attempt,
                "held" if grade.right else "shaky",
                kindred=kindred_of(self._skills.values(), skill),
            )
        self._answered[skill] += 1
        self._right[skill] += grade.right
        state, saved = self._skills[skill], not trouble
        outcome = Outcome(grade, reveal, attempt, state, saved, trouble, self._measure(state, kind))
        self._last = (question, outcome)
        self._current = None
        return outcome

    def _measure(self, state: SkillState, kind: Kind) -> str:
        others = kindred_of(self._skills.values(), state.skill)
        day = practice_day(self._clock())
        return measure_line(state, others, kind.title, kind.unit, day)

    def _attempt(
        self,
        item: Item,
        question: Question,
        kind: Kind,
        answers: Answers,
        grade: Grade,
        response_s: float,
    ) -> Attempt:
        now = self._clock()
        deck = item.deck if isinstance(item, Assigned) else ""
        palette = self.decks[deck].palette if deck else self.palette
        return Attempt(
            id=attempt_id(self.id, self._number),
            session=self.id,
            number=self._number,
            kind=question.kind,
            kind_version=question.version,
            region=question.region,
            seed=question.seed,
            step=question.step,
            steps=kind.steps,
            chance=kind.chance,
            pencils=palette.set.fingerprint,
            target=None if question.target is None else list(question.target),
            facts=dict(question.facts),
            answers=answers,
            score=grade.score,
            right=grade.right,
            error=grade.error,
            unit=grade.unit,
            verdict=grade.verdict,
            response_s=response_s,
            at_utc=now.astimezone(UTC),
            zone=zone_name(now),
            deck=deck,
        )

    def retry_save(self) -> str:
        """Save what waits, oldest first; why it still can't be, or nothing when all is saved."""

        def done(state: SkillState) -> None:
            self._skills[state.skill] = state

        return self.unsaved.save(done)

    # -- the end -----------------------------------------------------------------------

    def summary(self) -> Summary:
        """What was practised, what moved, and when each skill comes back."""
        day = practice_day(self._clock())
        lines = {
            skill: skill_line(
                self.offers.kinds[self._skills[skill].kind],
                self._before.get(skill),
                self._skills[skill],
                tries,
                self._right[skill],
                day,
            )
            for skill, tries in self._answered.items()
        }
        return Summary(
            asked=self._answered.total(),
            right=self._right.total(),
            seconds=self.elapsed,
            skills=in_order(lines),
            unsaved=len(self.unsaved),
        )
