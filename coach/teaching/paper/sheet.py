"""A day of a deck as a sheet of paper: the very questions its number leads back to.

A sheet's name, such as "3-7k2m", is the day, a "g" where only what a print in greys can show is
asked, and four letters drawn from every question: they find out another version of the deck, the
pencils or the coach, which would have asked something else.
"""

from __future__ import annotations

import hashlib
import random
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coach.session.assigned.deck_questions import NAMED
from coach.teaching.paper.by_hand import ByHand, by_hand
from decks.lessons.steps import begins, hardest_on
from decks.tasks import DeckTask, target_named, work_out_tasks
from drills.basics.errors import InputError, plain
from drills.basics.json_values import json_text
from drills.questions.answered import answered_rightly
from scores.skill.difficulty import step_at

if TYPE_CHECKING:
    from decks.deck import Deck, Step
    from drills.layering.palette import Palette
    from drills.questions.protocol import Ask, Kind, Question

LETTERS = "abcdefgh"
"""What choices are called; of more choices nothing is asked on paper."""
_CHECK = "abcdefghjkmnpqrstuvwxyz23456789"
NAME = re.compile(r"([1-9][0-9]{0,2})(g?)-([a-hj-km-np-z2-9]{4})")
_TURNS = 3
_ROUNDS = 6
"""How often at most each task is asked in turn on one day, where a day wants so many."""
VALUE_UNIT = "ΔL*"
"""The unit of drills of value alone: these can be judged in greys."""


@dataclass(frozen=True, eq=False)
class PaperQuestion:
    """A question and how it stands on paper.

    ``then`` are the second stage's asks by the key of the first one's choice; empty where there
    is none. ``key`` are the letters of the right answer.
    """

    number: int
    kind: Kind
    question: Question
    first: Ask
    then: Mapping[str, Ask]
    key: str


@dataclass(frozen=True, eq=False)
class Worksheet:
    """One day of a deck on paper. ``name`` leads back to its questions."""

    deck: Deck
    day: int
    grey: bool
    palette: Palette
    lessons: tuple[Step, ...]
    questions: tuple[PaperQuestion, ...]
    hand: ByHand | None

    @property
    def name(self) -> str:
        asked = [
            [one.question.kind, one.question.version, one.question.region, one.question.seed,
             round(one.question.step, 6), one.key]
            for one in self.questions
        ]  # fmt: skip
        digest = hashlib.sha256(json_text([self.palette.set.fingerprint, asked]).encode()).digest()
        check = "".join(_CHECK[byte % len(_CHECK)] for byte in digest[:4])
        return f"{self.day}{'g' * self.grey}-{check}"


