"""One swatch laid down beside a target: is there more of it, or less?"""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from typing import Literal, TypeVar

from drills.colour.change import degree
from drills.questions.draw import as_json
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import JSON, Ask, Grade, Lab, Question, Result, Reveal, Swatch
from drills.questions.results import choices, mark_of, near_miss


@dataclass(frozen=True)
class Beside:
    """The target, what was laid down, ``by`` how much it is over the target, what made them."""

    target: Lab
    laid: Lab
    by: float
    made_with: str


B = TypeVar("B", bound=Beside)


class LaidBeside(Exercise[B]):
    """Two words to choose from, the first for what is over the target.

    A wrong word over a step that few can see is a near miss: ``near`` is its scale, in ``unit``.
    ``none`` begins the words for a colour that can't be shown.
    """

    unit: Literal["ΔL*", "ΔC*"]
    words: tuple[str, str]
    prompt: str
    near: float
    none: str
    limits: str = ""
    chance = 0.5

    def truth(self, by: float) -> str:
        return self.words[0] if by > 0 else self.words[1]

    def asked(self, data: B, region: str, made_with: JSON, **facts: JSON) -> Question:
        """The question about two swatches, with more ``facts`` of how far they lie apart."""
        return self.question(
            data,
            region,
            abs(data.by),
            data.target,
            laid=as_json(data.laid),
            key=self.truth(data.by),
            **facts,
            delta_l=round(data.laid[0] - data.target[0], 3),
            choices=[*self.words],
            made_with=made_with,
        )

    def in_other_words(self, data: B) -> str:
        """The step in another measure, if there is one, for the end of the figures."""
        return ""

    @abstractmethod
    def seen(self, data: B) -> float:
        """The step as ΔE00, with nothing else between the two."""

    @abstractmethod
    def mirrored(self, data: B) -> Lab | None:
        """What was laid down, as far from the target on the other side, if it can be shown."""

    @abstractmethod
    def compared(self, data: B) -> list[Result]:
        """The two with nothing but what is asked left between them."""

    @abstractmethod
    def because(self, data: B) -> tuple[str, ...]: ...

    def first_ask(self, data: B) -> Ask:
        over, under = self.words
        return Ask(
            self.prompt,
            choices({over: f"{over} than the target", under: f"{under} than it"}),
            (Swatch(data.target, "the target"), Swatch(data.laid, "laid down")),
        )

    def graded(self, data: B, keys: Keys) -> Grade:
        (said,) = keys
        truth, apart = self.truth(data.by), abs(data.by)
        right = said == truth
        score = 1.0 if right else 0.5 * near_miss(apart, self.near)
        step = f"{self.unit} {apart:.1f}{self.in_other_words(data)}"
        is_so = f"it is {degree(self.seen(data))}{truth} than the target"
        verdict = f"{'Yes' if right else 'No'}: {is_so}."
        return Grade(score, right, 0.0 if right else apart, self.unit, verdict, step)

    def revealed(self, data: B, keys: Keys) -> Reveal:
        (said,) = keys
        rows = []
        for word in self.words:
            best = word == self.truth(data.by)
            lab = data.laid if best else self.mirrored(data)
            words = "what you laid down" if best else f"the same step {word} would look like this"
            if lab is None:
                words = f"{self.none} that much {word}"
            swatch = None if lab is None else Swatch(lab)
            rows.append(Result(word, words, swatch, mark_of(word == said, best)))
        rows += self.compared(data)
        return Reveal(self.because(data), tuple(rows), Swatch(data.target), self.limits)
