"""A session of practice: the next question, the answer kept, and what came of it.

Pure but for the record: the clock, the timer and the seed are handed in, so that
the same seed, record and clock ask the same questions.
"""

from __future__ import annotations

import math
import random
from collections import Counter, deque
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

from scores.attempt import JSON, Attempt, attempt_id, skill_name
from scores.difficulty import first_step, level, next_step
from scores.memory import SkillState, advance
from scores.offers import KindFacts, Offers, offers_from_json
from scores.plan import Item, minutes_of, plan_session
from scores.record import NotSavedError, Record
from scores.when import practice_day, zone_name
from scores.words import ahead_words, skill_words

if TYPE_CHECKING:
    from drills.layering.palette import Palette

    from drills.kinds.protocol import Answers, Grade, Kind, Question, Reveal

__all__ = ["Item", "Outcome", "Session", "Summary", "Today", "plan_session", "today"]

DRAWS_PER_ITEM = 4
"""How often a question is tried for, at other steps and seeds, before its skill is passed over."""


# -- what can be asked ------------------------------------------------------------


def work_out_offers(palette: Palette, kinds: Mapping[str, Kind]) -> Offers:
    """Every kind's facts, and the regions it has for these pencils."""
    facts = {
        name: KindFacts(
            name=name,
            version=kind.version,
            title=kind.title,
            seconds=kind.seconds,
            unit=kind.unit,
            steps=kind.steps,
            chance=kind.chance,
            needs_colour=kind.needs_colour,
        )
        for name, kind in kinds.items()
    }
    pairs = tuple((n, region) for n, kind in kinds.items() for region in kind.regions(palette))
    return Offers(facts, pairs)


def kinds_stamp() -> str:
    """A digest that changes when the drills' code does, found without importing any of it."""
    spec = find_spec("drills")
    parts: list[str] = []
    for folder in (spec.submodule_search_locations or []) if spec else []:
        for path in sorted(Path(folder).rglob("*.py")):
            state = path.stat()
            parts.append(f"{path.relative_to(folder)} {state.st_size} {state.st_mtime_ns}")
    return sha256("\n".join(parts).encode()).hexdigest()[:16]


def keep_offers(record: Record, fingerprint: str, offers: Offers) -> None:
    """Keep the offers of the pencil set in use for the next start. Raises NotSavedError."""
    kept: dict[str, JSON] = {
        "pencils": fingerprint,
        "stamp": kinds_stamp(),
        "offers": offers.as_json(),
    }
    record.set_setting("offers", kept)


def kept_offers(settings: Mapping[str, JSON], fingerprint: str) -> Offers | None:
    """The offers kept for this pencil set, if the drills have not changed since."""
    kept = settings.get("offers")
    if not isinstance(kept, dict) or kept.get("pencils") != fingerprint:
        return None
    return offers_from_json(kept.get("offers")) if kept.get("stamp") == kinds_stamp() else None


def _names(value: JSON) -> tuple[str, ...]:
    return tuple(name for name in value if isinstance(name, str)) if isinstance(value, list) else ()


def allowed(offers: Offers, settings: Mapping[str, JSON], colour: bool) -> Offers:
    """The offers this terminal and these settings (``kinds_off``, ``families_off``) leave."""
    return offers.only(
        colour=colour,
        without_kinds=_names(settings.get("kinds_off")),
        without_regions=_names(settings.get("families_off")),
    )


@dataclass(frozen=True)
class Today:
    """What the first screen shows."""

    plan: tuple[Item, ...]
    offers: Offers
    minutes: float
    due: int
    weak: int
    new: int
    met: int


def today(
    record: Record, fingerprint: str, now: datetime, seed: int, colour: bool = True
) -> Today | None:
    """Today's plan from what is kept, importing nothing heavy; None until offers are kept."""
    settings = record.settings()
    offers = kept_offers(settings, fingerprint)
    if offers is None:
        return None
    offers = allowed(offers, settings, colour)
    skills = record.skills()
    minutes = minutes_of(settings)
    plan = plan_session(skills, offers, record.kind_times(), now, minutes, plan_rng(seed))
    reasons = Counter(item.reason for item in plan)
    day = practice_day(now)
    mine = [skills[name] for name in offers.skills if name in skills]
    due = sum(1 for state in mine if state.due is not None and state.due <= day)
    return Today(plan, offers, minutes, due, reasons["weak"], reasons["new"], len(mine))


def plan_rng(seed: int, turn: int = 0) -> random.Random:
    """The generator of a session's plan, so that the first screen and the session agree."""
    return random.Random(f"{seed}/plan/{turn}")


# -- a session ----------------------------------------------------------------------


