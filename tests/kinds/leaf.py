"""A kind of drill as another package has it: which of two greys is the lighter?

``tests.kinds.test_outside`` installs this file as the package green-drills.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from drills.layering.palette import Palette
from drills.questions.draw import as_json, as_shown
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal
from drills.questions.results import LETTERS, lettered, near_miss, result


@dataclass(frozen=True)
class TwoGreys:
    labs: tuple[Lab, Lab]

    @property
    def lighter(self) -> int:
        return int(self.labs[1][0] > self.labs[0][0])


class Leaf(Exercise[TwoGreys]):
    name = "green-drills.leaf"
    title = "The lighter leaf"
    trains = "to see a small step of value"
    seconds, unit, steps, chance = 6.0, "ΔL*", (20.0, 1.0), 0.5
    # What is asked is which is lighter: to answer so is no trick (``drills.laws.blind``).
    task = ("lightest",)

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return ("leaf greys",)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        if region != "leaf greys":
            raise CannotAskError(f"there is no {region} here")
        dark = rng.uniform(20.0, 70.0)
        first, second = (as_shown((L, 0.0, 0.0)) for L in rng.sample((dark, dark + step), 2))
        data = TwoGreys((first, second))
        return self.question(
            data,
            region,
            abs(second[0] - first[0]),
            choices=[as_json(first), as_json(second)],
            key=LETTERS[data.lighter],
        )

    def first_ask(self, data: TwoGreys) -> Ask:
        return Ask("Which is the lighter?", lettered(data.labs))

    def graded(self, data: TwoGreys, keys: Keys) -> Grade:
        right = keys == (LETTERS[data.lighter],)
        apart = abs(data.labs[1][0] - data.labs[0][0])
        score = 1.0 if right else 0.5 * near_miss(apart, 5.0)
        verdict = f"{LETTERS[data.lighter]} is the lighter."
        figures = f"ΔL* {apart:.1f}"
        return Grade(score, right, 0.0 if right else apart, "ΔL*", verdict, figures)

    def revealed(self, data: TwoGreys, keys: Keys) -> Reveal:
        rows = [
            result(letter, f"L* {lab[0]:.1f}", lab, keys == (letter,), i == data.lighter)
            for i, (letter, lab) in enumerate(zip(LETTERS, data.labs, strict=False))
        ]
        return Reveal(("Half close your eyes.",), tuple(rows))


KIND = Leaf()
