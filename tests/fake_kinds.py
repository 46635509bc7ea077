"""Drill kinds without colour, so that a session is tested apart from what it asks."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any

from drills.layering.constants import FILM_MODEL
from drills.questions.protocol import (
    Answers,
    Ask,
    CannotAskError,
    Choice,
    Grade,
    Question,
    Reveal,
)

PALETTE: Any = SimpleNamespace(
    set=SimpleNamespace(fingerprint="f" * 64), film_model=FILM_MODEL, screen_known=True
)
FAMILIES = ("yellow", "orange", "red", "violet", "blue", "green")


@dataclass(frozen=True)
class FakeKind:
    """Asks for the sum of two numbers; ``refuses`` are regions it can't ask about."""

    name: str
    places: tuple[str, ...] = FAMILIES
    refuses: frozenset[str] = frozenset()
    needs_colour: bool = True
    seconds: float = 12.0
    version: int = 1
    trains: str = "nothing"
    unit: str = "ΔE00"
    steps: tuple[float, float] = (20.0, 1.0)
    chance: float = 0.25
    of_the_eye: bool = True
    asked: list[str] = field(default_factory=list, compare=False)

    @property
    def title(self) -> str:
        return self.name.title()

    def regions(self, palette: Any) -> tuple[str, ...]:
        return self.places

    def make(self, palette: Any, region: str, step: float, rng: random.Random) -> Question:
        self.asked.append(region)
        if region in self.refuses:
            raise CannotAskError("no such pencils")
        first, second = rng.randrange(100), rng.randrange(100)
        return Question(
            self.name, self.version, region, 0, step, None, {"a": first, "b": second}, None
        )

    def ask(self, question: Question, answers: Answers) -> Ask | None:
        return None if answers else Ask("the sum?", (Choice("x", "x"),))

    def grade(self, question: Question, answers: Answers) -> Grade:
        right = answers[0][0] == truth(question)
        return Grade(
            1.0 if right else 0.2, right, 0.0 if right else 3.0, "ΔE00", "so it is", "ΔE00 3.0"
        )

    def reveal(self, question: Question, answers: Answers) -> Reveal:
        return Reveal((truth(question),))


def truth(question: Question) -> str:
    """The right answer's key."""
    return str(int(str(question.facts["a"])) + int(str(question.facts["b"])))


def kinds(*names: str, **changes: Any) -> dict[str, Any]:
    """Fake kinds by name."""
    return {name: FakeKind(name, **changes) for name in names}