@dataclass(frozen=True)
class Outcome:
    """What came of an answer. ``trouble`` says why it is not ``saved`` yet."""

    grade: Grade
    reveal: Reveal
    attempt: Attempt
    state: SkillState
    saved: bool
    trouble: str = ""


@dataclass(frozen=True)
class SkillLine:
    """One skill at the session's end. ``before`` is None for one first met today."""

    skill: str
    words: str
    tries: int
    right: int
    before: SkillState | None
    after: SkillState
    improved: bool
    change: str
    returns: date | None
    returns_words: str


@dataclass(frozen=True)
class Summary:
    """A session's end: ``skills`` in the order they come back; ``unsaved`` answers still kept."""

    asked: int
    right: int
    seconds: float
    skills: tuple[SkillLine, ...]
    unsaved: int

    @property
    def improved(self) -> tuple[SkillLine, ...]:
        return tuple(line for line in self.skills if line.improved)


class Session:
    """Practice for some minutes.

    ``clock`` gives aware local times, ``timer`` seconds that only rise.
    ``kinds`` are the drill kinds by name, ``plan`` the one already shown (else it is made here).
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
        deck: str = "",
    ) -> None:
        settings = record.settings()
        self.record = record
        self.palette = palette
        self.kinds = kinds
        self.seed = seed
        self.deck = deck
        self.minutes = minutes_of(settings if minutes is None else {"minutes": minutes})
        self.unsaved: list[Attempt] = []
        self._clock = clock
        self._timer = timer
        every = kept_offers(settings, palette.set.fingerprint) or work_out_offers(palette, kinds)
        self.offers = allowed(every, settings, colour)
        self._skills = record.skills()
        self._before = dict(self._skills)
        self._times = record.kind_times()
        self._started = timer()
        self._paused_at: float | None = None
        self._paused_s = 0.0
        self._shown_s = 0.0
        self._number = 0
        self._turn = 0
        self._current: Question | None = None
        self._last: tuple[Question, Outcome] | None = None
        self._item: Item | None = None
        self._kinds_asked: list[str] = []
        self._asked: Counter[str] = Counter()
        self._right: Counter[str] = Counter()
        self._refused: set[str] = set()
        start = clock().astimezone(UTC)
        self.id = self._free_name(f"{start:%Y%m%dT%H%M%SZ}-{seed & 0xFFFFFFFFFFFFFFFF:016x}")
        self._plan: deque[Item] = deque(self._fresh_plan() if plan is None else plan)

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
        until = self._timer() if self._paused_at is None else self._paused_at
        return max(0.0, until - self._started - self._paused_s)

    @property
    def remaining(self) -> float:
        """Seconds left, never below nought."""
        return max(0.0, self.minutes * 60.0 - self.elapsed)

    @property
    def paused(self) -> bool:
        return self._paused_at is not None

    def pause(self) -> None:
        """Stop the time; a second call changes nothing."""
        if self._paused_at is None:
            self._paused_at = self._timer()

    def resume(self) -> None:
        """Let the time run on."""
        if self._paused_at is not None:
            self._paused_s += max(0.0, self._timer() - self._paused_at)
            self._paused_at = None

    # -- asking ------------------------------------------------------------------------

    @property
    def item(self) -> Item | None:
        """Why the present question is asked."""
        return self._item

    @property
    def number(self) -> int:
        """How many questions were asked so far, the present one included."""
        return self._number

    def next(self) -> Question | None:
        """The next question; the present one until it is answered.

        None when the time is used up or nothing (more) can be asked.
        """
        if self._current is not None:
            return self._current
        while True:
            item = self._take()
            if item is None:
                return None
            question = self._draw(item)
            if question is None:
                self._refused.add(item.skill)
                continue
            self._current, self._item = question, item
            self._kinds_asked.append(item.kind)
            self._asked[item.skill] += 1
            self._shown_s = self.elapsed
            return question

    def _fresh_plan(self) -> tuple[Item, ...]:
        left = self.remaining / 60.0
        offers = self.offers.only(without_skills=self._refused)
        rng = plan_rng(self.seed, self._turn)
        self._turn += 1
        return plan_session(
            self._skills,
            offers,
            self._times,
            self._clock(),
            left,
            rng,
            recent=self._kinds_asked[-2:],
            asked=self._asked,
        )

    def _take(self) -> Item | None:
        """The next item that may be asked now, from the plan or, when it is used up, a new one."""
        for again in (False, True):
            if again:
                self._plan = deque(self._fresh_plan())
            last = self._kinds_asked[-2:]
            open_items = [item for item in self._plan if item.skill not in self._refused]
            fit = [i for i in open_items if len(last) < 2 or set(last) != {i.kind}]
            choice = fit or (open_items if again else [])
            if choice:
                item = choice[0]
                if self._number and self.elapsed + item.seconds / 2 > self.minutes * 60.0:
                    return None
                self._plan.remove(item)
                return item
        return None

    def _draw(self, item: Item) -> Question | None:
        """A question for an item: at its step, else easier, else harder; None when refused."""
        from drills.kinds import draw
        from drills.kinds.protocol import CannotAskError

        kind = self.kinds.get(item.kind)
        if kind is None:
            return None
        state = self._skills.get(item.skill)
        wanted = state.step if state is not None and state.step is not None else None
        step = first_step(kind.steps) if wanted is None else wanted
        easier = next_step(kind.steps, step, False)
        harder = next_step(kind.steps, step, True)
        number = self._number + 1
        for turn, ask in enumerate((step, step, easier, harder)[:DRAWS_PER_ITEM]):
            seed = random.Random(f"{self.seed}/{number}/{item.skill}/{turn}").getrandbits(48)
            try:
                question = draw(kind, self.palette, item.region, ask, seed)
            except CannotAskError:
                continue
            self._number = number
            return question
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
        if question is not self._current or self._item is None:
            raise ValueError("this is not the question being asked")
        if response_s is None or not math.isfinite(response_s):
            response_s = self.elapsed - self._shown_s
        kind = self.kinds[question.kind]
        grade = kind.grade(question, answers)
        reveal = kind.reveal(question, answers)
        now = self._clock()
        attempt = Attempt(
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
            pencils=self.palette.set.fingerprint,
            target=None if question.target is None else list(question.target),
            facts=dict(question.facts),
            answers=answers,
            score=grade.score,
            right=grade.right,
            error=grade.error,
            unit=grade.unit,
            verdict=grade.verdict,
            response_s=max(0.0, response_s),
            at_utc=now.astimezone(UTC),
            zone=zone_name(now),
            deck=self.deck,
        )
        skill = skill_name(question.kind, question.region)
        self.unsaved.append(attempt)
        trouble = self._save_all()
        if trouble:
            # The step still follows the learner; the record works it out again when it can.
            self._skills[skill] = advance(
                self._skills.get(skill), attempt, "held" if grade.right else "shaky"
            )
        self._right[skill] += grade.right
        outcome = Outcome(grade, reveal, attempt, self._skills[skill], not trouble, trouble)
        self._last = (question, outcome)
        self._current = None
        return outcome

    def _save_all(self) -> str:
        """Save what waits, oldest first; why it could not be, or nothing."""
        while self.unsaved:
            attempt = self.unsaved[0]
            try:
                self._skills[attempt.skill] = self.record.save(attempt)
            except NotSavedError as error:
                return str(error)
            del self.unsaved[0]
        return ""

    def retry_save(self) -> str:
        """Try again to save what waits; why it still can't be, or nothing when all is saved."""
        return self._save_all()

    # -- the end -----------------------------------------------------------------------

    def summary(self) -> Summary:
        """What was practised, what moved, and when each skill comes back."""
        titles = {name: facts.title for name, facts in self.offers.kinds.items()}
        day = practice_day(self._clock())
        lines = []
        for skill, tries in self._asked.items():
            after = self._skills.get(skill)
            if after is None or (self._item is not None and self._current and after.tries == 0):
                continue
            answered = tries - (
                self._current is not None and self._item is not None and self._item.skill == skill
            )
            if not answered:
                continue
            before = self._before.get(skill)
            improved, change = self._change(before, after)
            lines.append(
                SkillLine(
                    skill=skill,
                    words=skill_words(skill, titles),
                    tries=answered,
                    right=self._right[skill],
                    before=before,
                    after=after,
                    improved=improved,
                    change=change,
                    returns=after.due,
                    returns_words="" if after.due is None else ahead_words(after.due, day),
                )
            )
        lines.sort(key=lambda line: (line.returns or date.max, line.words))
        return Summary(
            asked=sum(line.tries for line in lines),
            right=sum(line.right for line in lines),
            seconds=self.elapsed,
            skills=tuple(lines),
            unsaved=len(self.unsaved),
        )

    def _change(self, before: SkillState | None, after: SkillState) -> tuple[bool, str]:
        facts = self.offers.kinds[after.kind]
        if before is None or before.step is None or after.step is None:
            return False, "first met today"
        rise = level(facts.steps, after.step) - level(facts.steps, before.step)
        if rise > 0.01:
            return True, f"asked finer: {before.step:.3g} → {after.step:.3g} {facts.unit}"
        if rise < -0.01:
            return False, f"asked easier: {before.step:.3g} → {after.step:.3g} {facts.unit}"
        return False, "held"