class PaperDeck:
    """A deck made ready for paper: with these pencils, or with its own."""

    def __init__(self, deck: Deck, own: Palette, kinds: Mapping[str, Kind]) -> None:
        from decks.deck_pencils import set_inside
        from drills.layering.palette import prepare

        self.deck = deck
        self.palette = prepare(set_inside(deck.pencils, deck.title)) if deck.pencils else own
        self.kinds = kinds
        self.tasks = work_out_tasks(deck, self.palette, kinds)

    def sheet(self, day: int, grey: bool = False) -> Worksheet:
        """The sheet of a day of practice, from 1. Raises InputError for a day it has not."""
        deck = self.deck
        if not 1 <= day <= deck.days:
            raise InputError(f"day {day}", f"the deck has {deck.days} days", "")
        found = sorted(self._drawn(day, grey), key=lambda one: deck.kinds.index(one.question.kind))
        numbered = tuple(replace(one, number=at) for at, one in enumerate(found, start=1))
        lessons = tuple(step for step in deck.steps if step.day == day)
        hand = by_hand(deck, self.palette, self.kinds, day)
        return Worksheet(deck, day, grey, self.palette, lessons, numbered, hand)

    def named(self, name: str) -> Worksheet:
        """The sheet of this name. Raises InputError where it is none, or another was printed."""
        found = NAME.fullmatch(name.strip().lower())
        where = f"sheet “{plain(name, 30)}”"
        if found is None:
            raise InputError(
                where, "a sheet's name is like 3-7k2m", "It stands at the sheet's top."
            )
        sheet = self.sheet(int(found[1]), bool(found[2]))
        if sheet.name != found[0]:
            raise InputError(
                where,
                "with these pencils this deck asks something else on that day",
                "Take the deck, the pencils and the coach that the sheet was printed with.",
            )
        return sheet

    def _drawn(self, day: int, grey: bool) -> Iterator[PaperQuestion]:
        deck = self.deck
        seed = f"{deck.questions_in_order}/{self.palette.set.fingerprint}/{day}"
        dice = random.Random(seed)
        open_now = [one for one in self.tasks if begins(deck, one.kind) <= day]
        made, rounds, wanted = 0, 0, deck.items_on(day)
        while made < wanted and rounds < _ROUNDS:
            dice.shuffle(open_now)
            for task in open_now:
                if made < wanted:
                    one = self._one(task, day, f"{seed}/{rounds}", grey)
                    if one is not None:
                        made += 1
                        yield one
            rounds += 1

    def _one(self, task: DeckTask, day: int, name: str, grey: bool) -> PaperQuestion | None:
        from drills.kinds import draw
        from drills.questions.given_colour import asks_about_given, draw_for
        from drills.questions.protocol import CannotAskError

        deck, kind = self.deck, self.kinds[task.kind]
        if getattr(kind, "screen_only", False) or (grey and in_colour(kind)):
            return None
        target = target_named(deck, task.target) if task.target else None
        hardest = hardest_on(deck, task.kind, day)
        # Easy on the first day, and two thirds of the way to the hardest on the last.
        way = (day - 1) / max(1, deck.days - 1) * 2 / 3
        for turn in range(_TURNS):
            place = deck.easiest + (hardest - deck.easiest) * way / (turn + 1)
            step = step_at(kind.steps, place)
            dice = random.Random(f"{name}/{task.kind}/{task.region}/{task.target}/{turn}")
            try:
                if target is None:
                    question = draw(kind, self.palette, task.region, step, dice.getrandbits(32))
                elif asks_about_given(kind):
                    seed = dice.getrandbits(32)
                    question = draw_for(kind, self.palette, target.lab, step, seed)
                    facts = {**question.facts, NAMED: target.name}
                    question = replace(question, facts=facts)
                else:
                    return None
            except CannotAskError:
                continue
            return on_paper(kind, question)
        return None


def on_paper(kind: Kind, question: Question) -> PaperQuestion | None:
    """The question as it stands on paper; None for one that needs a screen."""
    first = kind.ask(question, ())
    if first is None or not _lettered(first):
        return None
    then: dict[str, Ask] = {}
    if first.form == "choose":
        for choice in first.choices:
            more = kind.ask(question, ((choice.key,),))
            if more is not None:
                in_words = more.scene in ((), first.scene) and not any(
                    one.swatch for one in more.choices
                )
                if not _lettered(more) or more.form != "choose" or not in_words:
                    return None
                then[choice.key] = more
    asks, answers = answered_rightly(kind, question)
    if answers is None or len(asks) > 2:
        return None
    key = "".join(
        LETTERS[[choice.key for choice in asked.choices].index(one)]
        for asked, reply in zip(asks, answers, strict=True)
        for one in reply
    )
    return PaperQuestion(0, kind, question, first, then, key)


def in_colour(kind: Kind) -> bool:
    """Whether a print in greys can't ask it."""
    return kind.needs_colour and kind.unit != VALUE_UNIT


def _lettered(asked: Ask) -> bool:
    return (
        asked.form in ("choose", "arrange")
        and asked.look_s is None
        and 2 <= len(asked.choices) <= len(LETTERS)
    )
