"""A re-test: the questions held out of practice, asked in a session of their own.

Its answers are noted and not told: told, they would be learnt.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coach.session.feed import Feed
from scores.progress.retest import RETEST, Due, HeldQuestion, keep_bank
from scores.record.record import Record
from scores.skill.skill_words import skill_name
from scores.today.day_plan import Item

if TYPE_CHECKING:
    from coach.session.feed import Outcome, SoFar
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind, Question

WHY = "a re-test: practice never asks these, and the answers aren't shown"
NOTED = "Noted."
SECONDS = 15.0


@dataclass(frozen=True)
class HeldItem(Item):
    """One question held out; it is drawn from ``step`` (in the kind's unit) and ``seed``."""

    step: float = 0.0
    seed: int = 0


class HeldOut:
    """Asks the questions held out, and drops from the bank what these pencils refuse.

    A ``feed.Source``.
    """

    tells = False

    def __init__(self, record: Record, palette: Palette, due: Due) -> None:
        self.palette = palette
        self._record = record
        self._bank = due.bank

    def ask(self, item: Item, kind: Kind, so_far: SoFar) -> Question | None:
        """The same question every time."""
        from drills.kinds import draw
        from drills.questions.protocol import CannotAskError

        assert isinstance(item, HeldItem)
        try:
            return draw(kind, self.palette, item.region, item.step, item.seed)
        except CannotAskError:
            refused = HeldQuestion(item.kind, item.region, item.step, item.seed)
            items = tuple(held for held in self._bank.items if held != refused)
            self._bank = replace(self._bank, items=items)
            return None

    def told(self, outcome: Outcome, left: int) -> Outcome:
        """That it was noted, and how many are still to come."""
        from drills.questions.protocol import Reveal

        words = f"{left} still to come." if left else "That was the last."
        return replace(
            outcome,
            grade=replace(outcome.grade, verdict=NOTED, figures=""),
            reveal=Reveal(because=(words,)),
        )

    def keep(self) -> None:
        """Keep the bank. Raises NotSavedError."""
        keep_bank(self._record, self._bank)

    def regions(self, kind: str) -> tuple[str, ...]:
        """None: nothing is shown before what is held out."""
        return ()


def retest(record: Record, palette: Palette, due: Due) -> Feed:
    """The re-test that ``scores.progress.retest.due_retest`` found due.

    It may be stopped at any moment: what is left is offered again on the same day. No one
    is hurried through it.
    """
    plan = tuple(
        HeldItem(
            skill_name(held.kind, held.region),
            held.kind,
            held.region,
            WHY,
            "practice",
            SECONDS,
            RETEST,
            step=held.step,
            seed=held.seed,
        )
        for held in due.items
    )
    return Feed(
        plan,
        {RETEST: HeldOut(record, palette, due)},
        minutes=max(1.0, len(plan) * SECONDS / 60),
        timed=False,
    )
