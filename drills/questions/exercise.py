"""What all kinds of drill do alike, so that a new one is its idea and little else."""

from __future__ import annotations

import random
from abc import ABC, abstractmethod
from dataclasses import replace
from typing import Generic, TypeVar, cast

from drills.layering.constants import FILM_MODEL
from drills.layering.palette import Palette
from drills.questions.draw import askable, families_with
from drills.questions.protocol import JSON, Answers, Ask, Grade, Lab, Question, Reveal

D = TypeVar("D")
AT_THE_END = 1.1
"""How near the hardest step, as a multiple of it, a question counts as the finest there is."""
FINEST = "This is the finest question: screen or eye would show little finer."
Keys = tuple[str, ...]
"""The keys of all replies so far, in one row."""


class Exercise(ABC, Generic[D]):
    """A ``drills.questions.protocol.Kind`` whose questions carry a frozen payload ``D``.

    A kind's methods are given that payload and the learner's keys; what they return is as in
    the protocol.
    """

    name: str
    version: int = 1
    title: str
    trains: str
    at_the_table: str = ""
    """One thing to do on paper after practising it, in a sentence."""
    look_for: tuple[str, ...] = ()
    """What to look at, stage by stage, said to who is new to it; the last serves all later ones."""
    needs_colour: bool = True
    screen_only: bool = False
    """Whether none of its questions can stand on paper."""
    seconds: float
    unit: str
    steps: tuple[float, float]
    chance: float
    of_the_eye: bool = True

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return askable(self, palette, families_with(palette))

    @abstractmethod
    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question: ...

    def question(
        self, data: D, region: str, step: float, target: Lab | None = None, /, **facts: JSON
    ) -> Question:
        """What ``make`` returns; its facts say which model of films made it."""
        facts["film_model"] = FILM_MODEL
        return Question(self.name, self.version, region, 0, step, target, facts, data)

    @abstractmethod
    def first_ask(self, data: D) -> Ask: ...

    def next_ask(self, data: D, keys: Keys) -> Ask | None:
        """What is asked after ``keys``: of most kinds nothing more."""
        return None

    @abstractmethod
    def graded(self, data: D, keys: Keys) -> Grade: ...

    @abstractmethod
    def revealed(self, data: D, keys: Keys) -> Reveal: ...

    def ask(self, question: Question, answers: Answers) -> Ask | None:
        data = cast(D, question.data)
        return self.next_ask(data, sum(answers, ())) if answers else self.first_ask(data)

    def grade(self, question: Question, answers: Answers) -> Grade:
        return self.graded(cast(D, question.data), sum(answers, ()))

    def reveal(self, question: Question, answers: Answers) -> Reveal:
        shown = self.revealed(cast(D, question.data), sum(answers, ()))
        if self.of_the_eye and question.step <= AT_THE_END * self.steps[1]:
            return replace(shown, limits=f"{FINEST} {shown.limits}".strip())
        return shown
