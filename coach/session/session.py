"""A session of practice: the next question, the answer kept, and what came of it.

Pure but for the record: the clock, the timer and the seed are handed in, so that
the same seed, record and clock ask the same questions.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from coach.session.ahead import Ahead
from coach.session.examples.beforehand import Beforehand, beforehand, example_ahead
from coach.session.examples.solved import Examples, keep_shown
from coach.session.feed import Feed, Outcome, SoFar
from coach.session.helping import NO_MEASURE, facts_kept, help_words
from coach.session.question import attempt_of
from coach.session.stopwatch import Stopwatch
from coach.session.summary import Summary, by_drill, in_order, needs_most, skill_line
from coach.session.today_plan import facts_of
from coach.session.unsaved import Unsaved
from drills.basics.days import practice_day
from scores.learner.overlay import skills_told
from scores.progress.reveal_line import measure_line
from scores.progress.sureness import SURE
from scores.record.attempt import attempt_id
from scores.record.record import NotSavedError, Record
from scores.skill.memory import SkillState, advance
from scores.today.day_plan import OWN, Item, aims_of
from scores.today.examples import SHOWN, days_shown
from scores.today.upcoming import taken

if TYPE_CHECKING:
    from drills.questions.protocol import Answers, Kind, Question
    from drills.questions.worked import Worked
    from scores.learner.eye import EyeModel


class Session:
    """One session of practice, of what ``feed`` gives.

    ``kinds`` are the drill kinds by name. ``clock`` gives aware local times, ``timer``
    seconds that only rise. ``eye`` is the learner's model, which each answer moves on.
    ``unsaved`` are the app's answers that wait to be saved; they are tried again at each
    new one.
    """

    def __init__(
        self,
        record: Record,
        kinds: Mapping[str, Kind],
        feed: Feed,
        clock: Callable[[], datetime],
        timer: Callable[[], float],
        seed: int,
        eye: EyeModel,
        unsaved: Unsaved | None = None,
    ) -> None:
        self.unsaved = Unsaved(record) if unsaved is None else unsaved
        self.unsaved.save()
        self.record = record
        self.kinds = kinds
        self.feed = feed
        self.seed = seed
        self.eye = eye
        self._facts = facts_of(kinds)
        self.minutes = feed.minutes
        self.watch = Stopwatch(timer)
        self._clock = clock
        self._skills = record.skills()
        settings, sources = record.settings(), feed.sources.values()
        self._retention = aims_of(settings).retention
        self.asks_sure = settings.get(SURE) is True and all(one.tells for one in sources)
        self._number = 0
        self._plan = list(feed.plan)
        self._current: tuple[Item, Question] | None = None
        self._shown_at = 0.0
        self._ahead: Ahead | None = None
        self._before, self._examples = Beforehand(), Examples()
        self._last: tuple[Question, Outcome] | None = None
        self._kinds_asked: list[str] = []
        self._asked: Counter[str] = Counter()
        self._answered: Counter[str] = Counter()
        self._right: Counter[str] = Counter()
        self._helped = 0
        self._silent: set[str] = set()
        self._refused: set[tuple[str, ...]] = set()
        start = clock().astimezone(UTC)
        self.id = self._free_name(f"{start:%Y%m%dT%H%M%SZ}-{seed & 0xFFFFFFFFFFFFFFFF:016x}")

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

    @property
    def left(self) -> int:
        """How many items of the plan are still to be asked, the present one not counted."""
        return len(self._plan)

    def next(self) -> Question | None:
        """The next question; the present one until it is answered.

        None when the time is used up or nothing (more) can be asked.
        """
        if self._current is None and self._number:
            self.watch.looked_at(self._shown_at)
        while self._current is None:
            item, self._plan = self._coming()
            if item is None:
                self._keep_sources()
                return None
            kind, source = self.kinds.get(item.kind), self.feed.sources.get(item.source)
            so_far = self._so_far(self._skills)
            if kind is None or source is None or not (question := source.ask(item, kind, so_far)):
                self._refused.add(item.subject)
                continue
            self._number += 1
            self._kinds_asked.append(item.kind)
            self._asked[item.skill] += 1
            self._current = (item, question)
            self._ahead = Ahead(question, kind, source.tells)
            self._shown_at = self.elapsed
            self._before = beforehand(self.feed, item, kind, question, so_far, self._examples)
        return self._current[1]

    @property
    def solved(self) -> Worked | None:
        """The example that goes before the present question and was not looked at yet."""
        return None if self._current is None else self._before.solved

    def example_over(self) -> None:
        """The example was looked at, or passed over: its time is the session's, no answer's."""
        if self.solved is not None and self._current is not None:
            keep_shown(self.record, self._current[0].kind, practice_day(self._clock()))
            self._before.solved, self._before.looked_s = None, self.elapsed - self._shown_at
            self.watch.looked_at(self._shown_at)
            self._shown_at = self.elapsed

    @property
    def begun(self) -> Answers:
        """The first replies to the present question, where these are done for the learner."""
        return () if self._current is None else self._before.done.replies

    def _so_far(self, skills: Mapping[str, SkillState]) -> SoFar:
        return SoFar(
            seed=self.seed,
            number=self._number + 1,
            now=self._clock(),
            seconds_left=self.remaining,
            skills=skills,
            step=lambda kind, skill, aim: self.eye.step(
                self._facts[kind.name], skill, self._day(), aim
            ),
            kinds=self._kinds_asked,
            asked=self._asked,
            refused=frozenset(subject[1] for subject in self._refused if subject[0] == OWN),
            examples=days_shown(self.record.setting(SHOWN)),
        )

    def _day(self) -> int:
        return practice_day(self._clock()).toordinal()

    def _told(self, skills: Mapping[str, SkillState]) -> dict[str, SkillState]:
        """Skills with what the learner's model knows of them now."""
        day, only = practice_day(self._clock()), next(iter(skills)) if len(skills) == 1 else ""
        return skills_told(skills, self.eye.figures(day.toordinal(), only), day, self._retention)

    def _coming(self) -> tuple[Item | None, list[Item]]:
        """The next item that may be asked, and the rest of the plan; of a new plan when it is
        used up. It changes nothing."""
        if not self.feed.timed:
            return (self._plan[0] if self._plan else None), self._plan[1:]

        def open_ones(items: Sequence[Item]) -> list[Item]:
            return [item for item in items if item.subject not in self._refused]

        def more() -> list[Item]:
            return open_ones(self.feed.more(self._so_far(self._told(self._skills))))

        return taken(open_ones(self._plan), self._kinds_asked, self.remaining, more)

    def look_ahead(self, likely: Sequence[Answers]) -> bool:
        """Work out one thing that telling an answer will need; False where nothing is left."""
        if self._current is None or self._ahead is None:
            if self.eye.tell_ahead(self._day()):
                return True
            item, so_far = self._coming()[0], self._so_far(self._skills)
            return example_ahead(self.feed, self.kinds, item, so_far, self._examples)
        return self._ahead.step(likely, self.eye, self._day())

    def help(self, replies: Answers) -> str:
        """What help is said after so many replies to the present question; "" where none is."""
        if self._current is None:
            return ""
        return help_words(
            self.kinds[self._current[1].kind], replies, self._before.help, self._before.done
        )

    # -- answering ---------------------------------------------------------------------

    def answered(
        self,
        question: Question,
        answers: Answers,
        response_s: float | None = None,
        sure: bool = False,
    ) -> Outcome:
        """Grade an answer and keep it before returning, and whether the learner is ``sure`` of it.

        ``response_s`` is in seconds, pauses left out; measured here when not
        given. The same question answered twice (a key pressed twice) counts
        once. Raises ValueError for a question that is not the present one.
        """
        if self._last is not None and self._last[0] is question:
            return self._last[1]
        if self._current is None or self._ahead is None or question is not self._current[1]:
            raise ValueError("this is not the question being asked")
        if response_s is None or not math.isfinite(response_s):
            response_s = self.elapsed - self._shown_at
        self.watch.looked_at(self._shown_at)
        self._shown_at = self.elapsed
        kind = self.kinds[question.kind]
        grade, reveal = self._ahead.told(answers)
        source = self.feed.sources[self._current[0].source]
        attempt = attempt_of(
            *(self.id, self._number, question, kind, answers, grade),
            facts=facts_kept(
                question, self._before.help, sure if self.asks_sure else None, self._before.looked_s
            ),
            helped=bool(self._before.help),
            pencils=source.palette.set.fingerprint,
            response_s=max(0.0, response_s),
            now=self._clock(),
            deck=self._current[0].source,
        )
        skill = attempt.skill
        self.unsaved.add(attempt)
        trouble = self.retry_save()
        if trouble:
            # The step still follows the learner; saving works it out again in earnest.
            good = grade.right and not self._before.help
            before = self._skills.get(skill)
            self._skills[skill] = advance(before, attempt, "held" if good else "shaky")
        self._answered[skill] += 1
        self._right[skill] += grade.right
        if source.tells:
            self.eye.answered(attempt)
        else:
            self._silent.add(skill)
        state, saved = self._told({skill: self._skills[skill]})[skill], not trouble
        self._helped += bool(self._before.help)
        measure = (
            NO_MEASURE
            if self._before.help
            else measure_line(state.threshold, kind.title, kind.unit, attempt.region)
        )
        outcome = source.told(
            Outcome(grade, reveal, attempt, state, saved, trouble, measure), self.left
        )
        self._plan += self.feed.after(self._current[0], grade.right)
        self._last = (question, outcome)
        self._current = None
        return outcome

    def retry_save(self) -> str:
        """Save what waits, oldest first; why it still can't be, or nothing when all is saved."""

        def done(state: SkillState) -> None:
            self._skills[state.skill] = state

        return self._keep_sources() or self.unsaved.save(done)

    def _keep_sources(self) -> str:
        """Keep what the sources keep, once an answer was given; why it can't be, or nothing."""
        try:
            if self.unsaved or self._answered:
                for source in self.feed.sources.values():
                    source.keep()
        except NotSavedError as error:
            return str(error)
        return ""

    # -- the end -----------------------------------------------------------------------

    def summary(self) -> Summary:
        """What was practised, what moved, and when each skill comes back."""
        day, told = practice_day(self._clock()), self._told(self._skills)
        lines = {
            skill: skill_line(
                self._facts[told[skill].kind], told[skill], tries, self._right[skill], day
            )
            for skill, tries in self._answered.items()
            if skill not in self._silent
        }
        counted = self._answered.keys() - self._silent
        tries, right = by_drill(self._answered, counted), by_drill(self._right, counted)
        most = needs_most(tries, right, self._day())
        return Summary(
            asked=self._answered.total(),
            right=self._right.total(),
            seconds=self.elapsed,
            skills=in_order(lines),
            unsaved=len(self.unsaved),
            helped=self._helped,
            drills=tuple(self._facts[kind].title.rstrip("?") for kind in tries),
            at_the_table=str(getattr(self.kinds[most], "at_the_table", "")) if most else "",
        )
