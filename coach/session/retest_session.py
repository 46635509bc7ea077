"""A re-test: the questions held out of practice, asked in a session of their own.

It is a ``Session`` to whatever screen runs one, but for what it asks and what it
tells: the answers are noted and not told, since told they would be learnt.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from coach.session.session import Outcome, Session
from coach.session.summary import Summary
from coach.session.unsaved import Unsaved
from scores.progress.retest import PROBE, Due, HeldQuestion, keep_bank
from scores.record.attempt import Attempt
from scores.record.record import NotSavedError, Record
from scores.skill.skill_words import skill_name
from scores.today.day_plan import Item

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Answers, Kind, Question

WHY = "a re-test, held out of practice: the answers are not told, so that they stay unlearnt"
NOTED = "Noted."
SECONDS = 15.0


class ProbeSession(Session):
    """One re-test; ``due`` is from ``scores.progress.retest.due_probe``.

    It may be stopped at any moment. What is left of it is offered again on the same day.
    """

    def __init__(
        self,
        record: Record,
        palette: Palette,
        kinds: Mapping[str, Kind],
        clock: Callable[[], datetime],
        timer: Callable[[], float],
        seed: int,
        due: Due,
        unsaved: Unsaved | None = None,
    ) -> None:
        minutes = max(1.0, len(due.items) * SECONDS / 60)
        super().__init__(
            record, palette, kinds, clock, timer, seed, minutes, plan=(), unsaved=unsaved
        )
        # No one is hurried out of a re-test.
        self.minutes = minutes
        self._due = due
        self._left: list[HeldQuestion] = list(due.items)

    @property
    def left(self) -> int:
        """How many questions are still to be asked, the present one not counted."""
        return len(self._left)

    def next(self) -> Question | None:
        """The next question held out; None after the last."""
        from drills.kinds import draw
        from drills.questions.protocol import CannotAskError

        while self._current is None:
            if not self._left:
                self._keep_bank()
                return None
            held = self._left.pop(0)
            kind = self.kinds.get(held.kind)
            if kind is None:
                continue
            try:
                question = draw(kind, self.palette, held.region, held.step, held.seed)
            except CannotAskError:
                # These pencils refuse it every time, so it is no part of the bank.
                bank = self._due.bank
                items = tuple(item for item in bank.items if item != held)
                self._due = replace(self._due, bank=replace(bank, items=items))
                continue
            self._number += 1
            skill = skill_name(held.kind, held.region)
            item = Item(skill, held.kind, held.region, WHY, "practice", SECONDS)
            self._current = (item, question)
            self._shown_at = self.elapsed
        return self._current[1]

    def answered(
        self, question: Question, answers: Answers, response_s: float | None = None
    ) -> Outcome:
        """Keep an answer before returning, and tell nothing of it."""
        from drills.questions.protocol import Reveal

        outcome = super().answered(question, answers, response_s)
        left = f"{self.left} still to come." if self.left else "That was the last."
        return replace(
            outcome,
            grade=replace(outcome.grade, verdict=NOTED),
            reveal=Reveal(because=(left,)),
        )

    def _attempt(self, *given: object, **named: object) -> Attempt:
        made = super()._attempt(*given, **named)  # type: ignore[arg-type]
        return replace(made, deck=PROBE)

    def retry_save(self) -> str:
        """Save what waits, and the bank with the first answer."""
        return self._keep_bank() or super().retry_save()

    def _keep_bank(self) -> str:
        """Keep the bank once an answer was given; why it could not be, or nothing."""
        try:
            if self.unsaved or self._answered:
                keep_bank(self.record, self._due.bank)
        except NotSavedError as error:
            return str(error)
        return ""

    def summary(self) -> Summary:
        """How many were right; single skills are not told of."""
        return Summary(
            asked=self._answered.total(),
            right=self._right.total(),
            seconds=self.elapsed,
            skills=(),
            unsaved=len(self.unsaved),
        )
